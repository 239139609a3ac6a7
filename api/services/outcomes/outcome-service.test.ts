import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import type { OutcomeReport } from '../../../catalog-schema/index.ts';
import type { Services } from '../open-services.ts';
import { openTestServices } from '../open-test-services.ts';
import { makeId, makeJob, makePart } from '../sample-data.ts';

let services: Services;
let remove: () => Promise<void>;
let folder: string;

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'lugwright-outcomes-'));
  mkdirSync(join(folder, 'parts'));
  writeFileSync(join(folder, 'parts', 'a.json'), JSON.stringify([makePart('p1'), makePart('p2')]));
  ({ services, remove } = await openTestServices({ demoFolder: folder }));
  for (const [n, machine] of [[1, 'Hedge shredder, petrol'], [2, 'HEDGE-SHREDDER (the green one)'], [3, undefined]] as const) {
    await services.jobs.create(makeJob(n, { machine }));
  }
});
afterEach(async () => {
  await remove();
  rmSync(folder, { recursive: true });
});

const report = (n: number, job: number, more: Partial<OutcomeReport> = {}): OutcomeReport => (
  { id: makeId(n, 7), jobId: makeId(job), partId: 'p1', result: 'held', at: '2026-11-25T10:00:00Z', ...more }
);
const backReport = (n: number, job: number, more: Partial<OutcomeReport> = {}): OutcomeReport => report(n, job, { result: 'came-back', reason: 'failed', ...more });

test('a report is kept with the kind of machine of its job, and a repeat changes nothing', async () => {
  const first = await services.outcomes.report(report(1, 1, { words: 'six weeks on', by: 'Ans' }));
  expect(first).toEqual({ ok: true, value: { created: true, outcome: { ...report(1, 1), words: 'six weeks on', by: 'Ans', machineKind: 'hedge shredder' } } });
  expect(await services.outcomes.report(backReport(1, 2))).toEqual({ ok: true, value: { created: false, outcome: (first as { value: { outcome: object } }).value.outcome } });
  expect(await services.outcomes.list()).toHaveLength(1);
});

test('reports of one job are listed in the order in which they came', async () => {
  for (const each of [report(1, 1), backReport(2, 1), report(3, 2)]) await services.outcomes.report(each);
  expect((await services.outcomes.list(makeId(1))).map(({ result }) => result)).toEqual(['held', 'came-back']);
});

test('alike machines are summed together, and the last report on one part of one job counts', async () => {
  for (const each of [report(1, 1), report(2, 2), backReport(3, 2), backReport(4, 3, { partId: 'p2' }), report(5, 3)]) await services.outcomes.report(each);
  expect(await services.outcomes.history()).toEqual([
    { partId: 'p1', machineKind: 'hedge shredder', held: 1, cameBack: 1 },
    { partId: 'p1', held: 1, cameBack: 0 },
    { partId: 'p2', held: 0, cameBack: 1 },
  ]);
});

test('a machine that came back for a fault elsewhere says nothing about the part', async () => {
  await services.outcomes.report(backReport(1, 1, { reason: 'fault-elsewhere' }));
  expect(await services.outcomes.history()).toEqual([]);
});

test.each([[{ partId: 'none' }, 'partId'], [{ jobId: makeId(99) }, 'jobId']])('a report on nothing is refused: %o', async (more, path) => {
  const outcome = await services.outcomes.report(report(1, 1, more));
  expect(outcome).toMatchObject({ ok: false, refusal: { kind: 'faults', faults: [{ path }] } });
  expect(await services.outcomes.list()).toEqual([]);
});

test('what held and what came back is told by the numbers marked on the parts they replaced', async () => {
  const marked = (n: number, numbers: string[]) => makeJob(n, { record: { ...makeJob(n).record, marked: { numbers } } });
  for (const job of [marked(11, ['OLD 77', 'B/2']), marked(12, ['OLD 77'])]) await services.jobs.create(job);
  for (const each of [report(1, 11), backReport(2, 12), report(3, 1), backReport(4, 2, { reason: 'fault-elsewhere' })]) await services.outcomes.report(each);
  expect(await services.outcomes.replacements()).toEqual([
    { partId: 'p1', number: 'B/2', held: 1, cameBack: 0 }, { partId: 'p1', number: 'OLD 77', held: 1, cameBack: 1 }, { partId: 'p1', held: 2, cameBack: 1 },
  ]);
  const found = await services.bench.find('old77');
  expect(found).toMatchObject({ ok: true, value: { hits: [{ partId: 'p1', how: 'replaces', number: 'OLD 77', shop: { held: 1, cameBack: 1, forNumber: true } }] } });
});
