import {
  LIMITS, machineKindOf, type CameBackReason, type FitHistory, type JobDocument, type OutcomeReport, type PartOutcome, type ReplacementRow, type Replacements,
} from '../../../catalog-schema/index.ts';
import { findJob, findOutcome, insertOutcome, listLastOutcomes, listLastOutcomesWithMarks, listOutcomes, type OutcomeRow, type Store } from '../../store/index.ts';
import type { CatalogueService } from '../catalogue/catalogue-service.ts';
import { done, refuseFault, type Outcome } from '../outcome.ts';

/** What became of fitted parts: kept for ever, and summed into what the shop has learned. */
export interface OutcomeService {
  /** Every report in the order in which it came in, or those of one job. */
  list(jobId?: string): Promise<PartOutcome[]>;
  /** Keeps a report. A repeated id changes nothing and answers `created` false. */
  report(report: OutcomeReport): Promise<Outcome<{ created: boolean; outcome: PartOutcome }>>;
  /** What has been learned, by part and kind of machine: the last report on each part of each job counts. */
  history(): Promise<FitHistory>;
  /** What has been found of parts, and of each in place of the numbers that were marked on the parts it replaced. */
  replacements(): Promise<Replacements>;
}

export function createOutcomeService(store: Store, catalogue: CatalogueService): OutcomeService {
  return {
    list: async (jobId) => (await listOutcomes(store.db, jobId)).map(readRow),
    report: (report) => store.transact(async (tx) => {
      const present = await findOutcome(tx, report.id);
      if (present) return done({ created: false, outcome: readRow(present) });
      if (!catalogue.current().byId.has(report.partId)) return refuseFault('partId', JSON.stringify(report.partId), 'the id of a part of the catalogue');
      const job = await findJob(tx, report.jobId);
      if (!job) return refuseFault('jobId', JSON.stringify(report.jobId), 'the id of a job');
      const row = writeOutcomeRow(report, machineKindOf((JSON.parse(job.document) as JobDocument).machine));
      await insertOutcome(tx, row);
      return done({ created: true, outcome: readRow(row) });
    }),
    replacements: async () => sumReplacements((await listLastOutcomesWithMarks(store.db)).map(({ marked, ...row }) => ({ ...readRow(row), marked: readMarked(marked) }))),
    history: async () => sumOutcomes((await listLastOutcomes(store.db)).map(readRow)),
  };
}

/**
 * Counts of parts that held and of parts that came back, by part and kind of machine, in order of both. A machine that came back for a
 * fault elsewhere says nothing about the part: it is not counted.
 */
export function sumOutcomes(outcomes: readonly PartOutcome[]): FitHistory {
  const sums = new Map<string, FitHistory[number]>();
  for (const { partId, machineKind, result, reason } of outcomes) {
    if (reason === 'fault-elsewhere') continue;
    const key = JSON.stringify([partId, machineKind]);
    const sum = sums.get(key) ?? { partId, ...(machineKind === undefined ? {} : { machineKind }), held: 0, cameBack: 0 };
    sums.set(key, result === 'held' ? { ...sum, held: sum.held + 1 } : { ...sum, cameBack: sum.cameBack + 1 });
  }
  return [...sums].toSorted(([a], [b]) => (a < b ? -1 : 1)).map(([, sum]) => sum);
}

/** Counts as `sumOutcomes`, of each part all in all and by number, in order of both; numbers as they were written on the job. */
export function sumReplacements(outcomes: readonly (PartOutcome & { readonly marked: readonly string[] })[]): Replacements {
  const sums = new Map<string, ReplacementRow>();
  for (const { partId, marked, result, reason } of outcomes) {
    if (reason === 'fault-elsewhere') continue;
    for (const number of [undefined, ...new Set(marked)]) {
      const key = JSON.stringify([partId, number]);
      const sum = sums.get(key) ?? { partId, ...(number === undefined ? {} : { number }), held: 0, cameBack: 0 };
      sums.set(key, result === 'held' ? { ...sum, held: sum.held + 1 } : { ...sum, cameBack: sum.cameBack + 1 });
    }
  }
  return [...sums].toSorted(([a], [b]) => (a < b ? -1 : 1)).map(([, sum]) => sum).slice(0, LIMITS.historyRows);
}

function readMarked(marked: string | null): string[] {
  const numbers: unknown = marked === null ? [] : JSON.parse(marked);
  return Array.isArray(numbers) ? numbers.filter((number) => typeof number === 'string') : [];
}

function readRow({ machineKind, reason, words, by, ...row }: OutcomeRow): PartOutcome {
  return {
    ...row, ...(machineKind === null ? {} : { machineKind }), ...(reason === null ? {} : { reason: reason as CameBackReason }),
    ...(words === null ? {} : { words }), ...(by === null ? {} : { by }),
  };
}

/** A report as it is stored. */
export function writeOutcomeRow({ reason, words, by, id, jobId, partId, result, at }: OutcomeReport, machineKind: string | undefined): OutcomeRow {
  return { id, jobId, partId, result, at, reason: reason ?? null, machineKind: machineKind ?? null, words: storable(words), by: storable(by) };
}

/** Half a surrogate pair cannot be stored as text. */
function storable(text: string | undefined): string | null {
  return text?.replace(/\p{Surrogate}/gu, '\uFFFD') ?? null;
}
