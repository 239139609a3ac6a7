import type { Act, KeptAnswer, WaitingItem } from '../client/index.ts';
import type { KeptPhotograph, KeptRequest } from './kept-shapes.ts';
import type { Database } from './open-database.ts';

/** What names a waiting item: the store it lies in, and its key there. */
export type WaitingKey = { readonly store: 'edits'; readonly jobId: string } | { readonly store: 'requests'; readonly key: number }
  | { readonly store: 'photographs'; readonly jobId: string; readonly hash: string };

export function writeKey(key: WaitingKey): string { return JSON.stringify(key); }
export function readKey(text: string): WaitingKey { return JSON.parse(text) as WaitingKey; }

/** Everything on this device that the server does not have, the longest waiting first: changes one line a job, the rest one each. */
export async function listWaiting(database: Database, sentBytesOf: (jobId: string, hash: string) => number): Promise<WaitingItem[]> {
  const reading = database.transaction(['edits', 'requests', 'photographs']);
  const [acts, requests, requestKeys, photographs] = await Promise.all([
    reading.objectStore('edits').getAll(), reading.objectStore('requests').getAll(), reading.objectStore('requests').getAllKeys(),
    reading.objectStore('photographs').index('waiting').getAll(),
  ]);
  return [
    ...describeActs(acts), ...requests.map((request, index) => describeRequest(request, requestKeys[index]!)),
    ...photographs.map((photograph) => describePhotograph(photograph, sentBytesOf(photograph.jobId, photograph.hash))),
  ].toSorted((a, b) => (a.since < b.since ? -1 : a.since > b.since ? 1 : 0));
}

function describeActs(acts: readonly Act[]): WaitingItem[] {
  return [...new Set(acts.map((act) => act.jobId))].map((jobId) => {
    const own = acts.filter((act) => act.jobId === jobId);
    const answer = own.find((act) => act.answer !== undefined)?.answer;
    return {
      key: writeKey({ store: 'edits', jobId }), what: 'changes', jobId, count: own.length,
      since: own.reduce((oldest, { at }) => (at < oldest ? at : oldest), own[0]!.at), ...withAnswer(answer),
    };
  });
}

function describeRequest(request: KeptRequest, key: number): WaitingItem {
  const { answer, jobId, at, ...errand } = request;
  return { key: writeKey({ store: 'requests', key }), what: errand.kind, jobId, count: 1, since: at, errand, ...withAnswer(answer) };
}

function describePhotograph({ jobId, hash, picture, waitingSince, at, answer }: KeptPhotograph, sentBytes: number): WaitingItem {
  return {
    key: writeKey({ store: 'photographs', jobId, hash }), what: 'photograph', jobId, count: 1, since: waitingSince ?? at,
    photograph: { hash, bytes: picture.size, sentBytes }, ...withAnswer(answer),
  };
}

function withAnswer(answer: KeptAnswer | undefined): { answer?: KeptAnswer } {
  return answer === undefined ? {} : { answer };
}
