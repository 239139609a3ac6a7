import { randomUUID } from 'node:crypto';
import type { AsLeftAnswer, CarriedWithJob, JobState } from '../../../catalog-schema/index.ts';
import { answerAsLeft, fingerprintWork } from '../../engine/index.ts';
import type { Clock } from '../clock.ts';
import type { JobService } from '../jobs/job-service.ts';
import { done, type Outcome } from '../outcome.ts';
import type { GatherFacts } from './sign-off-check.ts';

export interface AsLeftService {
  /** The checklist of a job as it stands, with what is still open before sign-off. */
  read(jobId: string, unit: 'mm' | 'inch'): Promise<Outcome<AsLeftAnswer>>;
  /** Signs a job off as it stands; refused with a fault for each thing that is open. */
  signOff(jobId: string, by: string): Promise<Outcome<JobState>>;
}

/** @param readCarried what came with a job from another shop */
export function createAsLeftService(jobs: JobService, gather: GatherFacts, clock: Clock, readCarried: (jobId: string) => Promise<CarriedWithJob>): AsLeftService {
  return {
    read: async (jobId, unit) => {
      const job = await jobs.read(jobId);
      if (!job.ok) return job;
      const { document, record, conflicts } = job.value;
      const { part } = await readCarried(jobId);
      return done(answerAsLeft({ ...await gather(document, record, conflicts.length, part), unit }));
    },
    signOff: async (jobId, by) => {
      const job = await jobs.read(jobId);
      if (!job.ok) return job;
      const { document, revision } = job.value;
      const at = clock.now().toISOString();
      const value = { at, by, of: fingerprintWork(document) };
      return jobs.append(jobId, [{ id: randomUUID(), field: ['signedOff'], value, base: revision, author: by, at }]);
    },
  };
}
