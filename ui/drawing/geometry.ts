/** A point in millimetres, x to the right, y up, as in the contract. */
export type PointMm = Readonly<{ xMm: number; yMm: number }>;

/** A point on a sheet in CSS pixels, x to the right, y down. */
export type Spot = Readonly<{ x: number; y: number }>;

/** An upright box on a sheet, px. */
export type Box = Readonly<{ left: number; top: number; right: number; bottom: number }>;

/** An upright box in millimetres, y up. */
export type BoxMm = Readonly<{ left: number; bottom: number; right: number; top: number }>;

/** CSS pixels of one millimetre: CSS fixes 96 px to the inch (CSS Values and Units 4, section 6.2). */
export const PX_PER_MM_TRUE = 96 / 25.4;

export type PlacementLike = Readonly<{ rotationDeg: number; flipped: boolean; shiftMm: readonly [number, number] }>;

/**
 * A point of the part's bracket in the machine's frame: machine = shift + R(rotation, counter-clockwise) F part,
 * F turning x into -x when flipped.
 */
export function placePoint(point: PointMm, placement: PlacementLike): PointMm {
  const angle = (placement.rotationDeg * Math.PI) / 180;
  const x = placement.flipped ? -point.xMm : point.xMm;
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  return {
    xMm: placement.shiftMm[0] + cos * x - sin * point.yMm,
    yMm: placement.shiftMm[1] + sin * x + cos * point.yMm,
  };
}

/** The direction of a slot after the part is placed, degrees counter-clockwise from x, in [0, 180). */
export function placeAngleDeg(angleDeg: number, placement: PlacementLike): number {
  const turned = (placement.flipped ? 180 - angleDeg : angleDeg) + placement.rotationDeg;
  return ((turned % 180) + 180) % 180;
}

/** How a drawing in millimetres lies on a sheet: `scale` in px per mm, and where the millimetre origin falls. */
export type Projection = Readonly<{ scale: number; origin: Spot }>;

/** Millimetres (y up) to the sheet (y down). */
export function toSheet(point: PointMm, projection: Projection): Spot {
  return { x: projection.origin.x + point.xMm * projection.scale, y: projection.origin.y - point.yMm * projection.scale };
}

/** The box round points, grown by `margin`; the unit box round the origin when there are none. */
export function boundsMm(points: readonly PointMm[], margin = 0): BoxMm {
  if (points.length === 0) return { left: -0.5 - margin, right: 0.5 + margin, bottom: -0.5 - margin, top: 0.5 + margin };
  const xs = points.map((p) => p.xMm);
  const ys = points.map((p) => p.yMm);
  return {
    left: Math.min(...xs) - margin, right: Math.max(...xs) + margin,
    bottom: Math.min(...ys) - margin, top: Math.max(...ys) + margin,
  };
}

/** The projection that lays `box` into `frame`, centred, as large as fits, never above `maxScale` px per mm. */
export function fitInto(box: BoxMm, frame: Box, maxScale: number): Projection {
  const [width, height] = [Math.max(box.right - box.left, 1e-6), Math.max(box.top - box.bottom, 1e-6)];
  const scale = Math.min((frame.right - frame.left) / width, (frame.bottom - frame.top) / height, maxScale);
  return {
    scale,
    origin: {
      x: (frame.left + frame.right) / 2 - ((box.left + box.right) / 2) * scale,
      y: (frame.top + frame.bottom) / 2 + ((box.top + box.bottom) / 2) * scale,
    },
  };
}

/** Area that two boxes share, px². */
export function overlapArea(a: Box, b: Box): number {
  const width = Math.min(a.right, b.right) - Math.max(a.left, b.left);
  const height = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
  return width > 0 && height > 0 ? width * height : 0;
}

/** A box round a centre. */
export function boxAround(centre: Spot, width: number, height: number): Box {
  return { left: centre.x - width / 2, right: centre.x + width / 2, top: centre.y - height / 2, bottom: centre.y + height / 2 };
}

/** The length that a straight line runs inside a box, px. */
export function lengthInside(from: Spot, to: Spot, box: Box): number {
  let [start, end] = [0, 1];
  const steps: [number, number, number, number][] = [
    [from.x, to.x - from.x, box.left, box.right],
    [from.y, to.y - from.y, box.top, box.bottom],
  ];
  for (const [at, by, low, high] of steps) {
    if (by === 0) {
      if (at < low || at > high) return 0;
      continue;
    }
    const [a, b] = [(low - at) / by, (high - at) / by];
    start = Math.max(start, Math.min(a, b));
    end = Math.min(end, Math.max(a, b));
  }
  return end > start ? (end - start) * Math.hypot(to.x - from.x, to.y - from.y) : 0;
}

/** A convex hull of points, counter-clockwise (Andrew's monotone chain). */
export function hullOf(points: readonly PointMm[]): PointMm[] {
  const sorted = [...points].sort((a, b) => a.xMm - b.xMm || a.yMm - b.yMm);
  if (sorted.length < 3) return sorted;
  const turn = (o: PointMm, a: PointMm, b: PointMm): number =>
    (a.xMm - o.xMm) * (b.yMm - o.yMm) - (a.yMm - o.yMm) * (b.xMm - o.xMm);
  const half = (list: readonly PointMm[]): PointMm[] => {
    const chain: PointMm[] = [];
    for (const point of list) {
      while (chain.length >= 2 && turn(chain.at(-2)!, chain.at(-1)!, point) <= 0) chain.pop();
      chain.push(point);
    }
    return chain.slice(0, -1);
  };
  return [...half(sorted), ...half(sorted.toReversed())];
}
