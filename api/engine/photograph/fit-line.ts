import type { Spot } from './homography.ts';

/**
 * A straight line through marks, and how well they place it: `centre` may be off across the line by `offsetSigma` px,
 * the direction by `turnSigma` rad, and these two errors have nothing to do with each other.
 */
export interface FittedLine {
  readonly centre: Spot;
  /** unit vector along the line */
  readonly along: Spot;
  readonly offsetSigma: number;
  readonly turnSigma: number;
  /** how far each mark lies across the line, px, to the left of `along` where y points up */
  readonly residuals: readonly number[];
}

/**
 * The line nearest to the marks, by total least squares: the error is measured across the line, so that no direction is preferred.
 * @param marks two or more, px; @param noisePx sigma of one mark across the line
 * @returns undefined where all marks are in one place
 * Source: the covariance is the first-order one of a straight-line fit, taken in the line's own axes.
 */
export function fitLine(marks: readonly Spot[], noisePx: number): FittedLine | undefined {
  const n = marks.length;
  const centre = { x: marks.reduce((sum, { x }) => sum + x, 0) / n, y: marks.reduce((sum, { y }) => sum + y, 0) / n };
  let xx = 0;
  let xy = 0;
  let yy = 0;
  for (const { x, y } of marks) {
    xx += (x - centre.x) ** 2;
    xy += (x - centre.x) * (y - centre.y);
    yy += (y - centre.y) ** 2;
  }
  if (!(xx + yy > 0)) return undefined;
  const angle = Math.atan2(2 * xy, xx - yy) / 2;
  const along = { x: Math.cos(angle), y: Math.sin(angle) };
  const spread = marks.reduce((sum, { x, y }) => sum + ((x - centre.x) * along.x + (y - centre.y) * along.y) ** 2, 0);
  return {
    centre, along, offsetSigma: noisePx / Math.sqrt(n), turnSigma: noisePx / Math.sqrt(spread),
    residuals: marks.map(({ x, y }) => (y - centre.y) * along.x - (x - centre.x) * along.y),
  };
}

/** The line moved by so many px across itself and turned by so many rad about its centre. */
export function moveLine(line: FittedLine, offsetPx: number, turnRad: number): FittedLine {
  const { centre, along } = line;
  const c = Math.cos(turnRad);
  const s = Math.sin(turnRad);
  return {
    ...line,
    centre: { x: centre.x - along.y * offsetPx, y: centre.y + along.x * offsetPx },
    along: { x: c * along.x - s * along.y, y: s * along.x + c * along.y },
  };
}

/** Where two lines cross; undefined where they run less than `leastAngleRad` apart in direction. */
export function crossLines(a: FittedLine, b: FittedLine, leastAngleRad: number): Spot | undefined {
  const sine = a.along.x * b.along.y - a.along.y * b.along.x;
  if (Math.abs(sine) < Math.sin(leastAngleRad)) return undefined;
  const t = ((b.centre.x - a.centre.x) * b.along.y - (b.centre.y - a.centre.y) * b.along.x) / sine;
  return { x: a.centre.x + t * a.along.x, y: a.centre.y + t * a.along.y };
}
