import { svg, html, type SVGTemplateResult, type TemplateResult } from 'lit';
import type { Observation } from '../../../catalog-schema/index.ts';

type Heard = Extract<Observation, { kind: 'sound' }>['heard'];
type Cranked = Extract<Observation, { kind: 'crank' }>['seen'];

/** A sound as a trace over time: flat, one stroke, many, a wave, a tear. */
export function drawHeard(heard: Heard): TemplateResult {
  switch (heard) {
    case 'nothing': return frame(svg`<path d="M4 20 H52" />`);
    case 'one-click': return frame(svg`<path d="M4 20 H22 L25 5 L29 33 L32 20 H52" />`);
    case 'rapid-clicks': return frame(svg`<path d=${`M4 20 ${[0, 1, 2, 3, 4].map((i) => `H${7 + i * 9} l2.2 -13 l2.6 24 l2.2 -11`).join(' ')} H52`} />`);
    case 'hum': return frame(svg`<path d="M4 20 q4 -18 8 0 t8 0 t8 0 t8 0 t8 0 t8 0" />`);
    case 'grinding': return frame(svg`<path d="M4 20 l3 -9 l3 13 l2 -6 l3 11 l2 -20 l4 18 l2 -9 l3 12 l3 -19 l3 14 l2 -6 l4 9 l3 -17 l3 12 l4 -4" />`);
    default: throw new Error(`no picture for ${String(heard satisfies never)}`);
  }
}

/** An engine from the side of its flywheel: still, a short arrow, a long one; the pinion turning beside a wheel that stands. */
export function drawCranked(cranked: Cranked): TemplateResult {
  const wheel = (x: number, r: number): SVGTemplateResult => svg`<circle cx=${x} cy="20" r=${r} /><circle cx=${x} cy="20" r="2.2" />`;
  const spoke = (x: number, r: number): SVGTemplateResult => svg`<path d=${`M${x} ${20 - r} V${20 - 2.2}`} />`;
  switch (cranked) {
    case 'nothing': return frame(svg`${wheel(28, 12)}${spoke(28, 12)}<path d="M20 37 H36" stroke-width="3" />`);
    case 'slow': return frame(svg`${wheel(28, 12)}${spoke(28, 12)}<path d="M28 3 A17 17 0 0 1 38 6.5" /><path d="M34 3 L39 7 L33 9" />`);
    case 'normal': return frame(svg`${wheel(28, 12)}${spoke(28, 12)}<path d="M28 3 A17 17 0 1 1 13 12" /><path d="M11 18 L13 11 L18 15" />`);
    case 'spins-without-engaging': return frame(svg`${wheel(20, 13)}${spoke(20, 13)}${wheel(45, 5)}<path d="M45 11 A9 9 0 1 1 37.5 15" /><path d="M36 20 L37 14 L42 16" />`);
    default: throw new Error(`no picture for ${String(cranked satisfies never)}`);
  }
}

function frame(content: SVGTemplateResult): TemplateResult {
  return html`<svg class="symptom" viewBox="0 0 56 40" width="56" height="40" aria-hidden="true" focusable="false">${content}</svg>`;
}
