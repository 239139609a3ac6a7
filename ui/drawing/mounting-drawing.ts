import { svg, type SVGTemplateResult } from 'lit';
import { AS_GIVEN, drawCentreCross, holePath, platePath } from './bracket-view.ts';
import { drawDimension, drawScaleBar, pickBarMm } from './dimension.ts';
import { toSheet } from './geometry.ts';
import { type MountingInput, type MountingSheet, holeSpots } from './mounting-sheet.ts';
import { DRAWING_WORDS, sayLength } from './words.ts';

/** Old under new, with a bar for the scale unless its page brings its own: the machine's bolts and the old plate in grey, the new plate and its holes in ink, what to drill in the pencil. */
export function drawMounting(input: MountingInput, sheet: MountingSheet): SVGTemplateResult {
  const { projection, placement } = sheet;
  const boltR = (input.boltMm ?? 0) / 2 * projection.scale;
  return svg`
    ${input.bolts.length === 0 ? null : svg`<path class="old wash taken" d=${platePath(input.bolts, projection)} />`}
    ${input.holes.length === 0 ? null : svg`<path class="outline taken" d=${platePath(input.holes, projection, placement)} />`}
    ${input.bolts.map((hole) => svg`<path class="old fill" d=${holePath(hole, projection)} />`)}
    ${input.bolts.map((hole) => {
      const { centre } = holeSpots(hole, sheet, AS_GIVEN);
      return svg`${boltR > 0 ? svg`<circle class="bolt" cx=${centre.x} cy=${centre.y} r=${boltR} />` : null}`;
    })}
    ${input.holes.map((hole) => {
      const { centre, ends } = holeSpots(hole, sheet, placement);
      const reach = (hole.diameterMm / 2) * projection.scale + 7;
      return svg`<path class="outline" d=${holePath(hole, projection, placement)} />
        ${drawCentreCross(centre, reach)}
        <path class="dim" d=${`M${ends[0].x} ${ends[0].y} L${ends[1].x} ${ends[1].y}`} />`;
    })}
    ${(input.placement?.newHoles ?? []).map((hole) => {
      const at = toSheet(hole, projection);
      const r = (hole.diameterMm / 2) * projection.scale;
      return svg`<circle class="mark-do" cx=${at.x} cy=${at.y} r=${r} />${drawCentreCross(at, r + 9, 'mark-do thin-mark')}`;
    })}
    ${drawSpans(sheet)}
    ${sheet.notes.map((note) => {
      const { box, side } = note.place;
      const anchor = side.endsWith('left') ? 'end' : side.endsWith('right') ? 'start' : 'middle';
      const x = anchor === 'end' ? box.right : anchor === 'start' ? box.left : (box.left + box.right) / 2;
      return note.lines.map((line, i) => svg`<text class=${note.kind === 'do' ? 'do' : note.kind === 'old' ? 'quiet' : ''} text-anchor=${anchor}
        x=${x} y=${box.top + 14 + i * 17}>${line}</text>`);
    })}
    ${input.trueSize === true ? null : drawBar(input, sheet)}`;
}

/** New spans above and right in ink, old spans below and left: never two figures in one place. */
function drawSpans(sheet: MountingSheet): SVGTemplateResult {
  const at = (span: MountingSheet['oldSpans'][number]) => [toSheet(span.from, sheet.projection), toSheet(span.to, sheet.projection)] as const;
  return svg`${sheet.newSpans.map((span) => {
    const [from, to] = at(span);
    return drawDimension(span.way, from, to, span.way === 'across' ? sheet.top - 30 : sheet.right + 16, `${DRAWING_WORDS.new} ${span.words}`);
  })}
  ${sheet.oldSpans.map((span) => {
    const [from, to] = at(span);
    return drawDimension(span.way, from, to, span.way === 'across' ? sheet.bottom + 34 : sheet.left - 16, `${DRAWING_WORDS.old} ${span.words}`);
  })}`;
}

function drawBar(input: MountingInput, sheet: MountingSheet): SVGTemplateResult {
  const { scale } = sheet.projection;
  const mm = pickBarMm(scale, Math.min(sheet.width - 28, 160));
  return drawScaleBar({ x: 14, y: sheet.height - 32 }, scale, mm, sayLength(mm, input.units));
}
