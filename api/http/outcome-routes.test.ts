import { afterAll, beforeAll, expect, test } from 'vitest';
import type { FitAnswer, PartOutcome } from '../../catalog-schema/index.ts';
import { benchRecord, makeUuid, openTestApp, type TestApp } from './open-test-app.ts';

let server: TestApp;
beforeAll(async () => {
  server = await openTestApp();
  await server.post('/api/jobs', { id: makeUuid(1), title: 'Job', machine: 'Hedge shredder, petrol', record: benchRecord, at: '2026-11-25T09:00:00Z' });
});
afterAll(() => server.close());

const report = { id: makeUuid(70), jobId: makeUuid(1), partId: 'p1', result: 'came-back', reason: 'failed', at: '2026-11-25T10:00:00Z' };
const chanceOf = async (more: object): Promise<{ probability: number | null; cameBack: number | undefined }> => {
  const answer = await (await server.post('/api/fit', { record: benchRecord, all: true, ...more })).json() as FitAnswer;
  const fit = answer.fits.find(({ partId }) => partId === 'p1')!;
  return { probability: fit.fitProbability, cameBack: fit.learned?.cameBack };
};

test('an outcome is kept once however often it is sent, and from then on every fit counts it', async () => {
  const before = await chanceOf({ machineKind: 'hedge shredder' });
  expect(before.cameBack).toBeUndefined();
  expect((await server.post('/api/outcomes', report)).status).toBe(201);
  const again = await server.post('/api/outcomes', { ...report, reason: 'other' });
  expect(again.status).toBe(200);
  expect(await again.json()).toEqual({ ...report, machineKind: 'hedge shredder' });
  expect(await (await server.get(`/api/outcomes?jobId=${makeUuid(1)}`)).json() as PartOutcome[]).toHaveLength(1);
  expect(await (await server.get('/api/outcomes/history')).json()).toEqual([{ partId: 'p1', machineKind: 'hedge shredder', held: 0, cameBack: 1 }]);

  const after = await chanceOf({ machineKind: 'hedge shredder' });
  expect(after.cameBack).toBe(1);
  expect(after.probability!).toBeLessThan(before.probability!);
  // A history in the question stands in place of the shop's own.
  expect((await chanceOf({ machineKind: 'hedge shredder', history: [] })).probability).toBe(before.probability);
});

test.each([
  [{ result: 'came-back', reason: undefined }, 'reason'], [{ result: 'held' }, 'reason'], [{ result: 'lost' }, 'result'], [{ partId: 'none' }, 'partId'],
  [{ jobId: makeUuid(9) }, 'jobId'], [{ at: 'yesterday' }, 'at'], [{ machineKind: 'pump' }, 'machineKind'],
])('a report with %o is refused where it is wrong, and nothing is kept', async (more, path) => {
  const response = await server.post('/api/outcomes', { ...report, id: makeUuid(71), ...more });
  expect(response.status).toBe(422);
  expect((await response.json() as { faults: { path: string }[] }).faults.map((fault) => fault.path)).toContain(path);
  expect(await (await server.get('/api/outcomes')).json()).toHaveLength(1);
});
