import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { hc } from 'hono/client';
import { afterAll, beforeAll, expect, test } from 'vitest';
import {
  fitAnswer, findAnswer, identifyAnswer, jobState, orderLine, pricesSchema, reservation, rewireAnswer, shelfRow,
} from '../../catalog-schema/index.ts';
import type { AppType } from './app-type.ts';
import { benchRecord, makeRelay, makeUuid, openTestApp, type TestApp } from './open-test-app.ts';

let server: TestApp;
let screens: string;
beforeAll(async () => {
  screens = mkdtempSync(join(tmpdir(), 'lugwright-screens-'));
  mkdirSync(join(screens, 'assets'));
  writeFileSync(join(screens, 'index.html'), '<!doctype html><title>screens</title>');
  writeFileSync(join(screens, 'assets', 'app-1a2b.js'), `/* ${'x'.repeat(4_000)} */`);
  writeFileSync(join(screens, 'service-worker.js'), '/* keeps the page */');
  writeFileSync(join(screens, 'lugwright.webmanifest'), '{}');
  server = await openTestApp(screens);
});
afterAll(async () => {
  await server.close();
  rmSync(screens, { recursive: true });
  expect(server.failures).toEqual([]);
});

const at = '2026-11-25T09:00:00Z';

test('the catalogue is sent once and then only its unchanged tag', async () => {
  const first = await server.get('/api/catalogue');
  expect(await first.json()).toEqual([makeRelay('p1'), makeRelay('p2')]);
  const etag = first.headers.get('etag')!;
  for (const tag of [etag, `W/${etag}`, `"other", ${etag}`, '*']) {
    const again = await server.get('/api/catalogue', { 'if-none-match': tag });
    expect([again.status, await again.text()]).toEqual([304, '']);
  }
  expect((await server.get('/api/catalogue', { 'if-none-match': '"other"' })).status).toBe(200);
  expect(await (await server.get('/api/catalogue/parts/p2')).json()).toEqual(makeRelay('p2'));
});

test('large answers are compressed for whoever takes them so', async () => {
  const response = await server.get('/api/openapi.json', { 'accept-encoding': 'gzip' });
  expect(response.headers.get('content-encoding')).toBe('gzip');
  const script = await server.get('/assets/app-1a2b.js', { 'accept-encoding': 'gzip' });
  expect(script.headers.get('content-encoding')).toBe('gzip');
});

test('the engine answers each question in the contract’s shape', async () => {
  const ask = async (path: string, body: unknown): Promise<unknown> => {
    const response = await server.post(path, body);
    expect(response.status, path).toBe(200);
    return response.json();
  };
  const fits = fitAnswer.parse(await ask('/api/fit', { record: benchRecord, all: true }));
  expect(fits.considered).toBe(2);
  expect(fits.fits.map((fit) => fit.partId).toSorted()).toEqual(['p1', 'p2']);
  identifyAnswer.parse(await ask('/api/identify', benchRecord));
  const byId = rewireAnswer.parse(await ask('/api/rewire', { record: benchRecord, partId: 'p1' }));
  expect(byId.plans[0]).toMatchObject({ changes: 0 });
  expect(await ask('/api/rewire', { record: benchRecord, part: makeRelay('p1') })).toEqual(byId);
  const found = findAnswer.parse(await (await server.get('/api/find?text=N-p2')).json());
  expect(found.hits[0]).toMatchObject({ partId: 'p2' });
});

test('rewiring onto a part that is not in the catalogue names partId', async () => {
  const response = await server.post('/api/rewire', { record: benchRecord, partId: 'nope' });
  expect([response.status, await response.json()]).toMatchObject([422, { faults: [{ path: 'partId' }] }]);
});

test('a job is begun once, read, edited and listed', async () => {
  const job = { id: makeUuid(1), title: 'Job', customer: 'A yard', record: benchRecord, at };
  const begun = await server.post('/api/jobs', job);
  expect(begun.status).toBe(201);
  const state = jobState.parse(await begun.json());
  expect(state).toMatchObject({ revision: 3, record: benchRecord });
  const again = await server.post('/api/jobs', { ...job, title: 'Other' });
  expect([again.status, await again.json()]).toEqual([200, state]);

  const edits = [{ id: makeUuid(2), field: ['record', 'wires', 'W1', 'colour'], value: 'RD', base: 3, author: 'bench', at }];
  const edited = await server.post(`/api/jobs/${job.id}/edits`, { edits });
  expect([edited.status, jobState.parse(await edited.json()).revision]).toEqual([200, 4]);
  const repeated = await server.post(`/api/jobs/${job.id}/edits`, { edits });
  expect(jobState.parse(await repeated.json()).revision).toBe(4);
  expect((await (await server.get(`/api/jobs/${job.id}/edits`)).json() as unknown[])[3]).toEqual(edits[0]);
  expect(await (await server.get('/api/jobs')).json()).toEqual([await (await server.get(`/api/jobs/${job.id}`)).json()]);
});

