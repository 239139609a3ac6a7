import type { BenchRecord, FitFilter, FitHistory, PartClass, Prices } from '../../../catalog-schema/index.ts';
import { createRewirer, type Rewirer, type WiringMemory } from '../rewire/index.ts';
import { createSupply, type Supply } from '../source/index.ts';
import type { CatalogueSample } from './catalogue-sample.ts';
import { ClassFrequency } from './class-frequency.ts';
import { createCoilMedian } from './coil-median.ts';
import { readCostTerms, type CostTerms } from './expected-cost.ts';
import { gatherLearned, type LearnedPart } from './learned.ts';
import { gatherNumberEvidence, type NumberEvidence } from './marked-number.ts';
import { PlacementFinder } from './mounting.ts';
import { plainChecksFor } from './plain-checks.ts';
import { RemovedPart } from './removed-part.ts';

export interface FitOptions {
  /** shelf, suppliers, offers and rates: fits are then ordered by what each is expected to cost */
  readonly prices?: Prices | undefined;
  /** list the parts that will not do as well */
  readonly all?: boolean | undefined;
  /** list at most so many; what to measure next, cautions and assumptions then speak of those alone */
  readonly most?: number | undefined;
  readonly only?: FitFilter | undefined;
  /** what the shop has learned of parts */
  readonly history?: FitHistory | undefined;
  /** the kind of machine at hand, as the history writes it */
  readonly machineKind?: string | undefined;
}

/** One machine short of one part, made ready to be asked about many parts. */
export interface FitMachine {
  readonly record: BenchRecord;
  readonly options: FitOptions;
  /** also the parts that fail a check: they are evaluated to the end */
  readonly all: boolean;
  /** the machine is short of a starter motor */
  readonly starter: boolean;
  readonly placements: PlacementFinder;
  readonly rewirer: Rewirer;
  readonly frequency: ClassFrequency;
  /** by part id */
  readonly numbers: ReadonlyMap<string, NumberEvidence>;
  readonly learned: ReadonlyMap<string, LearnedPart>;
  /** which part was removed, in a catalogue that is small enough to weigh each part of the class */
  readonly removed: RemovedPart | undefined;
  readonly cost: CostTerms | undefined;
}

/**
 * @param supply the prices, where they were made ready before
 * @param wirings what is known of the catalogue's forms of wiring from other records
 */
export function createMachine(record: BenchRecord, sample: CatalogueSample, options: FitOptions, supply?: Supply, wirings?: WiringMemory): FitMachine {
  const { prices, only, history = [], machineKind } = options;
  const starter = isStarterWanted(record);
  const numbers = gatherNumberEvidence(record, sample);
  return {
    record, options, all: options.all === true || only?.verdicts?.includes('no') === true, starter,
    placements: new PlacementFinder(record.mounting),
    rewirer: createRewirer(record, { findCoilOhm: createCoilMedian(() => sample.coilMedians), ...(wirings && { memory: wirings }) }),
    frequency: new ClassFrequency(record, sample, plainChecksFor(starter)),
    numbers,
    removed: seekRemoved(record, starter, sample, numbers),
    learned: gatherLearned(history, machineKind),
    cost: prices && readCostTerms(prices, supply ?? createSupply(prices)),
  };
}

const RELAYS: readonly PartClass[] = ['start-relay', 'contactor', 'plug-in-relay', 'shift-solenoid'];

function seekRemoved(record: BenchRecord, starter: boolean, sample: CatalogueSample, numbers: FitMachine['numbers']): RemovedPart | undefined {
  const classes = starter ? ['starter-motor' as const] : record.partClass === undefined ? RELAYS : [record.partClass];
  const kins = classes.flatMap((partClass) => sample.kinOf(partClass) ?? []);
  return kins.length < classes.length ? undefined : new RemovedPart(record, starter, kins, numbers);
}

/** Whether the machine is short of a starter: by the class of the removed part, or by what was measured on it. */
function isStarterWanted(record: BenchRecord): boolean {
  return record.partClass === undefined ? record.starter !== undefined : record.partClass === 'starter-motor';
}
