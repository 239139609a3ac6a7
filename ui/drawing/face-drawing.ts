import { svg, type SVGTemplateResult } from 'lit';
import { type FaceSheet, type FaceSpot, type FaceWire, ringRadiusPx } from './face-sheet.ts';
import { footprintMm, reachMm } from './face-terminals.ts';
import { type Box, type Spot, boxAround } from './geometry.ts';
import { drawTerminalSymbol } from './terminal-symbol.ts';
import { readWireColour } from './wire-colours.ts';
import { drawCable, uprightPath, wireWidthPx } from './wire-line.ts';
import { DRAWING_WORDS } from './words.ts';

/** A pencil mark on a terminal or on 'case': something to do there, or something that must not be done there. */
export type FaceMark = Readonly<{ terminal: string; kind: 'do' | 'not'; words?: string }>;

export type FaceLook = Readonly<{
  marks?: readonly FaceMark[]
  /** when given, all else is drawn faint: the terminals and wires of one step */
  only?: Readonly<{ terminals: readonly string[]; wires: readonly string[] }>
}>;

/** The face without its terminals: outline, the side the bracket is on, wires with lugs, labels of wires. */
export function drawFaceGround(sheet: FaceSheet, look: FaceLook): SVGTemplateResult {
  const { body } = sheet;
  return svg`<rect class="body" x=${body.left} y=${body.top} width=${body.right - body.left} height=${body.bottom - body.top} rx="9" />
    ${drawBracketSide(body)}
    ${sheet.wires.map((w) => drawFaceWire(sheet, w, isFaint(look, 'wires', w.wire.tag)))}`;
}

/** One terminal with its label and marks; what can be touched is put round it by the element. */
export function drawFaceSpot(spot: FaceSpot, sheet: FaceSheet, look: FaceLook): SVGTemplateResult {
  const { label, lines } = spot;
  const anchor = label.side.endsWith('left') ? 'end' : label.side.endsWith('right') ? 'start' : 'middle';
  const x = anchor === 'end' ? label.box.right : anchor === 'start' ? label.box.left : (label.box.left + label.box.right) / 2;
  const mark = look.marks?.find((m) => m.terminal === spot.terminal.id);
  const faint = isFaint(look, 'terminals', spot.terminal.id);
  const shown = faint ? lines.slice(0, 1) : lines;
  return svg`<g class=${faint ? 'faint' : ''}>${drawTerminalSymbol(spot.terminal, spot.centre, sheet.projection.scale)}</g>
    ${shown.map((line, i) => svg`<text class=${i > 0 || faint ? 'quiet' : 'large'} text-anchor=${anchor} x=${x}
      y=${label.box.top + 15 + i * 17}>${line}${' '}</text>`)}
    ${mark === undefined ? null : drawMark(mark.kind, spot)}`;
}

/** The ring that marks or chooses a terminal, px: round what it stands on, never smaller than a fingertip's half. */
export function markBox(spot: FaceSpot): Box {
  const scale = spot.reach / Math.max(reachMm(spot.terminal), 1e-6);
  const foot = footprintMm(spot.terminal);
  return boxAround(spot.centre, 2 * Math.max(foot.x * scale + 8, 15), 2 * Math.max(foot.y * scale + 8, 15));
}

/** The pencil: a solid ring for what is to be done, a broken ring with a cross for what must not be. */
export function drawMark(kind: 'do' | 'not', spot: FaceSpot): SVGTemplateResult {
  const { left, top, right, bottom } = markBox(spot);
  const corner = Math.min(right - left, bottom - top) / 2;
  const ring = svg`<rect class=${kind === 'do' ? 'mark-do' : 'mark-not'} x=${left} y=${top} width=${right - left} height=${bottom - top} rx=${corner} />`;
  return kind === 'do' ? ring : svg`${ring}<path class="cross" d=${`M${left + 4} ${top + 2} L${right - 4} ${bottom - 2} M${left + 4} ${bottom - 2} L${right - 4} ${top + 2}`} />`;
}

