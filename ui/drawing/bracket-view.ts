import { svg, type SVGTemplateResult } from 'lit';
import type { MountingHole } from '../../catalog-schema/index.ts';
import { type Box, type PlacementLike, type PointMm, type Projection, type Spot, boundsMm, hullOf, placeAngleDeg, placePoint, toSheet } from './geometry.ts';

export const AS_GIVEN: PlacementLike = { rotationDeg: 0, flipped: false, shiftMm: [0, 0] };

/** The two ends of a hole's centre line, mm: equal for a round hole. */
export function slotEnds(hole: MountingHole, placement: PlacementLike = AS_GIVEN): [PointMm, PointMm] {
  const centre = placePoint(hole, placement);
  const half = (hole.slotMm ?? 0) / 2;
  const angle = (placeAngleDeg(hole.slotAngleDeg ?? 0, placement) * Math.PI) / 180;
  const [dx, dy] = [half * Math.cos(angle), half * Math.sin(angle)];
  return [{ xMm: centre.xMm - dx, yMm: centre.yMm - dy }, { xMm: centre.xMm + dx, yMm: centre.yMm + dy }];
}

/** The plate round a hole pattern, mm: the hull of the holes grown by a rim. Drawn dashed: nobody measured it. */
export function plateOutline(holes: readonly MountingHole[], placement: PlacementLike = AS_GIVEN): { hull: PointMm[]; rimMm: number } {
  const ends = holes.flatMap((hole) => slotEnds(hole, placement));
  const rimMm = Math.max(...holes.map((h) => h.diameterMm), 6);
  return { hull: hullOf(ends), rimMm };
}

/** Room a hole pattern takes with its plate, mm. */
export function patternBounds(holes: readonly MountingHole[], placement: PlacementLike = AS_GIVEN): ReturnType<typeof boundsMm> {
  const { rimMm } = plateOutline(holes, placement);
  return boundsMm(holes.flatMap((hole) => slotEnds(hole, placement)), holes.length === 0 ? 10 : rimMm + 2);
}

/** A hole or slot as an SVG path on the sheet. */
export function holePath(hole: MountingHole, projection: Projection, placement: PlacementLike = AS_GIVEN): string {
  const [a, b] = slotEnds(hole, placement).map((p) => toSheet(p, projection)) as [Spot, Spot];
  const r = (hole.diameterMm / 2) * projection.scale;
  const length = Math.hypot(b.x - a.x, b.y - a.y);
  const [ux, uy] = length < 1e-6 ? [1, 0] : [(b.x - a.x) / length, (b.y - a.y) / length];
  const [nx, ny] = [-uy * r, ux * r];
  return `M${n(a.x + nx)} ${n(a.y + ny)} A${n(r)} ${n(r)} 0 0 1 ${n(a.x - nx)} ${n(a.y - ny)}`
    + ` L${n(b.x - nx)} ${n(b.y - ny)} A${n(r)} ${n(r)} 0 0 1 ${n(b.x + nx)} ${n(b.y + ny)} Z`;
}

/** The plate as an SVG path: the hull swept by a circle of the rim's radius. */
export function platePath(holes: readonly MountingHole[], projection: Projection, placement: PlacementLike = AS_GIVEN): string {
  const { hull, rimMm } = plateOutline(holes, placement);
  if (hull.length === 0) return '';
  const r = rimMm * projection.scale;
  const points = hull.map((p) => toSheet(p, projection));
  if (points.length === 1) {
    const p = points[0]!;
    return `M${n(p.x - r)} ${n(p.y)} A${n(r)} ${n(r)} 0 1 1 ${n(p.x + r)} ${n(p.y)} A${n(r)} ${n(r)} 0 1 1 ${n(p.x - r)} ${n(p.y)} Z`;
  }
  // The hull runs counter-clockwise in mm and so clockwise on the sheet as drawn from below: the outside is on its right there.
  let d = '';
  points.forEach((p, i) => {
    const q = points[(i + 1) % points.length]!;
    const length = Math.hypot(q.x - p.x, q.y - p.y) || 1;
    const [ox, oy] = [(-(q.y - p.y) / length) * r, ((q.x - p.x) / length) * r];
    d += `${i === 0 ? 'M' : `A${n(r)} ${n(r)} 0 0 0 `}${n(p.x + ox)} ${n(p.y + oy)} L${n(q.x + ox)} ${n(q.y + oy)} `;
    if (i === points.length - 1) {
      const s = points[0]!;
      const t = points[1]!;
      const l = Math.hypot(t.x - s.x, t.y - s.y) || 1;
      d += `A${n(r)} ${n(r)} 0 0 0 ${n(s.x - ((t.y - s.y) / l) * r)} ${n(s.y + ((t.x - s.x) / l) * r)} Z`;
    }
  });
  return d;
}

/** The straight edges of the plate on the sheet. */
export function plateEdges(holes: readonly MountingHole[], projection: Projection, placement: PlacementLike = AS_GIVEN): Spot[][] {
  const { hull, rimMm } = plateOutline(holes, placement);
  const r = rimMm * projection.scale;
  const points = hull.map((p) => toSheet(p, projection));
  if (points.length < 2) return [];
  return points.map((p, i) => {
    const q = points[(i + 1) % points.length]!;
    const length = Math.hypot(q.x - p.x, q.y - p.y) || 1;
    const [ox, oy] = [(-(q.y - p.y) / length) * r, ((q.x - p.x) / length) * r];
    return [{ x: p.x + ox, y: p.y + oy }, { x: q.x + ox, y: q.y + oy }];
  });
}

/** Centre lines of a hole: the cross a drawing puts on every centre. */
export function drawCentreCross(at: Spot, reach: number, style = 'dim'): SVGTemplateResult {
  return svg`<path class=${style} d=${`M${n(at.x - reach)} ${n(at.y)} H${n(at.x + reach)} M${n(at.x)} ${n(at.y - reach)} V${n(at.y + reach)}`} />`;
}

/** The box of a placed hole on the sheet, px. */
export function holeBox(hole: MountingHole, projection: Projection, placement: PlacementLike = AS_GIVEN): Box {
  const ends = slotEnds(hole, placement).map((p) => toSheet(p, projection));
  const r = (hole.diameterMm / 2) * projection.scale;
  return {
    left: Math.min(...ends.map((e) => e.x)) - r, right: Math.max(...ends.map((e) => e.x)) + r,
    top: Math.min(...ends.map((e) => e.y)) - r, bottom: Math.max(...ends.map((e) => e.y)) + r,
  };
}

function n(value: number): number {
  return Math.round(value * 100) / 100;
}
