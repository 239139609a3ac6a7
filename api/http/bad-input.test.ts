import { afterAll, beforeAll, expect, test } from 'vitest';
import { LIMITS } from '../../catalog-schema/index.ts';
import { benchRecord, makeRelay, makeUuid, openTestApp, type TestApp } from './open-test-app.ts';
import type { Problem } from './problem.ts';

let server: TestApp;
beforeAll(async () => {
  server = await openTestApp();
  await server.post('/api/jobs', { id: makeUuid(1), title: 'Job', record: benchRecord, at: '2026-11-25T09:00:00Z' });
});
afterAll(() => server.close());

const POSTS = [
  '/api/identify', '/api/fit', '/api/rewire', '/api/jobs', `/api/jobs/${makeUuid(1)}/edits`, '/api/shelf/reservations', '/api/stock/moves', '/api/orders/lines',
  '/api/outcomes',
];

async function readProblem(response: Response): Promise<Problem> {
  expect(response.headers.get('content-type')).toBe('application/problem+json');
  const problem = await response.json() as Problem;
  expect(problem.status).toBe(response.status);
  return problem;
}

test.each(POSTS)('%s refuses text that is not JSON, nothing, and other kinds of body, naming the input as a whole', async (path) => {
  for (const [body, headers] of [
    ['{"record":', undefined], ['', undefined], ['{"a":NaN}', undefined], ['{}', { 'content-type': 'text/plain' }], ['a=1', { 'content-type': 'application/x-www-form-urlencoded' }],
  ] as const) {
    const problem = await readProblem(await server.post(path, body, headers));
    expect(problem.status).toBe(422);
    expect(problem.faults[0]).toMatchObject({ path: '' });
    expect(problem.faults[0]!.line).toMatch(/^input: found /);
  }
});

test.each(POSTS)('%s refuses a JSON value of another shape without failing', async (path) => {
  for (const body of ['null', '3', '"text"', '[]', '{}', '{"__proto__":1}', '{"constructor":{"prototype":1}}', '[[[[[[]]]]]]']) {
    const problem = await readProblem(await server.post(path, body));
    expect(problem.status, body).toBe(422);
    expect(problem.faults.length).toBeGreaterThan(0);
  }
});

test.each(POSTS)('%s refuses lists nested past any use', async (path) => {
  const problem = await readProblem(await server.post(path, `${'['.repeat(200_000)}${']'.repeat(200_000)}`));
  expect(problem.faults.map((fault) => fault.line)).toEqual(['input: found lists and objects more than 64 deep, want at most 64']);
});

test.each(POSTS)('%s takes a body of the limit’s size and refuses one byte more', async (path) => {
  const bodyOf = (bytes: number): string => `{"padding":"${'x'.repeat(bytes - 14)}"}`;
  expect(bodyOf(LIMITS.jsonRequestBytes).length).toBe(LIMITS.jsonRequestBytes);
  const within = await readProblem(await server.post(path, bodyOf(LIMITS.jsonRequestBytes)));
  expect(within.faults.every((fault) => !fault.line.includes('bytes'))).toBe(true);
  const over = await readProblem(await server.post(path, bodyOf(LIMITS.jsonRequestBytes + 1)));
  expect(over.status).toBe(422);
  expect(over.faults[0]!.line).toMatch(/^input: found .*bytes, want at most 5000000 bytes$/);
});

test('every fault of a record is one line with its path', async () => {
  const record = { ...benchRecord, system: { nominalV: '12' }, terminals: [{ id: 'B', form: 'stud', pitchMm: -1, colour: 'red' }] };
  const problem = await readProblem(await server.post('/api/fit', { record }));
  expect(problem.faults.map((fault) => fault.path)).toEqual(expect.arrayContaining(['record.system.nominalV', 'record.terminals[0].pitchMm', 'record.terminals[0].colour']));
  expect(problem.faults.map((fault) => fault.line)).toContain('record.system.nominalV: found "12", want a number');
  expect(problem.detail.split('\n')).toEqual(problem.faults.map((fault) => fault.line));
});

