import { svg, type SVGTemplateResult } from 'lit';
import type { CircuitSheet, Rail, Rung } from './circuit-sheet.ts';
import { drawHead } from './dimension.ts';

/** A part's circuit with the symbols of IEC 60617: contacts as they stand, coils as boxes, the case as a frame's ground. */
export function drawCircuit(sheet: CircuitSheet): SVGTemplateResult {
  return svg`${sheet.links.map((link) => svg`<path class="dim" stroke-dasharray="5 4" d=${`M${link.x} ${link.from - 7} L${link.toX} ${link.to - 12}`} />`)}
    ${sheet.rails.map((rail) => drawRail(rail))}
    ${sheet.rungs.map((rung) => drawRung(rung))}
    ${sheet.rungs.flatMap((rung) => [rung.from, rung.to].map((x) => svg`<circle class="solid" cx=${x} cy=${rung.y} r="3.2" />`))}`;
}

function drawRail(rail: Rail): SVGTemplateResult {
  const style = rail.live ? 'live-line' : 'outline';
  const line = svg`<path class=${style} d=${`M${rail.x} ${rail.top} V${rail.bottom}`} />`;
  switch (rail.kind) {
    case 'terminal': return svg`${line}<circle class=${`${style} fill`} cx=${rail.x} cy=${rail.top - 5} r="5" />
      <text class="large" text-anchor="middle" x=${rail.x} y=${rail.top - 18}>${rail.words}</text>
      ${rail.role === undefined ? null : svg`<text class="quiet" text-anchor="middle" x=${rail.role.x} y=${rail.role.y}>${rail.role.words}</text>`}`;
    case 'case': return svg`${line}<path class="outline" d=${`M${rail.x - 13} ${rail.bottom} H${rail.x + 13} M${rail.x - 9} ${rail.bottom} l-6 9 M${rail.x} ${rail.bottom} l-6 9 M${rail.x + 9} ${rail.bottom} l-6 9`} />
      <text class="strong" text-anchor="middle" x=${rail.x} y=${rail.bottom + 26}>${rail.words}</text>`;
    case 'inside': return line;
    default: { const never: never = rail.kind; throw new Error(`no rail for ${String(never)}`); }
  }
}

function drawRung(rung: Rung): SVGTemplateResult {
  const { from, to, y, element } = rung;
  const middle = rung.symbolX;
  const style = rung.live ? 'live-line' : 'outline';
  const half = element.kind === 'coil' ? 20 : element.kind === 'resistor' ? 18 : 13;
  const [left, right] = [Math.min(from, to), Math.max(from, to)];
  const wires = svg`<path class=${style} d=${`M${left} ${y} H${middle - half} M${middle + half} ${y} H${right}`} />`;
  const words = rung.lines.map((line, i) => svg`<text class="quiet" text-anchor="middle" x=${middle} y=${y + (element.kind === 'contact' ? 22 : 29) + i * 17}>${line}</text>`);
  switch (element.kind) {
    case 'coil': return svg`${wires}<rect class=${`${style} fill`} x=${middle - half} y=${y - 12} width=${half * 2} height="24" />${words}`;
    case 'resistor': return svg`${wires}<rect class=${`${style} fill`} x=${middle - half} y=${y - 7} width=${half * 2} height="14" />${words}`;
    case 'motor': return svg`${wires}<circle class=${`${style} fill`} cx=${middle} cy=${y} r="13" /><text class="strong" text-anchor="middle" x=${middle} y=${y + 5}>M</text>${words}`;
    case 'diode': {
      const way = to >= from ? 1 : -1;
      return svg`${wires}<path class=${`${style} fill`} d=${`M${middle - 13 * way} ${y - 9} V${y + 9} L${middle + 9 * way} ${y} Z M${middle + 10 * way} ${y - 10} V${y + 10} M${middle + 10 * way} ${y} H${middle + 13 * way}`} />${words}`;
    }
    case 'contact': {
      const tip = rung.closed ? `L${middle + half} ${y - 1}` : `L${middle + half - 3} ${y - 15}`;
      const stop = element.form === 'NC' ? `M${middle + half} ${y} V${y - 12} h-7` : '';
      return svg`${wires}<path class=${style} d=${`M${middle - half} ${y} ${tip} ${stop}`} />
        ${rung.closed && rung.live ? drawHead(right - 6, y, 0, 'wash-do') : null}${words}`;
    }
    default: { const never: never = element; throw new Error(`no rung for ${JSON.stringify(never)}`); }
  }
}
