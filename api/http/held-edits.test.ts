import { afterAll, beforeAll, expect, test } from 'vitest';
import { jobState, loggedEdit, type JobState } from '../../catalog-schema/index.ts';
import { benchRecord, makeUuid, openTestApp, type TestApp } from './open-test-app.ts';
import type { Problem } from './problem.ts';

// What two devices wrote in one field, at the door of HTTP; the rules themselves are tried where they stand, in catalog-schema/job.

let server: TestApp;
const JOB = makeUuid(1);
const [HERE, THERE] = [makeUuid(901), makeUuid(902)];
const at = '2026-11-25T10:00:00Z';
let n = 10;
beforeAll(async () => {
  server = await openTestApp();
  await server.post('/api/jobs', { id: JOB, title: 'Job', record: benchRecord, at });
});
afterAll(async () => {
  await server.close();
  expect(server.failures).toEqual([]);
});

async function send(device: string, base: number, field: string[], value: unknown, more: object = {}): Promise<{ status: number; job: JobState; problem: Problem }> {
  const response = await server.post(`/api/jobs/${JOB}/edits`, { edits: [{ id: makeUuid(n++), field, value, base, device, at, ...more }] });
  const body = await response.json() as unknown;
  return { status: response.status, job: body as JobState, problem: body as Problem };
}

test('both values of one field are answered, in the list too, until one is chosen', async () => {
  const first = await send(HERE, 2, ['record', 'wires', 'W1', 'colour'], 'RD', { author: 'Kim' });
  const second = await send(THERE, 2, ['record', 'wires', 'W1', 'colour'], 'BK', { author: 'Lee' });
  expect([first.status, second.status]).toEqual([200, 200]);
  const job = jobState.parse(second.job);
  expect(job.record.wires![0]!.colour).toBe('RD');
  expect(job.conflicts).toMatchObject([{ field: ['record', 'wires', 'W1', 'colour'], why: 'other-value', standing: { value: 'RD', author: 'Kim' }, held: { value: 'BK', author: 'Lee' } }]);
  expect(await (await server.get('/api/jobs')).json()).toEqual([job]);

  const signed = await send(HERE, job.revision, ['signedOff'], { at, by: 'Kim' });
  expect(signed.status).toBe(422);
  expect(signed.problem.faults.map((fault) => fault.line)).toEqual(['signedOff: found a sign-off, want the edit that waits for a choice settled first']);

  const settled = await send(HERE, job.revision, ['record', 'wires', 'W1', 'colour'], 'BK', { settles: [job.conflicts[0]!.editId] });
  expect(settled.job).toMatchObject({ revision: 5, conflicts: [] });
  expect(settled.job.record.wires![0]!.colour).toBe('BK');
  const log = loggedEdit.array().parse(await (await server.get(`/api/jobs/${JOB}/edits`)).json());
  expect(log.slice(2).map(({ device, value }) => [device, value])).toEqual([[HERE, 'RD'], [THERE, 'BK'], [HERE, 'BK']]);
});

test('a device cannot say what only the server finds, and what it says has to hold together', async () => {
  const paths = async (more: object): Promise<string[]> => (await send(HERE, 5, ['notes'], 'x', more)).problem.faults.map((fault) => fault.path);
  expect(await paths({ heldFor: ['no'] })).toEqual(['edits[0].heldFor']);
  expect(await paths({ device: 'mine' })).toEqual(['edits[0].device']);
  expect(await paths({ settles: ['it'] })).toEqual(['edits[0].settles[0]']);
  expect(await paths({ act: makeUuid(9_999) })).toEqual(['edits[0].act']);
  expect(await paths({ base: 6 })).toEqual(['edits[0].base']);
});

test('the document says what a held edit is', async () => {
  const api = await (await server.get('/api/openapi.json')).json() as { components: { schemas: Record<string, { required?: string[] }> } };
  expect(api.components.schemas['JobState']!.required).toContain('conflicts');
  expect(Object.keys(api.components.schemas)).toEqual(expect.arrayContaining(['JobConflict', 'LoggedEdit']));
});
