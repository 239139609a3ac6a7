import { proveCaseOf, type CarriedWithJob, type CustomerRecord } from '../../../catalog-schema/index.ts';
import { writeRecord } from '../../engine/index.ts';
import type { GatherFacts } from '../as-left/sign-off-check.ts';
import type { EvidenceService } from '../evidence/evidence-service.ts';
import type { JobService } from '../jobs/job-service.ts';
import { done, type Outcome } from '../outcome.ts';

export interface RecordService {
  /** The customer's page of a job as it stands. */
  read(jobId: string, unit: 'mm' | 'inch'): Promise<Outcome<CustomerRecord>>;
}

/** @param readCarried what came with a job from another shop */
export function createRecordService(jobs: JobService, gather: GatherFacts, evidence: EvidenceService, readCarried: (jobId: string) => Promise<CarriedWithJob>): RecordService {
  return {
    read: async (jobId, unit) => {
      const job = await jobs.read(jobId);
      if (!job.ok) return job;
      const { document, record, conflicts } = job.value;
      const { part } = await readCarried(jobId);
      const answer = await evidence.proofOf(job.value);
      return done(writeRecord({
        ...await gather(document, record, conflicts.length, part), unit,
        proof: answer === undefined ? undefined : { answer, keys: proveCaseOf(job.value).keys },
      }));
    },
  };
}
