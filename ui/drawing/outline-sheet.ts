import { svg, type SVGTemplateResult } from 'lit';
import type { MountingHole } from '../../catalog-schema/index.ts';
import { AS_GIVEN, drawCentreCross, holePath, patternBounds, platePath } from './bracket-view.ts';
import { drawFaceGround, drawFaceSpot } from './face-drawing.ts';
import { type FaceSheet, faceBounds, layFaceSheet } from './face-sheet.ts';
import type { FaceTerminal } from './face-terminals.ts';
import { type Projection, placePoint, toSheet } from './geometry.ts';

/** A part as it is compared with others: its terminal face above its bracket, both to the scale given. */
export type OutlineInput = Readonly<{ terminals: readonly FaceTerminal[]; holes: readonly MountingHole[]; widthPx: number; scale: number }>;

export type OutlineSheet = Readonly<{
  width: number; height: number; face: FaceSheet | undefined
  bracket: Readonly<{ projection: Projection; top: number }> | undefined
}>;

const EDGE = 10;
const GAP = 18;
/** No drawing is larger than this, px per mm: a small part is not blown up. */
const MOST_SCALE = 4.5;

/** The one scale at which each of these parts fits into a column, px per mm. */
export function commonScale(parts: readonly Pick<OutlineInput, 'terminals' | 'holes'>[], widthPx: number): number {
  const widths = parts.flatMap(({ terminals, holes }) => [
    ...(terminals.length > 0 ? [faceBounds(terminals)] : []), ...(holes.length > 0 ? [patternBounds(holes)] : []),
  ]).map(({ left, right }) => right - left);
  return Math.min(MOST_SCALE, (widthPx - 2 * EDGE) / Math.max(1, ...widths));
}

export function layOutlineSheet({ terminals, holes, widthPx, scale }: OutlineInput): OutlineSheet {
  const face = terminals.length === 0 ? undefined : layFaceSheet({ terminals, wires: [], widthPx, scale });
  const top = face === undefined ? 0 : face.height + GAP;
  if (holes.length === 0) return { width: widthPx, height: Math.max(top - GAP, 24), face, bracket: undefined };
  const box = patternBounds(holes);
  const projection = { scale, origin: { x: widthPx / 2 - ((box.left + box.right) / 2) * scale, y: top + box.top * scale } };
  return { width: widthPx, height: top + (box.top - box.bottom) * scale + 8, face, bracket: { projection, top } };
}

/** The old part in grey, a new one in ink. */
export function drawOutline({ holes }: OutlineInput, { face, bracket }: OutlineSheet, old: boolean): SVGTemplateResult {
  return svg`<g class=${old ? 'old-face' : ''}>
    ${face === undefined ? null : svg`${drawFaceGround(face, {})}${face.spots.map((spot) => drawFaceSpot(spot, face, {}))}`}
    ${bracket === undefined ? null : svg`<path class="outline taken" d=${platePath(holes, bracket.projection)} />
      ${holes.map((hole) => {
        const centre = toSheet(placePoint(hole, AS_GIVEN), bracket.projection);
        return svg`<path class="outline" d=${holePath(hole, bracket.projection)} />${drawCentreCross(centre, (hole.diameterMm / 2) * bracket.projection.scale + 6)}`;
      })}`}</g>`;
}
