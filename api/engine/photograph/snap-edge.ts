import type { Read } from '../../../catalog-schema/index.ts';
import { settingOf } from '../settings.ts';
import { accept, refuse, type EdgeMarks } from './card.ts';
import { fitLine, type FittedLine } from './fit-line.ts';
import type { Spot } from './homography.ts';

/** Brightness of a picture, row by row from the upper left, in any unit. The pixel (0, 0) covers 0 to 1 px each way: its middle is (0.5, 0.5). */
export interface GreyPicture {
  readonly luminance: Float32Array | Uint8Array | Uint8ClampedArray;
  readonly widthPx: number;
  readonly heightPx: number;
}

/** An edge found to sub-pixels: marks for `measureCard`, their line, and how many of the places looked at show the edge. */
export interface SnappedEdge { readonly marks: EdgeMarks; readonly line: FittedLine; readonly shown: number }

/** Step across the edge, px, and the width of the smoothing before the slope is taken. */
const STEP_PX = 0.25;
const SMOOTHING_PX = 1.2;
const MOST_PLACES = 80;

/**
 * Moves a roughly marked edge onto the picture's own edge: at places along it the steepest change of brightness across it is found
 * (all of one sense: dark to light or light to dark), and a line is laid through them; places far off the line are dropped.
 * @param from @param to the rough edge, px, both at least some pixels inside the straight part
 * @param reachPx how far across the rough edge to look, each way
 * @param nearPx sigma of the rough edge: of several edges within reach the nearer counts for more, by this normal; absent = all alike.
 * The places lean towards the rough edge by it, so that a second look without it is due
 * @returns the places as marks, with the noise they show plus a floor for what all places share (pixel grid, blur),
 * so that the line as a whole is never known better than the table says
 * Cost: about 80 places times 8 reachPx samples. Refuses marks outside the picture or too close, and where no clear edge is near.
 */
export function snapEdge(picture: GreyPicture, from: { xPx: number; yPx: number }, to: { xPx: number; yPx: number }, reachPx = 8, nearPx?: number): Read<SnappedEdge> {
  const { widthPx, heightPx, luminance } = picture;
  if (!(widthPx > 0) || !(heightPx > 0) || luminance.length !== widthPx * heightPx) return refuse('picture', `${luminance.length} values`, `${widthPx} x ${heightPx} values`);
  if (!Number.isFinite(reachPx) || reachPx < 3 || reachPx > 100) return refuse('reachPx', String(reachPx), '3 to 100 px');
  for (const [name, { xPx, yPx }] of [['from', from], ['to', to]] as const) {
    if (!(xPx >= 0 && xPx <= widthPx && yPx >= 0 && yPx <= heightPx)) return refuse(name, `(${xPx}, ${yPx})`, 'a place in the picture');
  }
  const length = Math.hypot(to.xPx - from.xPx, to.yPx - from.yPx);
  if (length < 10) return refuse('to', `marks ${length.toFixed(1)} px apart`, 'marks at least 10 px apart');
  const along = { x: (to.xPx - from.xPx) / length, y: (to.yPx - from.yPx) / length };

  const count = Math.min(MOST_PLACES, Math.floor(length / 2));
  const profiles = Array.from({ length: count }, (_, k) => {
    const t = ((k + 0.5) / count) * length;
    const at = { x: from.xPx + t * along.x, y: from.yPx + t * along.y };
    const slopes = slopeAcross(picture, at, along, reachPx);
    return { at, slopes: nearPx === undefined ? slopes : weighNear(slopes, reachPx, nearPx) };
  });
  const sense = Math.sign(strongestSlope(profiles.map(({ slopes }) => slopes)));
  const places: Spot[] = [];
  for (const { at, slopes } of profiles) {
    const across = findPeak(slopes, sense, reachPx);
    if (across !== undefined) places.push({ x: at.x - along.y * across, y: at.y + along.x * across });
  }
  const kept = keepLine(places);
  const line = kept.length >= 6 ? fitLine(kept, 1) : undefined;
  const noClear = () => refuse<SnappedEdge>('picture', 'no clear edge near the marks', 'an edge with more contrast, or marks nearer to it');
  if (!line || kept.length < count * settingOf('snapShown')) return noClear();
  const shownPx = Math.sqrt(line.residuals.reduce((sum, residual) => sum + residual * residual, 0) / (kept.length - 2));
  if (shownPx > settingOf('snapMostNoise')) return noClear();
  const noisePx = Math.hypot(shownPx, settingOf('snapLineFloor') * Math.sqrt(kept.length));
  return accept({
    marks: { points: kept.map(({ x, y }) => ({ xPx: x, yPx: y })), noisePx }, shown: kept.length,
    line: { ...line, offsetSigma: line.offsetSigma * noisePx, turnSigma: line.turnSigma * noisePx },
  });
}