test('a part to rewire is given once: its faults are named where they are, none or two are refused', async () => {
  const linesOf = async (body: object): Promise<string[]> => (await readProblem(await server.post('/api/rewire', { record: benchRecord, ...body }))).faults.map((fault) => fault.line);
  const { title: _title, ...untitled } = makeRelay('p1');
  expect(await linesOf({ part: { ...untitled, price: 3, circuit: 'none' } })).toEqual([
    'part.title: found nothing, want text', 'part.circuit: found "none", want a list', 'part.price: found a key that is not known, want it left out',
  ]);
  expect(await linesOf({})).toEqual(['partId: found nothing, want the id of a part, or part']);
  expect(await linesOf({ part: makeRelay('p1'), partId: 'p1' })).toEqual(['partId: found "p1", want it left out beside part']);
  expect(await linesOf({ partId: 'nope' })).toEqual(['partId: found "nope", want the id of a part of the catalogue']);
});

test('a refused edit stores nothing', async () => {
  const edit = { id: makeUuid(50), field: ['record', 'system', 'nominalV'], value: 'twelve', base: 2, at: '2026-11-25T10:00:00Z' };
  expect((await server.post(`/api/jobs/${makeUuid(1)}/edits`, { edits: [edit] })).status).toBe(422);
  expect((await (await server.get(`/api/jobs/${makeUuid(1)}/edits`)).json() as unknown[]).length).toBe(2);
});

test.each([
  ['/api/find', 'text'], [`/api/find?text=${'x'.repeat(2_001)}`, 'text'], ['/api/find?text=a&text=b', 'text'], ['/api/find?text=a&limit=3', 'limit'],
  ['/api/shelf/reservations?jobId=3', 'jobId'], ['/api/stock?part=3', 'part'], ['/api/stock/moves?after=-1', 'after'], ['/api/orders/lines?jobId=', 'jobId'], ['/api/outcomes?jobId=x', 'jobId'], ['/api/find?text=a&__proto__=1', '__proto__'],
])('the query of %s is refused at %s', async (path, at) => {
  const problem = await readProblem(await server.get(path));
  expect(problem.status).toBe(422);
  expect(problem.faults.map((fault) => fault.path)).toContain(at);
});

test.each([
  ['GET', '/api/nothing'], ['GET', '/api'], ['PUT', '/api/jobs'], ['PATCH', '/api/fit'], ['DELETE', '/api/catalogue'], ['GET', '/api/fit'],
  ['GET', `/api/jobs/${makeUuid(99)}`], ['GET', '/api/jobs/not-an-id'], ['GET', `/api/jobs/${makeUuid(99)}/edits`],
  ['GET', '/api/catalogue/parts/nope'], ['GET', '/api/catalogue/parts/%E0%A4%A'], ['GET', '/api/catalogue/parts/%00'], ['GET', '/api/jobs/%ED%A0%80'],
  ['DELETE', '/api/shelf/reservations/nope'], ['DELETE', `/api/orders/lines/${makeUuid(99)}`], ['GET', '/nothing-here.js'],
])('%s %s is not found, and says so', async (method, path) => {
  const problem = await readProblem(await server.app.request(path, { method }));
  expect(problem.status).toBe(404);
});

test('a page of another site cannot change anything, a page of ours and a program can', async () => {
  const reserve = (headers: Record<string, string>): Promise<Response> => (
    server.post('http://localhost:8100/api/shelf/reservations', '{}', { 'content-type': 'application/json', host: 'localhost:8100', ...headers })
  );
  expect((await readProblem(await reserve({ origin: 'https://elsewhere.test' }))).status).toBe(403);
  expect((await readProblem(await reserve({ origin: 'null' }))).status).toBe(403);
  expect((await reserve({ origin: 'http://localhost:8100' })).status).toBe(422);
  expect((await reserve({})).status).toBe(422);
});

test('none of this made the program fail', () => {
  expect(server.failures).toEqual([]);
});
