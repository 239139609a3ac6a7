import { svg, type SVGTemplateResult } from 'lit';
import type { Wire } from '../../catalog-schema/index.ts';
import type { Spot } from './geometry.ts';
import { readWireColour } from './wire-colours.ts';

/** Width a wire is drawn, px: by conductor area, so that a battery cable looks like one; 7.5 px where no area is noted. */
export function wireWidthPx(wire: Pick<Wire, 'areaMm2'>): number {
  return wire.areaMm2 === undefined ? 7.5 : Math.min(12, Math.max(7, 5.8 + 1.1 * Math.sqrt(wire.areaMm2)));
}

/** A wire as a cable: ink, its own colour within, its stripe along the middle. `d` is an SVG path. */
export function drawCable(d: string, wire: Pick<Wire, 'areaMm2' | 'colour'>, extraClass = ''): SVGTemplateResult {
  const width = wireWidthPx(wire);
  const colour = readWireColour(wire.colour);
  return svg`<g class="cable ${extraClass}">
    <path class="cable-gap" d=${d} stroke-width=${width + 4} />
    <path class="cable-edge" d=${d} stroke-width=${width} />
    <path class=${colour.known ? 'cable-core' : 'cable-core unknown'} d=${d} stroke-width=${width - 2.4}
      stroke=${colour.known ? colour.base : 'var(--paper)'} />
    ${colour.stripe === null ? null : svg`<path class="cable-core" d=${d} stroke-width=${Math.max(1.8, (width - 2.4) * 0.36)}
      stroke=${colour.stripe} stroke-dasharray="14 3" />`}
    ${colour.known ? null : svg`<path class="cable-edge" d=${d} stroke-width="1" stroke-dasharray="2 3" />`}
  </g>`;
}

/** A path through points that leaves the first and reaches the last upright, bending only between points of different x. */
export function uprightPath(points: readonly Spot[]): string {
  const [first, ...rest] = points;
  if (first === undefined) return '';
  let d = `M${round(first.x)} ${round(first.y)}`;
  let at = first;
  for (const next of rest) {
    if (Math.abs(next.x - at.x) < 0.5) d += ` L${round(next.x)} ${round(next.y)}`;
    else {
      const middle = (at.y + next.y) / 2;
      d += ` C${round(at.x)} ${round(middle)} ${round(next.x)} ${round(middle)} ${round(next.x)} ${round(next.y)}`;
    }
    at = next;
  }
  return d;
}

/** The same path as short straight pieces, for keeping labels off it. */
export function uprightPieces(points: readonly Spot[], steps = 8): Spot[] {
  const out: Spot[] = [];
  points.forEach((next, i) => {
    const at = points[i - 1];
    if (at === undefined) { out.push(next); return; }
    for (let k = 1; k <= steps; k++) {
      const t = k / steps;
      const ease = 3 * t * t * (1 - t) + t * t * t;
      const middle = (at.y + next.y) / 2;
      const y = (1 - t) ** 3 * at.y + 3 * (1 - t) ** 2 * t * middle + 3 * (1 - t) * t * t * middle + t ** 3 * next.y;
      out.push({ x: at.x + (next.x - at.x) * ease, y });
    }
  });
  return out;
}

function round(value: number): number {
  return Math.round(value * 10) / 10;
}