/** Slope of the smoothed brightness across the edge, at steps from -reach to +reach; NaN where that leaves the picture. */
function slopeAcross(picture: GreyPicture, at: Spot, along: Spot, reachPx: number): Float64Array {
  const half = Math.round(reachPx / STEP_PX);
  const tail = Math.ceil((3 * SMOOTHING_PX) / STEP_PX);
  const samples = Float64Array.from({ length: 2 * (half + tail) + 1 }, (_, k) => {
    const across = (k - half - tail) * STEP_PX;
    return sample(picture, at.x - along.y * across, at.y + along.x * across);
  });
  return Float64Array.from({ length: 2 * half + 1 }, (_, k) => {
    let slope = 0;
    for (let j = -tail; j <= tail; j++) {
      const u = (j * STEP_PX) / SMOOTHING_PX;
      slope += samples[k + tail + j]! * u * Math.exp(-u * u / 2);
    }
    return slope;
  });
}

function weighNear(slopes: Float64Array, reachPx: number, nearPx: number): Float64Array {
  const half = Math.round(reachPx / STEP_PX);
  return slopes.map((slope, k) => slope * Math.exp(-0.5 * (((k - half) * STEP_PX) / nearPx) ** 2));
}

/** Brightness between pixels, bilinear; NaN outside. */
function sample({ luminance, widthPx, heightPx }: GreyPicture, x: number, y: number): number {
  const [u, v] = [x - 0.5, y - 0.5];
  const [i, j] = [Math.floor(u), Math.floor(v)];
  if (i < 0 || j < 0 || i + 1 >= widthPx || j + 1 >= heightPx) return NaN;
  const [s, t] = [u - i, v - j];
  const k = j * widthPx + i;
  return (1 - t) * ((1 - s) * luminance[k]! + s * luminance[k + 1]!) + t * ((1 - s) * luminance[k + widthPx]! + s * luminance[k + widthPx + 1]!);
}

/** The mean, over all places, of each place's steepest slope: its sign is the sense of the edge. */
function strongestSlope(profiles: readonly Float64Array[]): number {
  return profiles.reduce((sum, slopes) => {
    let best = 0;
    for (const slope of slopes) if (Math.abs(slope) > Math.abs(best)) best = slope;
    return sum + best;
  }, 0);
}

/** Where across the edge the slope is greatest in the given sense, by a parabola through the three highest steps; undefined at the rim of the reach. */
function findPeak(slopes: Float64Array, sense: number, reachPx: number): number | undefined {
  let best = -1;
  for (let k = 0; k < slopes.length; k++) if (sense * slopes[k]! > (best < 0 ? 0 : sense * slopes[best]!)) best = k;
  if (best <= 0 || best >= slopes.length - 1) return undefined;
  const [a, b, c] = [sense * slopes[best - 1]!, sense * slopes[best]!, sense * slopes[best + 1]!];
  const bend = a - 2 * b + c;
  if (!(bend < 0)) return undefined;
  return (best + (a - c) / (2 * bend)) * STEP_PX - Math.round(reachPx / STEP_PX) * STEP_PX;
}

/** Drops places off the line of most: the line through the pair of places the others lie nearest to (median), then three times its spread. */
function keepLine(places: readonly Spot[]): Spot[] {
  if (places.length < 6) return [...places];
  let best = { median: Infinity, sizes: [] as number[] };
  const third = Math.floor(places.length / 3);
  for (let i = 0; i < third; i++) {
    for (let j = places.length - third; j < places.length; j++) {
      const [a, b] = [places[i]!, places[j]!];
      const length = Math.hypot(b.x - a.x, b.y - a.y);
      if (length === 0) continue;
      const sizes = places.map(({ x, y }) => Math.abs((y - a.y) * (b.x - a.x) - (x - a.x) * (b.y - a.y)) / length);
      const median = sizes.toSorted((p, q) => p - q)[Math.floor(sizes.length / 2)]!;
      if (median < best.median) best = { median, sizes };
    }
  }
  // 1.4826 makes a median deviation a sigma; the floor keeps a perfect picture's places
  const most = 3 * 1.4826 * Math.max(best.median, 0.05);
  return places.filter((_, k) => best.sizes[k]! <= most);
}
