import { settingOf } from '../settings.ts';
import type { Matrix3 } from './homography.ts';

// What a homography tells of the camera, if its pixels are square and its axis meets the middle of the picture: then the two
// axes of the card must come out perpendicular and equally long, for the right focal length. Pictures of a card seen straight
// on tell nothing of the focal length; there the table's usual focal length stands, with its spread.
// Source: Zhang, A flexible new technique for camera calibration, 2000: the two constraints of one plane (from memory).

/** How far a homography is from one a camera of this focal length could have made. */
interface Misfit { lengths: number; angle: number; tiltRad: number }

/** Focal lengths tried, in units of the picture's longer side. */
const FOCALS: readonly number[] = Array.from({ length: 240 }, (_, k) => 0.35 * Math.exp(k * 0.0135));

/** `toPicture` with px counted from the picture's middle and y upwards, so that card and picture turn the same way. */
export function centreHomography(toPicture: Matrix3, widthPx: number, heightPx: number): Matrix3 {
  const h = toPicture;
  const [cx, cy] = [widthPx / 2, heightPx / 2];
  return [
    h[0] - cx * h[6], h[1] - cx * h[7], h[2] - cx * h[8],
    cy * h[6] - h[3], cy * h[7] - h[4], cy * h[8] - h[5], h[6], h[7], h[8],
  ];
}

/**
 * How little a homography looks like a picture of the card taken by a person: misfit of lengths and angles at the best focal length,
 * and the tilt needed. Lower is likelier; in units of minus twice the log-likelihood.
 * @param centred from `centreHomography`; @param longerPx the picture's longer side
 */
export function judgeCamera(centred: Matrix3, longerPx: number): number {
  const [misfitSigma, tiltSigma] = [settingOf('photographMisfit'), settingOf('photographTilt') * (Math.PI / 180)];
  let best = Infinity;
  for (const focal of FOCALS) {
    const { lengths, angle, tiltRad } = findMisfit(centred, focal * longerPx);
    const prior = Math.log(focal / settingOf('photographFocal')) / settingOf('photographFocalSpread');
    best = Math.min(best, (lengths ** 2 + angle ** 2) / misfitSigma ** 2 + (tiltRad / tiltSigma) ** 2 + prior ** 2);
  }
  return best;
}

/**
 * The focal length behind a homography and how sure it is.
 * @param centred from `centreHomography`; @param moved the homography after each of the marks' own errors, one sigma up and one down
 * @returns px, with the sigma of its natural logarithm
 */
export function findFocal(centred: Matrix3, moved: readonly (readonly [Matrix3, Matrix3])[], longerPx: number): { focalPx: number; lnSigma: number } {
  const floor = settingOf('photographCameraFloor') ** 2;
  let [sum, first, second] = [0, 0, 0];
  const costs = FOCALS.map((focal) => {
    const { lengths, angle } = findMisfit(centred, focal * longerPx);
    let [ll, la, aa] = [floor, 0, floor];
    for (const [up, down] of moved) {
      const a = findMisfit(up, focal * longerPx);
      const b = findMisfit(down, focal * longerPx);
      const [dl, da] = [(a.lengths - b.lengths) / 2, (a.angle - b.angle) / 2];
      ll += dl * dl;
      la += dl * da;
      aa += da * da;
    }
    const determinant = ll * aa - la * la;
    const prior = Math.log(focal / settingOf('photographFocal')) / settingOf('photographFocalSpread');
    return (lengths ** 2 * aa - 2 * lengths * angle * la + angle ** 2 * ll) / determinant + Math.log(determinant) + prior ** 2;
  });
  const least = Math.min(...costs);
  FOCALS.forEach((focal, k) => {
    const weight = Math.exp((least - costs[k]!) / 2);
    sum += weight;
    first += weight * Math.log(focal);
    second += weight * Math.log(focal) ** 2;
  });
  const mean = first / sum;
  // no finer than the steps between the focal lengths tried
  return { focalPx: Math.exp(mean) * longerPx, lnSigma: Math.sqrt(Math.max(second / sum - mean * mean, 0.0135 ** 2)) };
}

/** Where the camera stands over the card: mm, z above the card's plane. */
export function placeCamera(centred: Matrix3, focalPx: number): { xMm: number; yMm: number; zMm: number } {
  const [m1, m2, t] = [0, 1, 2].map((k) => [centred[k]! / focalPx, centred[3 + k]! / focalPx, centred[6 + k]!]) as [Vector, Vector, Vector];
  const scale = (t[2] < 0 ? -2 : 2) / (length(m1) + length(m2));
  // the nearest pair of perpendicular unit axes: half-way between the bisectors of the two
  const [a, b] = [unit(m1, scale < 0), unit(m2, scale < 0)];
  const [sum, difference] = [unit(combine(a, b, 1), false), unit(combine(a, b, -1), false)];
  const [x, y] = [unit(combine(sum, difference, 1), false), unit(combine(sum, difference, -1), false)];
  const far: Vector = [t[0] * scale, t[1] * scale, t[2] * scale];
  return { xMm: -dot(x, far), yMm: -dot(y, far), zMm: dot(cross(x, y), far) };
}

type Vector = [number, number, number];

function findMisfit(centred: Matrix3, focalPx: number): Misfit {
  const [x, y] = [0, 1].map((k) => [centred[k]! / focalPx, centred[3 + k]! / focalPx, centred[6 + k]!]) as [Vector, Vector];
  const normal = cross(x, y);
  return {
    lengths: Math.log(length(x) / length(y)), angle: dot(x, y) / (length(x) * length(y)),
    tiltRad: Math.acos(Math.min(1, Math.abs(normal[2]) / length(normal))),
  };
}

function dot(a: Vector, b: Vector): number { return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]; }
function length(a: Vector): number { return Math.sqrt(dot(a, a)); }
function cross(a: Vector, b: Vector): Vector { return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]; }
function combine(a: Vector, b: Vector, sign: number): Vector { return [a[0] + sign * b[0], a[1] + sign * b[1], a[2] + sign * b[2]]; }
function unit(a: Vector, turned: boolean): Vector {
  const s = (turned ? -1 : 1) / length(a);
  return [a[0] * s, a[1] * s, a[2] * s];
}
