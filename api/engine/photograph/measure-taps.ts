import type { Read } from '../../../catalog-schema/index.ts';
import { accept, refuse, spotOf, type Tap } from './card.ts';
import { fitCircle } from './fit-circle.ts';
import type { Spot } from './homography.ts';
import { mapSpot, type CardPlane } from './measure-card.ts';

/** A length with its half-width of 2 sigma, both mm. */
export interface Length { readonly value: number; readonly plusMinus: number }

/** A place in the measured plane, mm, each coordinate with its half-width of 2 sigma. */
export interface Place { readonly xMm: Length; readonly yMm: Length }

/** A round hole or stud: its middle, its diameter, and the farthest a rim tap lies off the circle, in sigmas of the tap. */
export interface Round { readonly centre: Place; readonly diameterMm: Length; readonly worstSigma: number }

/** Where a tapped point lies in the measured plane. Cost: two maps for each error of the marks. */
export function measurePlace(plane: CardPlane, tap: Tap): Read<Place> {
  return derive(plane, [tap], ([spot]) => [spot!.x, spot!.y], ([x, y]) => ({ xMm: x!, yMm: y! }));
}

/** The distance between two tapped points. An error of the marks that both share counts once, not twice. */
export function measureDistance(plane: CardPlane, a: Tap, b: Tap): Read<Length> {
  return derive(plane, [a, b], ([p, q]) => [Math.hypot(p!.x - q!.x, p!.y - q!.y)], ([length]) => length!);
}

/** A round thing from two taps on opposite sides of its rim. Taps that are not quite opposite make it too small; that is not in the half-width. */
export function measureAcross(plane: CardPlane, a: Tap, b: Tap): Read<Round> {
  return derive(plane, [a, b],
    ([p, q]) => [(p!.x + q!.x) / 2, (p!.y + q!.y) / 2, Math.hypot(p!.x - q!.x, p!.y - q!.y)],
    ([x, y, diameter]) => ({ centre: { xMm: x!, yMm: y! }, diameterMm: diameter!, worstSigma: 0 }));
}

/**
 * A round thing from three or more taps on its rim: the circle nearest to them in the plane (in the picture it is an ellipse).
 * Refuses fewer than three taps, taps on one line, and taps on so short an arc that the diameter is not known to half of itself.
 */
export function measureRound(plane: CardPlane, rim: readonly Tap[]): Read<Round> {
  if (rim.length < 3) return refuse('rim', `${rim.length} taps`, 'three or more taps around the rim');
  const round = derive(plane, rim, (spots) => {
    const circle = fitCircle(spots);
    return circle && [circle.x, circle.y, 2 * circle.radius];
  }, ([x, y, diameter]) => ({ centre: { xMm: x!, yMm: y! }, diameterMm: diameter!, worstSigma: 0 }));
  if (!round.ok) return round;
  const { centre, diameterMm } = round.value;
  if (diameterMm.plusMinus > diameterMm.value / 2) return refuse('rim', `taps that give a diameter of ${diameterMm.value.toFixed(1)} mm only to ${diameterMm.plusMinus.toFixed(1)} mm`, 'taps all around the rim');
  const worstSigma = Math.max(...rim.map((tap) => {
    const spot = mapSpot(plane.map, spotOf(tap))!;
    const off = Math.hypot(spot.x - centre.xMm.value, spot.y - centre.yMm.value) - diameterMm.value / 2;
    return Math.abs(off) * plane.pxPerMm / tap.noisePx;
  }));
  return accept({ ...round.value, worstSigma });
}

/** How the middle of something was tapped: at once, by two taps on opposite sides, or by three or more around its rim. */
export interface Middle { readonly by: 'middle' | 'across' | 'rim'; readonly taps: readonly Tap[] }

/** The distance between two middles, however each was tapped. An error of the marks that both share counts once. */
export function measureSpacing(plane: CardPlane, a: Middle, b: Middle): Read<Length> {
  const split = a.taps.length;
  return derive(plane, [...a.taps, ...b.taps], (spots) => {
    const [p, q] = [findMiddle(a.by, spots.slice(0, split)), findMiddle(b.by, spots.slice(split))];
    return p && q && [Math.hypot(p.x - q.x, p.y - q.y)];
  }, ([length]) => length!);
}

function findMiddle(by: Middle['by'], spots: readonly Spot[]): Spot | undefined {
  const [first, second] = spots;
  switch (by) {
    case 'middle': return first;
    case 'across': return first && second && { x: (first.x + second.x) / 2, y: (first.y + second.y) / 2 };
    case 'rim': return spots.length < 3 ? undefined : fitCircle(spots);
  }
}

/**
 * Whatever follows from tapped points, with first-order uncertainty: each error of the marks and each tap's own error is moved one
 * sigma up and down, and half the differences are added in squares.
 */
function derive<T>(plane: CardPlane, taps: readonly Tap[], from: (spots: readonly Spot[]) => number[] | undefined, build: (lengths: readonly Length[]) => T): Read<T> {
  for (const [k, { xPx, yPx, noisePx }] of taps.entries()) {
    if (!Number.isFinite(xPx) || !Number.isFinite(yPx)) return refuse(`taps[${k}]`, `(${xPx}, ${yPx})`, 'a place in the picture');
    if (!Number.isFinite(noisePx) || noisePx <= 0) return refuse(`taps[${k}].noisePx`, String(noisePx), 'a finite number above 0');
  }
  const spots = taps.map(spotOf);
  const placed = spots.map((spot) => mapSpot(plane.map, spot));
  const beyond = placed.findIndex((spot) => spot === undefined);
  if (beyond >= 0) return refuse(`taps[${beyond}]`, 'a place beyond the horizon of the card\'s plane', 'a place beside the card');
  const values = from(placed as Spot[]);
  if (!values) return refuse('taps', 'taps that form no circle', 'taps around the rim');
  const variances = values.map(() => 0);
  const add = (up: readonly (Spot | undefined)[], down: readonly (Spot | undefined)[]): boolean => {
    const a = up.every((spot) => spot !== undefined) ? from(up as Spot[]) : undefined;
    const b = down.every((spot) => spot !== undefined) ? from(down as Spot[]) : undefined;
    if (!a || !b) return false;
    for (const k of variances.keys()) variances[k]! += ((a[k]! - b[k]!) / 2) ** 2;
    return true;
  };
  const known = plane.moved.every(([up, down]) => add(spots.map((spot) => mapSpot(up, spot)), spots.map((spot) => mapSpot(down, spot))))
    && taps.every(({ noisePx }, k) => [{ x: noisePx, y: 0 }, { x: 0, y: noisePx }].every(({ x, y }) => {
      const at = spots[k]!;
      return add(placed.with(k, mapSpot(plane.map, { x: at.x + x, y: at.y + y })), placed.with(k, mapSpot(plane.map, { x: at.x - x, y: at.y - y })));
    }));
  if (!known) return refuse('taps', 'taps whose place is lost in the noise of the marks', 'taps nearer the card, or further apart');
  return accept(build(values.map((value, k) => ({ value, plusMinus: 2 * Math.sqrt(variances[k]!) }))));
}
