import { evidenceOf, proveCaseOf, type Evidence, type FaultShares, type JobState, type Part, type ProveAnswer, type ProveCase } from '../../../catalog-schema/index.ts';
import type { BenchService } from '../bench/bench-service.ts';
import type { CatalogueService } from '../catalogue/catalogue-service.ts';
import type { JobService } from '../jobs/job-service.ts';

export interface EvidenceService {
  /** What a job's evidence says of one of its parts, as the job stands; a job that is not there has none. `partId` absent: of any part at all. */
  ofJob(jobId: string, partId?: string): Promise<Evidence>;
  /** What the engine says of a job's case; undefined where nothing was seen, or while it is too busy to say. */
  proofOf(job: Pick<JobState, 'document' | 'record'>): Promise<ProveAnswer | undefined>;
}

/** Cases whose answer is kept: a list asks for the same few again and again. */
const KEPT = 500;

/** Each case is weighed once: an answer hangs on nothing but its case and the shop's shares of faults. */
export function createEvidenceService(jobs: Pick<JobService, 'read'>, catalogue: Pick<CatalogueService, 'current'>, bench: Pick<BenchService, 'prove'>, readShares: () => Promise<FaultShares | undefined>): EvidenceService {
  const kept = new Map<string, ProveAnswer>();

  const weigh = async (crankCase: ProveCase): Promise<ProveAnswer | undefined> => {
    const shares = await readShares();
    const key = JSON.stringify([crankCase, shares]);
    let answer = kept.get(key);
    if (answer === undefined) {
      const outcome = await bench.prove(crankCase, shares);
      // While too much is being computed nothing is known yet, and the next to ask tries again.
      if (!outcome.ok) return undefined;
      answer = outcome.value;
    }
    // What was asked for last stands last; the first is let go.
    kept.delete(key);
    kept.set(key, answer);
    if (kept.size > KEPT) kept.delete(kept.keys().next().value!);
    return answer;
  };

  const proofOf = async (job: Pick<JobState, 'document' | 'record'>): Promise<ProveAnswer | undefined> => {
    const { crankCase } = proveCaseOf(job);
    return crankCase.seen.length === 0 ? undefined : weigh(crankCase);
  };

  return {
    proofOf,
    ofJob: async (jobId, partId) => {
      const job = await jobs.read(jobId);
      const partClass: Part['partClass'] | undefined = partId === undefined ? undefined : catalogue.current().byId.get(partId)?.partClass;
      if (!job.ok) return evidenceOf({}, undefined, partClass);
      return evidenceOf(job.value.document, await proofOf(job.value), partClass);
    },
  };
}
