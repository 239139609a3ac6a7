import { svg, type SVGTemplateResult } from 'lit';
import { drawMark } from './face-drawing.ts';
import type { Box, Spot } from './geometry.ts';
import { drawTerminalSymbol } from './terminal-symbol.ts';
import { drawCable, uprightPath, wireWidthPx } from './wire-line.ts';
import type { WiringLane, WiringSheet, WiringSpot } from './wiring-sheet.ts';
import { DRAWING_WORDS } from './words.ts';

/** Each wire from its old place (grey) over its label to its new one (ink); what has to be done in the pencil. */
export function drawWiring(sheet: WiringSheet): SVGTemplateResult {
  const touched = new Set([
    ...sheet.lanes.filter((l) => l.fate === 'moves').map((l) => l.to), ...sheet.jumpers.flatMap((j) => [j.from, j.to]),
  ]);
  return svg`
    <text class="quiet strong" x="0" y=${sheet.old.body.top + 14}>${DRAWING_WORDS.old}</text>
    <g class="old-face">${drawBody(sheet.old.body)}</g>
    ${drawBody(sheet.next.body)}
    ${sheet.points.map((point) => drawGround(point.at, point.id === 'case' ? DRAWING_WORDS.case : DRAWING_WORDS.chassis))}
    ${sheet.lanes.map((lane) => drawLane(lane))}
    ${sheet.jumpers.map((jumper) => drawJumper(jumper.points))}
    <g class="old-face">${sheet.old.spots.map((spot) => drawTerminalSymbol(spot.terminal, spot.centre, sheet.old.projection.scale))}</g>
    ${sheet.old.spots.map((spot) => drawSpotLabel(spot, 'quiet strong'))}
    ${sheet.next.spots.map((spot) => svg`${drawTerminalSymbol(spot.terminal, spot.centre, sheet.next.projection.scale)}
      ${touched.has(spot.terminal.id) ? drawMark('do', spot) : null}
      ${drawSpotLabel(spot, 'large')}`)}
    ${sheet.lanes.map((lane) => drawLaneLabel(lane))}
    ${sheet.jumpers.map((jumper) => svg`<text class="do" text-anchor=${jumper.label.anchor} x=${jumper.label.at.x} y=${jumper.label.at.y}>${jumper.label.words}</text>`)}
    <text class="strong" x="0" y=${sheet.next.body.top + 14}>${DRAWING_WORDS.new}</text>`;
}

function drawBody(body: Box): SVGTemplateResult {
  return svg`<rect class="body" x=${body.left} y=${body.top} width=${body.right - body.left} height=${body.bottom - body.top} rx="9" />`;
}

function drawLane(lane: WiringLane): SVGTemplateResult {
  const end = lane.below.at(-1)!;
  const half = wireWidthPx(lane.wire) / 2;
  return svg`${drawCable(uprightPath(lane.above), lane.wire)}${drawCable(uprightPath(lane.below), lane.wire)}
    ${lane.fate === 'left-off' ? svg`<rect class="mark-do fill" x=${end.x - half - 3} y=${end.y - 2} width=${half * 2 + 6} height="12" rx="3" />` : null}`;
}

function drawLaneLabel(lane: WiringLane): SVGTemplateResult {
  const { label, lines, fateLines } = lane;
  const x = (label.left + label.right) / 2;
  return svg`${lines.map((line, i) => svg`<text class=${i === 0 ? 'strong' : 'quiet'} text-anchor="middle" x=${x} y=${label.top + 18 + i * 17}>${line}</text>`)}
    ${fateLines.map((line, i) => svg`<text class=${lane.fate === 'stays' && !lane.newEnd ? 'quiet' : lane.fate === 'stays' && i === 0 ? 'quiet' : 'do'}
      text-anchor="middle" x=${x} y=${label.top + 18 + (lines.length + i) * 17}>${line}</text>`)}`;
}

function drawSpotLabel(spot: WiringSpot, style: string): SVGTemplateResult {
  const { box, side } = spot.label;
  const anchor = side.endsWith('left') ? 'end' : side.endsWith('right') ? 'start' : 'middle';
  const x = anchor === 'end' ? box.right : anchor === 'start' ? box.left : (box.left + box.right) / 2;
  return svg`${spot.lines.map((line, i) => svg`<text class=${i === 0 ? style : 'quiet'}
    text-anchor=${anchor} x=${x} y=${box.top + 15 + i * 17}>${line}</text>`)}`;
}

/** A jumper is a wire nobody has cut yet: two pencil lines, square at its corners. */
function drawJumper(points: readonly Spot[]): SVGTemplateResult {
  const d = points.map((p, i) => `${i === 0 ? 'M' : 'L'}${p.x} ${p.y}`).join(' ');
  return svg`<path class="jumper-gap" d=${d} /><path class="jumper" d=${d} /><path class="jumper-core" d=${d} />`;
}

/** The frame's ground symbol (IEC 60617, 02-15-04 'frame or chassis'): three slanting strokes under a bar. */
function drawGround(at: Spot, words: string): SVGTemplateResult {
  return svg`<path class="outline" d=${`M${at.x - 14} ${at.y} H${at.x + 14} M${at.x - 10} ${at.y} l-6 9 M${at.x} ${at.y} l-6 9 M${at.x + 10} ${at.y} l-6 9`} />
    <text class="strong" text-anchor="middle" x=${at.x} y=${at.y + 26}>${words}</text>`;
}
