import type { InstrumentClass } from '../../../catalog-schema/index.ts';
import { THREADS, type AcrossFlats, type ThreadRow } from '../../../catalog-schema/reference/index.ts';
import { settingOf } from '../settings.ts';
import { foreseeShowings, type Showings } from './expected-bits.ts';
import { normalDensity, zoneDensity } from './posterior.ts';
import { defaultSigma } from './read-measured.ts';

/** What can be measured on a stud, and with what. */
export const STUD_KEYS = ['majorDiameterMm', 'pitchMm', 'nutAcrossFlatsMm'] as const;
export type StudKey = (typeof STUD_KEYS)[number];
export const STUD_INSTRUMENTS = { majorDiameterMm: 'caliper', pitchMm: 'pitch', nutAcrossFlatsMm: 'hexagon' } as const satisfies Record<StudKey, InstrumentClass>;

/** A nut of no listed width lies anywhere from here to there. */
const STRAY_NUT_MM: readonly [number, number] = [4, 24];

interface Zone { readonly low: number; readonly high: number; readonly share: number }

const NUTS: ReadonlyMap<ThreadRow, readonly Zone[]> = new Map(THREADS.map((row) => [row, nutsOf(row)]));
const PRIORS: ReadonlyMap<ThreadRow, number> = new Map(THREADS.map((row) => [row, priorOf(row)]));

/** How common a thread is, before anything is measured; not scaled. */
export function threadPrior(row: ThreadRow): number {
  return PRIORS.get(row)!;
}

function priorOf(row: ThreadRow): number {
  const size = ['M3.5', 'M7', '#5', '#12'].includes(row.size) ? settingOf('secondChoiceShare') : 1;
  switch (row.series) {
    case 'ISO metric coarse': case 'UNC': return size;
    case 'ISO metric fine': return size * settingOf('fineMetricShare');
    case 'UNF': return size * settingOf('unfShare');
    default: throw new TypeError(`no prior for ${row.series satisfies never}`);
  }
}

/** Widths of the nuts that go on a thread: one zone a width, the plain nut the most common. */
function nutsOf(row: ThreadRow): Zone[] {
  const widths = new Map<number, { least: number; weight: number }>();
  for (const nut of row.acrossFlatsMm.filter(({ on }) => on !== 'head')) {
    const own = widths.get(nut.mm) ?? { least: nut.mm, weight: 0 };
    widths.set(nut.mm, {
      least: Math.min(own.least, nut.minMm ?? nut.mm * settingOf('nutLeastOfNominal')),
      weight: Math.max(own.weight, isPlain(nut) ? settingOf('plainNutWeight') : 1),
    });
  }
  const total = [...widths.values()].reduce((sum, { weight }) => sum + weight, 0);
  const stray = total > 0 ? settingOf('strayNutShare') : 1;
  return [
    ...[...widths].map(([mm, { least, weight }]) => ({ low: least, high: mm, share: (1 - stray) * weight / total })),
    { low: STRAY_NUT_MM[0], high: STRAY_NUT_MM[1], share: stray },
  ];
}

function isPlain({ what }: AcrossFlats): boolean {
  return what === 'hex nut style 1' || what === 'hex nut' || what === 'hex machine-screw nut' || what === 'hex nut fine';
}

/** The likelihood of a value measured on a thread: drawn evenly from the standard's zone, read with a normal error of `sigma` mm. */
export function threadDensity(row: ThreadRow, key: StudKey, value: number, sigma: number): number {
  switch (key) {
    case 'majorDiameterMm': return zoneDensity(value, row.majorMinMm, row.majorMaxMm, sigma);
    case 'pitchMm': return normalDensity(value, row.pitchMm, sigma);
    case 'nutAcrossFlatsMm': return NUTS.get(row)!.reduce((sum, { low, high, share }) => sum + share * zoneDensity(value, low, high, sigma), 0);
    default: throw new TypeError(`no likelihood for ${key satisfies never}`);
  }
}

/** How far a value lies outside what the thread's standard allows, in sigma; a nut may be any nut. */
export function threadDistance(row: ThreadRow, key: StudKey, value: number, sigma: number): number {
  switch (key) {
    case 'majorDiameterMm': return Math.max(0, row.majorMinMm - value, value - row.majorMaxMm) / sigma;
    case 'pitchMm': return Math.abs(value - row.pitchMm) / sigma;
    case 'nutAcrossFlatsMm': return 0;
    default: throw new TypeError(`no distance for ${key satisfies never}`);
  }
}

let foreseen: Readonly<Record<StudKey, Showings>> | undefined;

/** What each measurement not taken would show on the threads of the table, in its order. A constant, but one that takes milliseconds: made when first asked for. */
export function studShowings(): Readonly<Record<StudKey, Showings>> {
  foreseen ??= { majorDiameterMm: foreseeStud('majorDiameterMm'), pitchMm: foreseeStud('pitchMm'), nutAcrossFlatsMm: foreseeStud('nutAcrossFlatsMm') };
  return foreseen;
}

function foreseeStud(key: StudKey): Showings {
  const sigma = defaultSigma(STUD_INSTRUMENTS[key]);
  return foreseeShowings(THREADS, { sigma, truths: (row) => truthsOf(row, key), density: (row, value) => threadDensity(row, key, value, sigma) });
}

function truthsOf(row: ThreadRow, key: StudKey): readonly { value: number; share: number }[] {
  switch (key) {
    case 'majorDiameterMm': return spread({ low: row.majorMinMm, high: row.majorMaxMm, share: 1 });
    case 'pitchMm': return [{ value: row.pitchMm, share: 1 }];
    case 'nutAcrossFlatsMm': return NUTS.get(row)!.slice(0, -1).map(({ low, high, share }) => ({ value: (low + high) / 2, share }));
    default: throw new TypeError(`no truths for ${key satisfies never}`);
  }
}

function spread({ low, high, share }: Zone): { value: number; share: number }[] {
  return [1, 3, 5].map((sixth) => ({ value: low + (high - low) * sixth / 6, share: share / 3 }));
}