test('a unit is reserved once, refused when none is free, and put back', async () => {
  const ask = { id: makeUuid(3), partId: 'p1', qty: 2, jobId: makeUuid(1), at };
  const made = await server.post('/api/shelf/reservations', ask);
  expect([made.status, reservation.parse(await made.json())]).toEqual([201, { ...ask, bin: 'A1' }]);
  expect((await server.post('/api/shelf/reservations', ask)).status).toBe(200);
  const refused = await server.post('/api/shelf/reservations', { ...ask, id: makeUuid(4), qty: 1 });
  expect([refused.status, await refused.json()]).toMatchObject([409, { detail: '1 of p1 asked for, 0 free', faults: [] }]);
  expect(shelfRow.array().parse(await (await server.get('/api/shelf')).json())[0]).toMatchObject({ free: 0 });
  expect(await (await server.get(`/api/shelf/reservations?jobId=${makeUuid(1)}`)).json()).toHaveLength(1);
  const released = await server.app.request(`/api/shelf/reservations/${ask.id}`, { method: 'DELETE' });
  expect([released.status, await released.text()]).toEqual([204, '']);
  expect(await (await server.get('/api/shelf/reservations')).json()).toEqual([]);
});

test('a line is drafted from the offer that stands, and nobody’s part cannot be ordered', async () => {
  const ask = { id: makeUuid(5), partId: 'p1', qty: 2, at };
  const drafted = await server.post('/api/orders/lines', ask);
  expect([drafted.status, orderLine.parse(await drafted.json())]).toMatchObject([201, { ...ask, supplierId: 's1', unitPrice: 12.5, currency: 'EUR', arrives: '2026-11-28', orderNumber: 1, state: 'draft' }]);
  expect((await server.post('/api/orders/lines', ask)).status).toBe(200);
  expect((await server.post('/api/orders/lines', { ...ask, id: makeUuid(6), partId: 'p2' })).status).toBe(409);
  expect(await (await server.get('/api/orders/lines')).json()).toHaveLength(1);
});

test('prices are ready to be sent with a fit', async () => {
  const prices = pricesSchema.parse(await (await server.get('/api/prices')).json());
  expect(prices).toMatchObject({ currency: 'EUR', today: '2026-11-25', offers: [{ partId: 'p1' }], suppliers: [{ id: 's1' }] });
  expect((await server.post('/api/fit', { record: benchRecord, prices })).status).toBe(200);
});

test('the typed client reaches every resource', async () => {
  const client = hc<AppType>('http://localhost', { fetch: (input: string | URL | Request, init?: RequestInit) => Promise.resolve(server.app.request(input as string, init)) });
  const health = await (await client.api.health.$get()).json();
  expect(health.status).toBe('ok');
  const part = await (await client.api.catalogue.parts[':id'].$get({ param: { id: 'p1' } })).json();
  expect(part.title).toBe('Relay p1');
  const found = await (await client.api.find.$get({ query: { text: 'N-p1' } })).json();
  expect(found.hits[0]?.partId).toBe('p1');
  const edits = await client.api.jobs[':id'].edits.$post({ param: { id: makeUuid(1) }, json: { edits: [{ id: makeUuid(7), field: ['notes'], value: 'x', base: 0, at }] } });
  expect((await edits.json()).document.notes).toBe('x');
});

test('screens are served with their own files kept for good, and every page address gets the first page', async () => {
  for (const path of ['/', '/jobs/3', '/counter', '/jobs/3/fits/pw-1.5', '/counter/fits/a.js']) {
    const page = await server.get(path);
    expect([page.status, await page.text()]).toEqual([200, '<!doctype html><title>screens</title>']);
    expect(page.headers.get('cache-control')).toBe('no-cache');
    expect(page.headers.get('content-security-policy')).toContain("default-src 'self'; script-src 'self'");
  }
  expect((await server.get('/assets/app-1a2b.js')).headers.get('cache-control')).toContain('immutable');
  // A browser has to hear of a newer version of these at once.
  for (const [path, type] of [['/service-worker.js', 'text/javascript'], ['/lugwright.webmanifest', 'application/manifest+json']] as const) {
    const file = await server.get(path);
    expect([file.headers.get('cache-control'), file.headers.get('content-type')?.split(';')[0]]).toEqual(['no-cache', type]);
  }
  expect((await server.get('/assets/missing.js')).status).toBe(404);
  expect((await server.get('/../package.json')).status).toBe(404);
  expect((await server.app.request('/jobs/3', { method: 'POST' })).status).toBe(404);
});
