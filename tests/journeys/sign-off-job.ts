import { randomUUID } from 'node:crypto';
import type { APIRequestContext } from '@playwright/test';
import type { AsLeftAnswer, JobState, RewireAnswer } from '../../catalog-schema/index.ts';

// A job brought to its sign-off over HTTP, every step ticked and every interlock tested: for journeys that begin behind it.

/** Chooses a part with its first right wiring, ticks the whole checklist and signs; throws with the server's words where it refuses. */
export async function signOffJob(request: APIRequestContext, base: string, jobId: string, partId: string, by: string): Promise<JobState> {
  const at = new Date().toISOString();
  const job = `${base}/api/jobs/${jobId}`;
  const read = async <T>(url: string): Promise<T> => await (await request.get(url)).json() as T;
  const send = async (changes: readonly (readonly [string[], unknown])[]): Promise<JobState> => {
    const { revision } = await read<JobState>(job);
    const edits = changes.map(([field, value]) => ({ id: randomUUID(), field, value, base: revision, at, author: by }));
    const response = await request.post(`${job}/edits`, { data: { edits } });
    if (!response.ok()) throw new Error(await response.text());
    return await response.json() as JobState;
  };
  const { record } = await read<JobState>(job);
  const { plans } = await (await request.post(`${base}/api/rewire`, { data: { record, partId } })).json() as RewireAnswer;
  await send([[['chosen'], { partId, plan: plans[0] ?? null }]]);
  const { steps } = await read<AsLeftAnswer>(`${job}/as-left`);
  await send(steps.map((step) => [['asLeft', step.id], {
    at, by, of: step.of, ...(step.limit !== null ? { reading: step.limit.low ?? step.limit.high } : step.asksOutcome ? { outcome: 'good' } : {}),
  }]));
  const { signOff } = await read<AsLeftAnswer>(`${job}/as-left`);
  return send([[['signedOff'], { at, by, of: signOff.of }]]);
}
