import { readFileSync } from 'node:fs';
import type { Draws } from './random.ts';

// The world of the simulated studs: what threads there are, how they are made and how they are read. Facts are those of the standards
// (ISO 261, ISO 965-1, ASME B1.1, ISO 4032, ASME B18.2.2), read from the data files alone; how common things are and how well people
// read is invented here, on purpose not what the product believes: other shares, a zone that is not filled evenly, instruments that
// are a little worse than they claim and a little off zero (common practice, no source).

interface Fact { readonly designation: string; readonly quantity: string; readonly value: number | string }

interface Nut { readonly leastMm: number; readonly mostMm: number; readonly weight: number }
export interface TrueThread {
  readonly name: string;
  readonly pitchMm: number;
  readonly leastMm: number;
  readonly mostMm: number;
  readonly nuts: readonly Nut[];
  readonly weight: number;
}

/** Zero error and sigma of what is read, mm; `claimedMm` is the half-width written in the record. */
export const INSTRUMENTS = {
  caliper: { offMm: 0.004, sigmaMm: 0.028, claimedMm: 0.05 },
  pitch: { offMm: 0.002, sigmaMm: 0.012, claimedMm: 0.02 },
  nut: { offMm: -0.01, sigmaMm: 0.085, claimedMm: 0.15 },
} as const;
export type Instrument = keyof typeof INSTRUMENTS;

/** A share of the nuts is of no listed width. */
export const STRAY_NUTS = { share: 0.035, leastMm: 4, mostMm: 26 };
/** Where in its tolerance zone a thread is made: a triangle from the least to the most, its peak a little below the middle. */
export const PEAK_OF_ZONE = 0.45;
/** Weights of UNF and of metric fine against coarse, of second-choice sizes, and of sizes seldom seen on a bench. */
const WEIGHTS = { unf: 0.42, fine: 0.16, secondChoice: 0.26, seldom: 0.5, plainNut: 4.5 };

export const TRUE_THREADS: readonly TrueThread[] = readThreads();

function readFacts(file: string): Map<string, Map<string, number | string>> {
  const facts = JSON.parse(readFileSync(new URL(`../../catalog-schema/reference/${file}`, import.meta.url), 'utf8')) as Fact[];
  const grouped = new Map<string, Map<string, number | string>>();
  for (const { designation, quantity, value } of facts) {
    const own = grouped.get(designation) ?? new Map<string, number | string>();
    own.set(quantity, value);
    grouped.set(designation, own);
  }
  return grouped;
}

function readThreads(): TrueThread[] {
  const hexagons = [...readFacts('hexagons.json')].map(([designation, own]) => {
    const [size = '', ...what] = designation.split(' ');
    return { size, what: what.join(' '), mostMm: Number(own.get('across_flats_nom(max)')), leastMm: Number(own.get('across_flats_min') ?? NaN) };
  }).filter(({ what }) => what.includes('nut'));
  const threads: TrueThread[] = [];
  for (const [designation, own] of readFacts('threads.json')) {
    if (!own.has('nominal_major_diameter')) continue;
    const metric = designation.startsWith('M');
    const [written = '', series = ''] = designation.split(' ');
    const pitchMm = metric ? Number(own.get('pitch')) : 25.4 / Number(own.get('tpi'));
    const size = metric ? written.split('x')[0]! : written.slice(0, written.lastIndexOf('-'));
    const name = metric ? `${size}x${pitchMm}` : written;
    const most = new Map<number, Nut>();
    for (const nut of hexagons.filter((each) => each.size === size || each.size === name)) {
      const plain = ['hex nut', 'hex nut style 1', 'hex nut fine', 'hex machine-screw nut'].includes(nut.what);
      const before = most.get(nut.mostMm);
      const leastMm = Number.isNaN(nut.leastMm) ? nut.mostMm * 0.975 : nut.leastMm;
      most.set(nut.mostMm, {
        mostMm: nut.mostMm, leastMm: Math.min(leastMm, before?.leastMm ?? leastMm),
        weight: Math.max(plain ? WEIGHTS.plainNut : 1, before?.weight ?? 0),
      });
    }
    const fine = metric ? (written.includes('x') ? WEIGHTS.fine : 1) : series === 'UNF' ? WEIGHTS.unf : 1;
    const secondChoice = ['M3.5', 'M7', '#5', '#12'].includes(size) ? WEIGHTS.secondChoice : 1;
    const seldom = ['M3', '#4', '#6', 'M12', '7/16', '1/2'].includes(size) ? WEIGHTS.seldom : 1;
    threads.push({
      name, pitchMm, nuts: [...most.values()], weight: fine * secondChoice * seldom,
      leastMm: Number(own.get(metric ? 'major_dia_min_6g' : 'major_dia_min_2A')), mostMm: Number(own.get(metric ? 'major_dia_max_6g' : 'major_dia_max_2A')),
    });
  }
  return threads;
}

export type StudReadings = Partial<Record<Instrument, number>>;
export interface Stud { readonly thread: TrueThread; readonly readings: Readonly<Record<Instrument, number>> }

/** One stud, and what each instrument shows on it, mm. */
export function drawStud(draws: Draws): Stud {
  const thread = draws.pick(TRUE_THREADS, ({ weight }) => weight);
  const listed = thread.nuts.length > 0 && !draws.chance(STRAY_NUTS.share);
  const nut = listed ? draws.pick(thread.nuts, ({ weight }) => weight) : STRAY_NUTS;
  const read = (instrument: Instrument, trueMm: number): number => {
    const { offMm, sigmaMm } = INSTRUMENTS[instrument];
    return Math.round((trueMm + offMm + sigmaMm * draws.normal()) * 1000) / 1000;
  };
  return {
    thread,
    readings: {
      caliper: read('caliper', thread.leastMm + (thread.mostMm - thread.leastMm) * drawPlace(draws.unit())),
      pitch: read('pitch', thread.pitchMm),
      nut: read('nut', draws.between(nut.leastMm, nut.mostMm)),
    },
  };
}

/** The triangle by its inverse distribution: 0 at the least diameter, 1 at the most. */
function drawPlace(share: number): number {
  return share < PEAK_OF_ZONE ? Math.sqrt(share * PEAK_OF_ZONE) : 1 - Math.sqrt((1 - share) * (1 - PEAK_OF_ZONE));
}
