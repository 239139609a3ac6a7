import { FAULTS, proveCaseOf, type CrankFault, type FaultShares, type FaultSharesAnswer, type FaultSharesEdit, type JobState } from '../../../catalog-schema/index.ts';
import { learnShares } from '../../engine/index.ts';
import { listFaultShares, replaceFaultShares, type Store } from '../../store/index.ts';
import type { BenchService } from '../bench/bench-service.ts';
import type { Clock } from '../clock.ts';
import type { JobService } from '../jobs/job-service.ts';

/** How often each fault is found here: as the shop set it, and as its closed jobs taught. */
export interface FaultSharesService {
  /** With every closed job weighed. */
  read(): Promise<FaultSharesAnswer>;
  /** Puts the shop's own in place of those it had. */
  write(edit: FaultSharesEdit): Promise<FaultSharesAnswer>;
  /** What a proof goes by now; undefined where the shop has set nothing and learned nothing. Does not wait for jobs that were not weighed yet. */
  current(): Promise<FaultShares | undefined>;
}

/** Jobs closed since are weighed when a proof is asked for after this long. */
const STALE_MS = 60_000;

export function createFaultSharesService(store: Store, jobs: Pick<JobService, 'list'>, bench: Pick<BenchService, 'prove'>, clock: Clock): FaultSharesService {
  /** what each closed job proved, by its id; the revision says whether it still is that job */
  const weighed = new Map<string, { readonly revision: number; readonly fault: CrankFault | null }>();
  let own: FaultShares | undefined;
  let weighing: Promise<void> | undefined;

  const readOwn = async (): Promise<FaultShares> => own ??= Object.fromEntries((await listFaultShares(store.db)).map(({ fault, share }) => [fault, share])) as FaultShares;

  /** Weighed by the product's own shares: what was learned must not teach itself. */
  const weighOne = async (job: JobState): Promise<void> => {
    const { crankCase } = proveCaseOf(job);
    if (crankCase.seen.length === 0) {
      weighed.set(job.id, { revision: job.revision, fault: null });
      return;
    }
    const answer = await bench.prove(crankCase);
    // While too much is being computed the job is left for the next time.
    if (answer.ok) weighed.set(job.id, { revision: job.revision, fault: answer.value.proven });
  };

  const weighAll = async (): Promise<void> => {
    const closed = (await jobs.list()).filter(({ document }) => document.signedOff !== undefined);
    const ids = new Set(closed.map(({ id }) => id));
    for (const id of weighed.keys()) if (!ids.has(id)) weighed.delete(id);
    for (const job of closed) if (weighed.get(job.id)?.revision !== job.revision) await weighOne(job);
  };

  let weighedAt = Number.NEGATIVE_INFINITY;
  /** One at a time; who asks while it runs gets that one. */
  const weigh = (): Promise<void> => weighing ??= weighAll().finally(() => {
    weighing = undefined;
    weighedAt = clock.now().getTime();
  });

  const sum = async (): Promise<FaultSharesAnswer> => {
    const counts = Object.fromEntries(FAULTS.map((fault) => [fault, 0])) as Record<CrankFault, number>;
    for (const { fault } of weighed.values()) if (fault !== null) counts[fault]++;
    return learnShares(await readOwn(), counts);
  };

  return {
    read: async () => {
      await weigh();
      return sum();
    },
    write: async ({ own: wanted, by, at }) => {
      const rows = FAULTS.flatMap((fault) => (wanted[fault] === undefined ? [] : [{ fault, share: wanted[fault], by: by ?? null, at }]));
      await store.transact((tx) => replaceFaultShares(tx, rows));
      own = wanted;
      await weigh();
      return sum();
    },
    current: async () => {
      // Nobody waits for it, and what fails here fails aloud for whoever reads.
      if (clock.now().getTime() - weighedAt >= STALE_MS) void weigh().catch(() => undefined);
      const answer = await sum();
      return Object.keys(answer.own).length > 0 || answer.used.some(({ n }) => n > 0) ? answer.shares : undefined;
    },
  };
}
