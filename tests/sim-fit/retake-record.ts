import type { BenchRecord, FitAnswer, FitReading, Measured } from '../../catalog-schema/index.ts';
import type { Draws } from '../sim-identify/random.ts';
import { read, round, stray } from './take-record.ts';
import type { Machine } from './truth.ts';

// A technician who does what the answer asks: takes a reading once more with something finer, where one that was taken does not decide.

/** Half-widths sworn to; as with all instruments here the truth strays further. A better clamp 2 %, volts over amps 3 %, a caliper, a steel rule. */
const FINER = { clampShare: 0.02, pathShare: 0.03, pathOhm: 0.003, boltMm: 0.05, roomMm: 0.3 } as const;

const RETAKEN = ['inrush', 'continuous', 'path', 'bolts', 'room'] as const;
export type Retaken = (typeof RETAKEN)[number];
/** Questions and new readings of one record; more rounds than there are readings would ask for one twice. */
const MOST_ROUNDS = RETAKEN.length;

export interface Asked { readonly record: BenchRecord; readonly answer: FitAnswer; readonly retaken: readonly Retaken[] }

/** Asks, takes what the answer asks of the bench, each reading once, and asks again, until it asks for none that can be had finer. */
export function askAsAsked(machine: Machine, first: { record: BenchRecord; answer: FitAnswer }, draws: Draws, ask: (record: BenchRecord) => FitAnswer): Asked {
  let { record, answer } = first;
  const retaken = new Set<Retaken>();
  for (let turn = 0; turn < MOST_ROUNDS; turn++) {
    const wanted = RETAKEN.filter((each) => !retaken.has(each) && answer.measureNext.some((reading) => isFor(each, reading, record)));
    if (wanted.length === 0) break;
    for (const each of wanted) {
      record = retake(each, machine, record, draws);
      retaken.add(each);
    }
    answer = ask(record);
  }
  return { record, answer, retaken: [...retaken] };
}

function isFor(each: Retaken, { from, settles = [] }: FitReading, { demand, mounting, space }: BenchRecord): boolean {
  if (from === 'maker') return false;
  switch (each) {
    case 'inrush': return settles.includes('contact-inrush') && demand?.inrushA !== undefined;
    case 'continuous': return settles.includes('contact-continuous') && demand?.continuousA !== undefined;
    case 'path': return settles.includes('pull-in') || settles.includes('wiring') ? demand?.controlOhm !== undefined : false;
    case 'bolts': return settles.includes('mounting') && mounting !== undefined;
    case 'room': return settles.includes('space') && space !== undefined;
    default: throw new Error(`reading ${String(each satisfies never)} is not known`);
  }
}

function retake(each: Retaken, machine: Machine, record: BenchRecord, draws: Draws): BenchRecord {
  const clamp = (amps: number): Measured => read(amps, Math.max(0.2, FINER.clampShare * amps), 1, draws, false);
  switch (each) {
    case 'inrush': return { ...record, demand: { ...record.demand, inrushA: clamp(machine.inrushA) } };
    case 'continuous': return { ...record, demand: { ...record.demand, continuousA: clamp(machine.continuousA) } };
    case 'path': return { ...record, demand: { ...record.demand, controlOhm: read(machine.controlOhm, Math.max(FINER.pathOhm, FINER.pathShare * machine.controlOhm), 4, draws, false) } };
    case 'bolts': {
      const place = (mm: number): number => round(mm + stray(FINER.boltMm, 0.1, draws), 2);
      const holes = record.mounting!.holes.map((hole, i) => ({ ...hole, xMm: place(machine.bolts[i]!.x), yMm: place(machine.bolts[i]!.y) }));
      return { ...record, mounting: { ...record.mounting!, holes, plusMinusMm: FINER.boltMm } };
    }
    case 'room': {
      const rule = (mm: number): number => round(mm + stray(FINER.roomMm, 0.2, draws), 1);
      const { lengthMm, widthMm, heightMm } = machine.room;
      return { ...record, space: { lengthMm: rule(lengthMm), widthMm: rule(widthMm), heightMm: rule(heightMm), plusMinusMm: FINER.roomMm } };
    }
    default: throw new Error(`reading ${String(each satisfies never)} is not known`);
  }
}
