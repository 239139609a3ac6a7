import { measureAcross, measureCard, measureDistance, measureRound, type CardPlane, type Tap } from '../../api/engine/photograph/index.ts';
import { createRandom, drawPhotograph, type Photograph, type Pixel, type Setting } from './pinhole.ts';

/** How many lengths were measured, how far off, and how many lay inside the half-width stated. */
export interface Tally { count: number; within: number; covered: number; errors: number[]; plusMinus: number[] }

export interface Figures { photographs: number; refused: number; turned: number; unclear: number; spacing: Tally; across: Tally; round: Tally }

/** The figures over so many photographs of one setting. `nearMm`: what counts as near enough. */
export function judgePhotographs(count: number, seed: number, setting: Setting, nearMm = 0.5): Figures {
  const random = createRandom(seed);
  const figures: Figures = { photographs: count, refused: 0, turned: 0, unclear: 0, spacing: emptyTally(), across: emptyTally(), round: emptyTally() };
  for (let k = 0; k < count; k++) {
    const photograph = drawPhotograph(random, setting);
    const plane = openPlane(photograph, setting);
    if (!plane) {
      figures.refused++;
      continue;
    }
    if (isTurned(photograph, setting)) figures.turned++;
    if (plane.cautions.length > 0) figures.unclear++;
    const tap = (at: Pixel): Tap => ({ ...at, noisePx: setting.tapNoisePx });
    const { holes, bore } = photograph;
    for (let i = 0; i < holes.length; i++) {
      for (let j = i + 1; j < holes.length; j++) {
        const [a, b] = [holes[i]!, holes[j]!];
        addLength(figures.spacing, measureDistance(plane, tap(a.tap), tap(b.tap)), Math.hypot(a.xMm - b.xMm, a.yMm - b.yMm), nearMm);
      }
    }
    const across = measureAcross(plane, tap(bore.across[0]), tap(bore.across[1]));
    addLength(figures.across, across.ok ? { ok: true, value: across.value.diameterMm } : across, bore.diameterMm, nearMm);
    const round = measureRound(plane, bore.rim.map(tap));
    addLength(figures.round, round.ok ? { ok: true, value: round.value.diameterMm } : round, bore.diameterMm, nearMm);
  }
  return figures;
}

function openPlane(photograph: Photograph, setting: Setting, longEdges?: 'first-and-third' | 'second-and-fourth'): CardPlane | undefined {
  const plane = measureCard({
    picture: photograph, edges: photograph.edges.map((points) => ({ points, noisePx: setting.edgeNoisePx })), longEdges,
    raisedMm: setting.raisedMm === 0 ? undefined : { value: setting.raisedMm, plusMinus: 0.5 },
  });
  return plane.ok ? plane.value : undefined;
}

/** Whether the long edges were taken for the short: then the scale differs from the one with the true pair named. */
function isTurned(photograph: Photograph, setting: Setting): boolean {
  const judged = openPlane(photograph, setting);
  const told = openPlane(photograph, setting, photograph.longFirst ? 'first-and-third' : 'second-and-fourth');
  return JSON.stringify(judged?.map) !== JSON.stringify(told?.map);
}

/** Enters one length; a refused one counts as neither near nor covered. */
export function addLength(tally: Tally, measured: { ok: true; value: { value: number; plusMinus: number } } | { ok: false }, trueMm: number, nearMm: number): void {
  tally.count++;
  if (!measured.ok) return;
  const error = Math.abs(measured.value.value - trueMm);
  if (error <= nearMm) tally.within++;
  if (error <= measured.value.plusMinus) tally.covered++;
  tally.errors.push(error);
  tally.plusMinus.push(measured.value.plusMinus);
}

export function emptyTally(): Tally {
  return { count: 0, within: 0, covered: 0, errors: [], plusMinus: [] };
}

/** `1234 measured, 96.1 % within 0.5 mm, 95.3 % inside the stated half-width, error at the 95th in 100 0.41 mm, half-width 0.35 mm (median)`. */
export function printTally({ count, within, covered, errors, plusMinus }: Tally): string {
  const at = (list: readonly number[], share: number) => list.toSorted((a, b) => a - b)[Math.min(list.length - 1, Math.floor(share * list.length))] ?? NaN;
  return `${count} measured, ${share(within, count)} within 0.5 mm, ${share(covered, count)} inside the stated half-width, `
    + `95th percentile of the error ${at(errors, 0.95).toFixed(3)} mm, median half-width ${at(plusMinus, 0.5).toFixed(3)} mm`;
}

export function share(part: number, whole: number): string {
  return `${((100 * part) / whole).toFixed(1)} %`;
}
