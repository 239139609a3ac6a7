import type { InputFault, Read } from '../../../catalog-schema/index.ts';
import { describeSetting, settingOf } from '../settings.ts';
import { accept, refuse, spotOf, type CardMarks } from './card.ts';
import { crossLines, fitLine, type FittedLine } from './fit-line.ts';
import type { Spot } from './homography.ts';

/** Neighbouring edges of a card seen by a camera never run closer together in direction than this. */
const LEAST_ANGLE_RAD = (20 * Math.PI) / 180;
/** A line whose direction is known worse than this has its marks too close together. */
const MOST_TURN_SIGMA_RAD = 0.1;

/**
 * The line of each marked edge. An edge whose marks scatter more than their stated noise allows by chance gets the noise they show;
 * a mark far from the line of the others is refused.
 */
export function readEdges(marks: CardMarks): Read<{ lines: FittedLine[]; assumptions: string[] }> {
  const faults = checkNumbers(marks);
  if (faults.length > 0) return { ok: false, faults };
  const assumptions: string[] = [];
  const lines: FittedLine[] = [];
  for (const [e, { points, noisePx }] of marks.edges.entries()) {
    const line = fitLine(points.map(spotOf), noisePx);
    if (!line || line.turnSigma > MOST_TURN_SIGMA_RAD) {
      faults.push({ path: `edges[${e}].points`, found: 'marks too close together', want: 'marks spread along the whole edge' });
      continue;
    }
    const sizes = line.residuals.map(Math.abs);
    const worst = Math.max(...sizes);
    const scatter = Math.sqrt(sizes.reduce((sum, size) => sum + size * size, 0) / Math.max(1, points.length - 2)) / noisePx;
    if (worst > settingOf('photographStrayMark') * noisePx) {
      faults.push({ path: `edges[${e}].points[${sizes.indexOf(worst)}]`, found: `a mark ${worst.toFixed(1)} px off the line of the others`, want: 'marks on one straight edge' });
    } else if (points.length > 2 && scatter > settingOf('photographScatter')) {
      assumptions.push(`edge ${e + 1}: its marks scatter by ${(scatter * noisePx).toFixed(2)} px, which stands in place of the ${noisePx} px stated; ${describeSetting('photographScatter')}`);
      lines.push({ ...line, offsetSigma: line.offsetSigma * scatter, turnSigma: line.turnSigma * scatter });
      continue;
    }
    lines.push(line);
  }
  return faults.length > 0 ? { ok: false, faults } : accept({ lines, assumptions });
}

/**
 * The corners where neighbouring edges cross; corner k lies between edge k - 1 and edge k.
 * @param marks where given, the marks of each edge must lie between its two corners
 */
export function findCorners(marks: CardMarks | undefined, lines: readonly FittedLine[]): Read<Spot[]> {
  const corners: Spot[] = [];
  for (const [k, line] of lines.entries()) {
    const before = (k + 3) % 4;
    const corner = crossLines(lines[before]!, line, LEAST_ANGLE_RAD);
    if (!corner) return refuse(`edges[${k}]`, `an edge that runs nearly along edge ${before + 1}`, 'the four edges in their order around the card');
    corners.push(corner);
  }
  const turns = corners.map((at, k) => {
    const [from, to] = [corners[(k + 3) % 4]!, corners[(k + 1) % 4]!];
    return Math.sign((at.x - from.x) * (to.y - at.y) - (at.y - from.y) * (to.x - at.x));
  });
  if (turns.some((turn) => turn === 0 || turn !== turns[0])) {
    return refuse('edges', 'edges whose crossings form no convex four-sided figure', 'the four edges in their order around the card');
  }
  for (const [e, { points }] of (marks?.edges ?? []).entries()) {
    const [from, to] = [corners[e]!, corners[(e + 1) % 4]!];
    const squared = (to.x - from.x) ** 2 + (to.y - from.y) ** 2;
    for (const [p, { xPx, yPx }] of points.entries()) {
      const share = ((xPx - from.x) * (to.x - from.x) + (yPx - from.y) * (to.y - from.y)) / squared;
      if (share < 0 || share > 1) return refuse(`edges[${e}].points[${p}]`, 'a mark beyond where the edge meets its neighbours', 'marks on the card, its edges in their order around it');
    }
  }
  return accept(corners);
}

function checkNumbers(marks: CardMarks): InputFault[] {
  const faults: InputFault[] = [];
  const need = (path: string, value: number, above: number) => {
    if (!Number.isFinite(value) || value <= above) faults.push({ path, found: String(value), want: above === -Infinity ? 'a finite number' : `a finite number above ${above}` });
  };
  need('picture.widthPx', marks.picture.widthPx, 0);
  need('picture.heightPx', marks.picture.heightPx, 0);
  if (marks.edges.length !== 4) faults.push({ path: 'edges', found: `${marks.edges.length} edges`, want: 'the four straight edges of the card' });
  for (const [e, { points, noisePx }] of marks.edges.entries()) {
    need(`edges[${e}].noisePx`, noisePx, 0);
    if (points.length < 2) faults.push({ path: `edges[${e}].points`, found: points.length === 1 ? '1 mark' : 'no mark', want: 'two or more marks, spread along the edge' });
    for (const [p, { xPx, yPx }] of points.entries()) {
      need(`edges[${e}].points[${p}].xPx`, xPx, -Infinity);
      need(`edges[${e}].points[${p}].yPx`, yPx, -Infinity);
    }
  }
  const raised = marks.raisedMm;
  if (raised !== undefined) {
    need('raisedMm', typeof raised === 'number' ? raised : raised.value, -Infinity);
    if (typeof raised !== 'number') need('raisedMm.plusMinus', raised.plusMinus, 0);
  }
  return faults;
}
