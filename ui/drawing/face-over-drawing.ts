import { svg, type SVGTemplateResult } from 'lit';
import { drawFaceGround, drawFaceSpot } from './face-drawing.ts';
import { drawHead } from './dimension.ts';
import type { FaceOverSheet, WireWay } from './face-over-sheet.ts';
import type { LabelPlace } from './label-placing.ts';
import { drawTerminalSymbol } from './terminal-symbol.ts';
import { drawCable } from './wire-line.ts';
import { sayId } from './words.ts';

/** The old face in grey, the new face in ink over it, and the way of each wire that moves, in its own colours. */
export function drawFaceOver(sheet: FaceOverSheet): SVGTemplateResult {
  const { face, underBody, under, ways } = sheet;
  return svg`<g class="old-face"><rect class="body" x=${underBody.left} y=${underBody.top} width=${underBody.right - underBody.left}
      height=${underBody.bottom - underBody.top} rx="9" />
      ${under.map(({ terminal, centre }) => drawTerminalSymbol(terminal, centre, face.projection.scale))}</g>
    ${drawFaceGround(face, {})}
    ${face.spots.map((spot) => drawFaceSpot(spot, face, {}))}
    ${ways.map((way) => drawWay(way))}
    ${under.map(({ terminal, label }) => (label === undefined ? null : drawLabel(label, sayId(terminal.id), 'quiet')))}
    ${ways.map((way) => drawLabel(way.label, way.words, way.moved ? 'do' : 'quiet'))}`;
}

function drawWay({ wire, from, bend, to }: WireWay): SVGTemplateResult {
  const angle = (Math.atan2(to.y - bend.y, to.x - bend.x) * 180) / Math.PI;
  return svg`${drawCable(`M${from.x} ${from.y} Q${bend.x} ${bend.y} ${to.x} ${to.y}`, wire, 'way')}
    <circle class="old fill" cx=${from.x} cy=${from.y} r="4" /><g transform=${`translate(${to.x} ${to.y}) scale(1.6) rotate(${angle})`}>${drawHead(4, 0, 0, 'way-head')}</g>`;
}

function drawLabel({ box, side }: LabelPlace, words: string, style: string): SVGTemplateResult {
  const anchor = side.endsWith('left') ? 'end' : side.endsWith('right') ? 'start' : 'middle';
  const x = anchor === 'end' ? box.right : anchor === 'start' ? box.left : (box.left + box.right) / 2;
  return svg`<text class=${style} text-anchor=${anchor} x=${x} y=${box.top + 14}>${words}</text>`;
}