/** A wire, its end on the terminal, and its label. */
function drawFaceWire(sheet: FaceSheet, faceWire: FaceWire, faint: boolean): SVGTemplateResult {
  const { wire, points, label, lines, side } = faceWire;
  const spot = sheet.spots.find((s) => s.terminal.id === wire.wasOn)!;
  const end = points.at(-1)!;
  const textX = Math.min(Math.max(end.x, label.left + halfText(label)), label.right - halfText(label));
  const first = side === 'up' ? label.bottom - 8 - (lines.length - 1) * 17 : label.top + 17;
  return svg`<g class=${faint ? 'faint' : ''}>${drawEnd(wire.end?.form, wire.end?.form === 'ring' ? wire.end.holeMm : 0, spot, sheet.projection.scale, side, points[1]!.x, wireWidthPx(wire) + 6)}
    ${drawCable(uprightPath(points), wire)}
    ${drawCut(end, wireWidthPx(wire))}</g>
    ${faint ? null : lines.map((line, i) => svg`<text class=${i === 0 ? 'strong' : 'quiet'} text-anchor="middle" x=${textX} y=${first + i * 17}>${line}</text>`)}`;
}

function halfText(label: Box): number {
  return (label.right - label.left) / 2;
}

/** What is crimped on the wire, round its terminal: a ring to its hole, a receptacle over the tab. */
function drawEnd(
  form: 'ring' | 'receptacle' | 'bare' | undefined, holeMm: number, spot: FaceSpot, scale: number, side: 'up' | 'down', column: number, barrel: number,
): SVGTemplateResult | null {
  const { x, y } = spot.centre;
  const sign = side === 'up' ? -1 : 1;
  if (form === 'ring') {
    const outer = ringRadiusPx(holeMm, spot.reach, scale);
    return svg`<circle class="outline metal" cx=${x} cy=${y} r=${outer} />
      <rect class="outline metal" x=${column - barrel / 2} y=${sign < 0 ? y - outer - 12 : y + outer - 4} width=${barrel} height="16" />`;
  }
  if (form === 'receptacle') {
    const foot = footprintMm(spot.terminal);
    const [halfX, halfY] = [Math.max(foot.x * scale, 6) + 3, Math.max(foot.y * scale, 6) + 3];
    return svg`<rect class="outline metal" x=${x - halfX} y=${y - halfY} width=${halfX * 2} height=${halfY * 2} rx="4" />`;
  }
  return null;
}

/** The short stroke across a wire where the drawing stops following it. */
function drawCut(at: Spot, width: number): SVGTemplateResult {
  return svg`<path class="outline" d=${`M${at.x - width / 2 - 3} ${at.y + 2} L${at.x + width / 2 + 3} ${at.y - 2}`} />`;
}

/** The foot of the face: hatched as a mounting plane is, so that up and down cannot be mixed. */
function drawBracketSide(body: Box): SVGTemplateResult {
  const y = body.bottom;
  const [left, right] = [body.left + 14, body.right - 14];
  const count = Math.max(0, Math.floor((right - left) / 9));
  const strokes = Array.from({ length: count }, (_, i) => `M${left + i * 9 + 7} ${y + 1} l-6 6`).join(' ');
  return svg`<path class="hatch" d=${strokes} />`;
}

function isFaint(look: FaceLook, kind: 'terminals' | 'wires', id: string): boolean {
  return look.only !== undefined && !look.only[kind].includes(id);
}

/** A wire in words, for those who hear the drawing. */
export function sayWire(faceWire: Pick<FaceWire, 'wire'>): string {
  const { wire } = faceWire;
  const { letters, words } = readWireColour(wire.colour);
  return DRAWING_WORDS.wireSpoken(wire.tag, letters === words ? '' : letters, words, DRAWING_WORDS.leads[wire.leadsTo ?? 'unknown']);
}
