import { svg, type SVGTemplateResult } from 'lit';
import type { TerminalForm } from '../../catalog-schema/index.ts';
import { drawHead } from './dimension.ts';
import type { StackLayer, StackSheet } from './stack-sheet.ts';
import { drawCable, wireWidthPx } from './wire-line.ts';

/** A terminal from the side, built up in order, each piece named and numbered in the order it goes on. */
export function drawStack(sheet: StackSheet, form: TerminalForm): SVGTemplateResult {
  const { axis, stud } = sheet;
  const threaded = form === 'stud' || form === 'screw';
  const lowest = sheet.layers[0]!.top;
  return svg`${form === 'stud' ? svg`<rect class="outline fill" x=${axis - 10} y=${stud.top} width="20" height=${lowest - stud.top} />
      <path class="thin" d=${threadLines(axis, stud.top + 3, lowest - 2)} />` : null}
    ${form === 'screw' ? svg`<path class="dim" stroke-dasharray="10 3 2 3" d=${`M${axis} ${stud.top} V${lowest}`} />` : null}
    ${sheet.layers.map((layer) => drawLayer(layer, sheet))}
    ${sheet.layers.map((layer) => drawWords(layer, sheet))}
    ${threaded ? drawNever(sheet) : null}`;
}

function drawLayer(layer: StackLayer, sheet: StackSheet): SVGTemplateResult {
  const { axis } = sheet;
  const { top, height } = layer;
  switch (layer.piece) {
    case 'body': return svg`<rect class="outline fill" x=${axis - 66} y=${top} width="132" height=${height} />
      <path class="hatch" d=${hatch(axis - 66, top, 132, height)} />`;
    case 'inner-nut': case 'outer-nut': return drawNut(axis, top, height, layer.piece === 'outer-nut');
    case 'lug': case 'jumper-lug': return drawLug(layer, axis);
    case 'washer': return svg`<rect class="outline metal" x=${axis - 31} y=${top} width="62" height=${height} />`;
    case 'spring': return svg`<path class="outline metal" d=${`M${axis - 26} ${top} H${axis + 26} V${top + height} H${axis - 26} Z`} />
      <path class="outline" d=${`M${axis + 6} ${top + height} L${axis + 14} ${top}`} />`;
    case 'screw-head': return svg`<path class="outline metal" d=${`M${axis - 28} ${top + height} V${top + 8} Q${axis - 28} ${top} ${axis - 18} ${top} H${axis + 18} Q${axis + 28} ${top} ${axis + 28} ${top + 8} V${top + height} Z`} />
      <path class="outline" d=${`M${axis - 4} ${top} v9 h8 v-9`} />`;
    case 'tab': return svg`<path class="outline metal" d=${`M${axis - 18} ${top + height} V${top + 8} l8 -8 h20 l8 8 V${top + height} Z`} />
      <circle class="outline fill" cx=${axis} cy=${top + 16} r="4" />`;
    case 'receptacle': case 'bare-end': return svg`${layer.wire === undefined ? null : drawCable(`M${axis} ${top + 12} V${top - 30 < 2 ? 2 : top - 30}`, layer.wire)}
      <path class="outline fill" d=${`M${axis - 24} ${top + height - 6} V${top + 16} l14 -10 h20 l14 10 V${top + height - 6} Z`} />
      <path class="mark-do" d=${`M${axis - 42} ${top + 4} v22`} />${drawHead(axis - 42, top + 34, 90, 'wash-do')}`;
    default: { const never: never = layer.piece; throw new Error(`no picture for ${String(never)}`); }
  }
}

