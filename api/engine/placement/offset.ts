/** Where a bolt may sit, or what a hole leaves open: a centre and half the travel of a slot (a zero vector when round), mm. */
export interface Spot {
  readonly x: number;
  readonly y: number;
  readonly halfX: number;
  readonly halfY: number;
}

/** How far a point lies from a convex set, and which way the distance grows (a unit vector; zero inside). */
export interface Offset {
  distance: number;
  alongX: number;
  alongY: number;
}

/**
 * Offset of the shift (x, y) from the set of shifts that bring a turned hole exactly over a bolt:
 * the set is `bolt - turned hole`, widened by the travel of both slots (a point, a segment or a parallelogram).
 * Its distance is the distance of the bolt from the hole's centre or its slot's centre line.
 * Writes into `out` and returns it: this is the innermost loop of the search.
 */
export function measureOffset(bolt: Spot, turned: Spot, x: number, y: number, out: Offset): Offset {
  const px = x - (bolt.x - turned.x);
  const py = y - (bolt.y - turned.y);
  const boltRound = bolt.halfX === 0 && bolt.halfY === 0;
  const holeRound = turned.halfX === 0 && turned.halfY === 0;
  if (boltRound && holeRound) return write(out, px, py);
  if (boltRound) return measureSegment(px, py, 0, 0, turned.halfX, turned.halfY, out);
  if (holeRound) return measureSegment(px, py, 0, 0, bolt.halfX, bolt.halfY, out);

  const cross = bolt.halfX * turned.halfY - bolt.halfY * turned.halfX;
  if (Math.abs(cross) > 1e-12) {
    const along = (px * turned.halfY - py * turned.halfX) / cross;
    const across = (bolt.halfX * py - bolt.halfY * px) / cross;
    if (Math.abs(along) <= 1 && Math.abs(across) <= 1) return write(out, 0, 0);
  }
  // Outside: the nearest of the four edges.
  const best: Offset = { distance: Number.POSITIVE_INFINITY, alongX: 0, alongY: 0 };
  for (const sign of [-1, 1]) {
    measureSegment(px, py, sign * bolt.halfX, sign * bolt.halfY, turned.halfX, turned.halfY, out);
    if (out.distance < best.distance) Object.assign(best, out);
    measureSegment(px, py, sign * turned.halfX, sign * turned.halfY, bolt.halfX, bolt.halfY, out);
    if (out.distance < best.distance) Object.assign(best, out);
  }
  return Object.assign(out, best);
}

/** Distance of a point from a hole's centre or its slot's centre line, mm. */
export function measureToSpot(x: number, y: number, { x: cx, y: cy, halfX, halfY }: Spot): number {
  const dx = x - cx;
  const dy = y - cy;
  const square = halfX * halfX + halfY * halfY;
  const t = square === 0 ? 0 : Math.max(-1, Math.min(1, (dx * halfX + dy * halfY) / square));
  return Math.hypot(dx - t * halfX, dy - t * halfY);
}

/** Least and greatest distance between a point of one spot and a point of the other, mm. */
export function measureSpan(a: Spot, b: Spot): { least: number; greatest: number } {
  if (isPoint(a) && isPoint(b)) {
    const apart = Math.hypot(a.x - b.x, a.y - b.y);
    return { least: apart, greatest: apart };
  }
  let least = Number.POSITIVE_INFINITY;
  let greatest = 0;
  for (const s of [-1, 1]) {
    const ax = a.x + s * a.halfX;
    const ay = a.y + s * a.halfY;
    const bx = b.x + s * b.halfX;
    const by = b.y + s * b.halfY;
    least = Math.min(least, measureToSpot(ax, ay, b), measureToSpot(bx, by, a));
    for (const t of [-1, 1]) greatest = Math.max(greatest, Math.hypot(ax - (b.x + t * b.halfX), ay - (b.y + t * b.halfY)));
  }
  return { least: crossEachOther(a, b) ? 0 : least, greatest };
}

/** The spot after F (x into -x when flipped) and a counter-clockwise turn; the shift comes later. */
export function turnSpot(spot: Spot, turnRad: number, flipped: boolean): Spot {
  const cos = Math.cos(turnRad);
  const sin = Math.sin(turnRad);
  const x = flipped ? -spot.x : spot.x;
  const halfX = flipped ? -spot.halfX : spot.halfX;
  return {
    x: cos * x - sin * spot.y, y: sin * x + cos * spot.y,
    halfX: cos * halfX - sin * spot.halfY, halfY: sin * halfX + cos * spot.halfY,
  };
}

function measureSegment(px: number, py: number, cx: number, cy: number, halfX: number, halfY: number, out: Offset): Offset {
  const dx = px - cx;
  const dy = py - cy;
  const square = halfX * halfX + halfY * halfY;
  const t = square === 0 ? 0 : Math.max(-1, Math.min(1, (dx * halfX + dy * halfY) / square));
  return write(out, dx - t * halfX, dy - t * halfY);
}

function write(out: Offset, dx: number, dy: number): Offset {
  const distance = Math.sqrt(dx * dx + dy * dy);
  out.distance = distance;
  out.alongX = distance === 0 ? 0 : dx / distance;
  out.alongY = distance === 0 ? 0 : dy / distance;
  return out;
}

function isPoint({ halfX, halfY }: Spot): boolean {
  return halfX === 0 && halfY === 0;
}

function crossEachOther(a: Spot, b: Spot): boolean {
  const cross = a.halfX * b.halfY - a.halfY * b.halfX;
  if (Math.abs(cross) < 1e-12) return false;
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const s = (dx * b.halfY - dy * b.halfX) / cross;
  const t = (dx * a.halfY - dy * a.halfX) / cross;
  return Math.abs(s) <= 1 && Math.abs(t) <= 1;
}