/** A hexagon nut from the side; the outer one carries the arrow of turning, the inner one the jaws that hold it. */
function drawNut(axis: number, top: number, height: number, outer: boolean): SVGTemplateResult {
  const bottom = top + height;
  const nut = svg`<rect class="outline metal" x=${axis - 30} y=${top} width="60" height=${height} rx="2" />
    <path class="thin" d=${`M${axis - 14} ${top} V${bottom} M${axis + 14} ${top} V${bottom}`} />`;
  if (outer) {
    const y = top + height / 2;
    return svg`${nut}<path class="mark-do" d=${`M${axis + 46} ${y - 2} A52 18 0 0 1 ${axis - 41} ${y + 6}`} />${drawHead(axis - 48, y - 3, 232, 'wash-do')}`;
  }
  return svg`${nut}<path class="mark-do" d=${`M${axis - 62} ${top + 2} H${axis - 35} V${bottom - 2} H${axis - 62}`} />
    <path class="mark-do" d=${`M${axis + 62} ${top + 2} H${axis + 35} V${bottom - 2} H${axis + 62}`} />`;
}

/** A ring lug from the side, its cable to the left in the wire's own colour. */
function drawLug(layer: StackLayer, axis: number): SVGTemplateResult {
  const { top, height, wire } = layer;
  const y = top + height / 2;
  const half = wire === undefined ? 4 : wireWidthPx(wire) / 2;
  return svg`${wire === undefined
    ? svg`<path class="jumper" d=${`M${axis - 48} ${y} H0`} /><path class="jumper-core" d=${`M${axis - 48} ${y} H0`} />`
    : drawCable(`M${axis - 48} ${y} H0`, wire)}
    <rect class="outline metal" x=${axis - 54} y=${y - half - 1} width="20" height=${half * 2 + 2} rx="2" />
    <rect class="outline metal" x=${axis - 36} y=${top} width="70" height=${height} />`;
}

function drawWords(layer: StackLayer, sheet: StackSheet): SVGTemplateResult {
  const { textLeft, axis } = sheet;
  const y = layer.top + layer.height / 2;
  const textY = layer.textTop + 14;
  const style = layer.tone === 'do' ? 'do' : '';
  const from = axis + (layer.piece === 'body' ? 66 : layer.piece === 'inner-nut' ? 62 : 36);
  return svg`<path class="dim" d=${`M${from} ${y} H${textLeft - 6}`} />
    ${layer.order === null ? null : svg`<text class="figure" x=${textLeft} y=${textY}>${layer.order}</text>`}
    ${layer.lines.map((line, i) => svg`<text class=${style} x=${textLeft + (layer.order === null ? 0 : 20)} y=${textY + i * 18}>${line}</text>`)}`;
}

/** The one wrong place for a washer: drawn there in broken lines and crossed out. */
function drawNever(sheet: StackSheet): SVGTemplateResult | null {
  const { never, axis, textLeft } = sheet;
  if (never === null) return null;
  const { y } = never.at;
  const textY = y - (never.lines.length * 18) / 2 + 14;
  return svg`<rect class="mark-not fill thin-mark" x=${axis - 31} y=${y - 4} width="62" height="8" />
    <path class="cross" d=${`M${axis - 20} ${y - 11} L${axis + 20} ${y + 11} M${axis + 20} ${y - 11} L${axis - 20} ${y + 11}`} />
    <path class="dim" d=${`M${axis + 36} ${y} H${textLeft - 6}`} />
    ${never.lines.map((line, i) => svg`<text class="not" x=${textLeft} y=${textY + i * 18}>${line}</text>`)}`;
}

function threadLines(axis: number, top: number, bottom: number): string {
  return Array.from({ length: Math.max(0, Math.floor((bottom - top) / 5)) }, (_, i) => `M${axis - 10} ${top + i * 5 + 3} l20 -3`).join(' ');
}

function hatch(x: number, y: number, width: number, height: number): string {
  const strokes: string[] = [];
  for (let at = -height; at < width; at += 11) {
    const [x1, x2] = [Math.max(at, 0), Math.min(at + height, width)];
    strokes.push(`M${x + x1} ${y + height - (x1 - at)} L${x + x2} ${y + height - (x2 - at)}`);
  }
  return strokes.join(' ');
}
