import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Hono } from 'hono';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { JobEdit, JobState, LoggedEdit, PartOutcome, PersonState, SessionState } from '../../../catalog-schema/index.ts';
import { openServices, type Services } from '../../services/index.ts';
import { createApp } from '../create-app.ts';
import { benchRecord, makeRelay, makeUuid } from '../open-test-app.ts';
import type { Problem } from '../problem.ts';

const KEY = 'k'.repeat(43);
const PIN = '493817';
const FAR = { remoteAddress: '192.168.7.20', localAddress: '192.168.7.5' };
const NEAR = { remoteAddress: '::ffff:127.0.0.1', localAddress: '::ffff:127.0.0.1' };

let folder: string;
let services: Services;
let open: Hono;
let closed: Hono;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'lugwright-access-'));
  mkdirSync(join(folder, 'parts'));
  writeFileSync(join(folder, 'parts', 'a.json'), JSON.stringify([makeRelay('p1')]));
  mkdirSync(join(folder, 'screens'));
  writeFileSync(join(folder, 'screens', 'index.html'), '<!doctype html>the screens');
  services = await openServices({ file: join(folder, 'test.sqlite'), demoFolder: folder });
  const screens = join(folder, 'screens');
  open = createApp({ services, screens, access: { network: true, hosts: () => new Set(['bench-pc', '192.168.7.5', 'fd12::7']), machineKey: KEY } });
  closed = createApp({ services, screens });
  for (const name of ['Ans', 'Bob']) await services.people.add(name, PIN);
  await services.jobs.create({ id: makeUuid(1), title: 'One', record: benchRecord as never, at: '2026-11-25T09:00:00Z' });
});
afterAll(async () => {
  await services.close();
  rmSync(folder, { recursive: true });
});

interface Asking { method?: string; body?: unknown; cookie?: string; headers?: Record<string, string>; socket?: object; base?: string; app?: Hono }

function ask(path: string, { method, body, cookie, headers = {}, socket = FAR, base = 'https://bench-pc:8143', app = open }: Asking = {}): Promise<Response> {
  const init = {
    method: method ?? (body === undefined ? 'GET' : 'POST'),
    headers: { ...(body === undefined ? {} : { 'content-type': 'application/json' }), ...(cookie === undefined ? {} : { cookie }), ...headers },
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
  };
  return Promise.resolve(app.request(`${base}${path}`, init, { incoming: { socket } }));
}
const typeOf = async (answer: Promise<Response>): Promise<string> => {
  const response = await answer;
  return response.headers.get('content-type') === 'application/problem+json' ? ((await response.json()) as Problem).type.replace('/api/docs#problem-', '') : String(response.status);
};
async function signIn(name: string, more: Asking = {}): Promise<string> {
  const response = await ask('/api/session', { body: { name, pin: PIN }, ...more });
  expect(response.status).toBe(200);
  return /^[^;]+/.exec(response.headers.get('set-cookie')!)![0];
}

describe('a server that is open to the network', () => {
  it.each([
    '/api/jobs', `/api/jobs/${makeUuid(1)}`, `/api/jobs/${makeUuid(1)}/edits`, `/api/jobs/${makeUuid(1)}/photographs/${'0'.repeat(64)}`, '/api/catalogue', '/api/catalogue/snapshot',
    '/api/prices', '/api/shelf', '/api/stock', '/api/stock/moves', '/api/orders/lines', '/api/orders', '/api/orders/1/document?as=csv', '/api/suppliers', '/api/suppliers/s1/offers', '/api/shop', '/api/outcomes', '/api/people', '/api/openapi.json', '/api/docs', '/api/health', '/api/nothing',
  ])('answers nothing of %s before somebody has signed in', async (path) => {
    const response = await ask(path);
    expect([response.status, response.headers.get('cache-control')]).toEqual([401, 'no-store']);
    expect((await response.json() as Problem).type).toBe('/api/docs#problem-signed-out');
  });

  it('takes nothing before somebody has signed in', async () => {
    for (const path of [`/api/jobs/${makeUuid(1)}/edits`, '/api/jobs', '/api/outcomes', '/api/shelf/reservations', '/api/stock/moves', '/api/people', '/api/session/pin', '/api/fit']) {
      expect(await typeOf(ask(path, { body: {} }))).toBe('signed-out');
    }
    expect(await typeOf(ask(`/api/people/${makeUuid(1)}`, { method: 'DELETE' }))).toBe('signed-out');
  });

  it('gives the screens and the steps to trust it to anybody', async () => {
    expect(await (await ask('/jobs/abc')).text()).toContain('the screens');
    expect((await ask('/connect')).status).toBe(200);
    expect(await (await ask('/api/session')).json()).toEqual({ network: true, here: false, person: null, needsSignIn: true } satisfies SessionState);
  });

  it('answers whoever has signed in, until they sign out', async () => {
    const cookie = await signIn('ans');
    expect(await (await ask('/api/session', { cookie })).json()).toEqual({ network: true, here: false, person: { name: 'Ans' }, needsSignIn: false } satisfies SessionState);
    expect((await ask('/api/jobs', { cookie })).status).toBe(200);
    expect((await ask('/api/session', { method: 'DELETE', cookie })).status).toBe(200);
    expect(await typeOf(ask('/api/jobs', { cookie }))).toBe('signed-out');
  });

  it('keeps the session in a cookie that no script, no other site and no unencrypted page gets', async () => {
    const set = (await ask('/api/session', { body: { name: 'Ans', pin: PIN } })).headers.get('set-cookie')!;
    expect(set).toMatch(/^__Host-lugwright=[\w-]{43}; Max-Age=2592000; Path=\/; HttpOnly; Secure; SameSite=Strict$/);
    const plain = (await ask('/api/session', { body: { name: 'Ans', pin: PIN }, base: 'http://127.0.0.1:8100', socket: NEAR })).headers.get('set-cookie')!;
    expect(plain).toMatch(/^lugwright=[\w-]{43}; Max-Age=2592000; Path=\/; HttpOnly; SameSite=Strict$/);
  });

  it('ends the session of whoever was signed in on the device before', async () => {
    const first = await signIn('Ans');
    const second = await signIn('Bob', { cookie: first });
    expect(await typeOf(ask('/api/jobs', { cookie: first }))).toBe('signed-out');
    expect((await ask('/api/jobs', { cookie: second })).status).toBe(200);
  });

  it('refuses a wrong PIN, then makes the next one wait, and says until when', async () => {
    const guess = () => ask('/api/session', { body: { name: 'nobody here', pin: '000001' }, socket: { ...FAR, remoteAddress: '192.168.7.66' } });
    for (const _ of [1, 2, 3]) expect(await typeOf(guess())).toBe('wrong-pin');
    const waiting = await guess();
    expect(waiting.status).toBe(429);
    expect(Number(waiting.headers.get('retry-after'))).toBeGreaterThanOrEqual(1);
    expect((await waiting.json() as Problem).detail).toMatch(/nothing is tried before 20/);
  });

  it('takes no request from a page of another site, signed in or not', async () => {
    const cookie = await signIn('Ans');
    const origin = { origin: 'https://elsewhere.example' };
    expect(await typeOf(ask(`/api/jobs/${makeUuid(1)}/edits`, { body: { edits: [] }, cookie, headers: origin }))).toBe('other-origin');
    expect(await typeOf(ask('/api/session', { body: { name: 'Ans', pin: PIN }, headers: origin }))).toBe('other-origin');
  });

  it.each([
    ['https://shop.example', 'other-host'], ['https://192.168.7.5.example', 'other-host'], ['https://10.0.0.1:8143', 'other-host'],
    ['https://192.168.7.5:8143', '200'], ['https://[fd12::7]:8143', '200'], ['https://BENCH-PC', '200'], ['https://bench-pc.', '200'], ['http://localhost:8100', '200'],
  ])('asked as %s it answers %s, so that another site\'s name made to point here gets nothing', async (base, expected) => {
    expect(await typeOf(ask('/api/session', { base }))).toBe(expected);
  });

  it('looks at the Host header and not at the address the request line names', async () => {
    expect(await typeOf(ask('/api/session', { headers: { host: 'shop.example' } }))).toBe('other-host');
    expect(await typeOf(ask('/', { headers: { host: 'shop.example' } }))).toBe('other-host');
  });
});

describe('the machine itself', () => {
  const near: Asking = { socket: NEAR, base: 'http://127.0.0.1:8100' };
  const key = { authorization: `Bearer ${KEY}` };

  it('needs no session where it shows its key, by link and cookie or by header', async () => {
    expect((await ask('/api/jobs', { ...near, headers: key })).status).toBe(200);
    const link = await ask(`/here?key=${KEY}`, near);
    expect([link.status, link.headers.get('location')]).toEqual([303, '/']);
    const set = link.headers.get('set-cookie')!;
    expect(set).toMatch(/; HttpOnly; SameSite=Strict$/);
    expect((await ask('/api/jobs', { ...near, cookie: /^[^;]+/.exec(set)![0] })).status).toBe(200);
  });

  it('is not taken for itself by its address alone: a proxy on it has that address too', async () => {
    expect(await typeOf(ask('/api/jobs', near))).toBe('signed-out');
    expect(await typeOf(ask('/api/jobs', { ...near, headers: { authorization: `Bearer ${'x'.repeat(43)}` } }))).toBe('signed-out');
    expect((await ask('/here?key=wrong', near)).headers.get('set-cookie')).toBeNull();
  });

  it.each(['forwarded', 'via', 'x-forwarded-for', 'x-real-ip'])('is not itself where a proxy says so by %s, even with the key', async (name) => {
    expect(await typeOf(ask('/api/jobs', { ...near, headers: { ...key, [name]: '192.168.7.20' } }))).toBe('signed-out');
    expect((await ask(`/here?key=${KEY}`, { ...near, headers: { [name]: '192.168.7.20' } })).headers.get('set-cookie')).toBeNull();
  });

  it('is not another device that shows the key, nor the machine asked under its name on the network', async () => {
    expect(await typeOf(ask('/api/jobs', { headers: key }))).toBe('signed-out');
    expect(await typeOf(ask('/api/jobs', { ...near, base: 'http://bench-pc:8100', headers: key }))).toBe('signed-out');
    expect((await ask(`/here?key=${KEY}`)).headers.get('set-cookie')).toBeNull();
  });

  it('adds people, gives them another PIN, lets them in again and takes them away; nobody else does', async () => {
    const cookie = await signIn('Ans');
    const kit = { name: 'Kit', pin: '582614' };
    expect(await typeOf(ask('/api/people', { cookie }))).toBe('only-here');
    expect(await typeOf(ask('/api/people', { body: kit, cookie }))).toBe('only-here');
    const here: Asking = { ...near, headers: key };
    const added = await (await ask('/api/people', { ...here, body: kit })).json() as PersonState;
    expect((await (await ask('/api/people', here)).json() as PersonState[]).map((person) => person.name)).toEqual(['Ans', 'Bob', 'Kit']);
    expect((await (await ask('/api/people', { ...here, body: { name: 'Lou', pin: '111111' } })).json() as Problem).faults[0]).toMatchObject({ path: 'pin' });
    expect((await ask(`/api/people/${added.id}/pin`, { ...here, body: { pin: '937105' } })).status).toBe(204);
    expect((await ask(`/api/people/${added.id}/wait`, { ...here, method: 'DELETE' })).status).toBe(204);
    const kits = await ask('/api/session', { body: { name: 'Kit', pin: '937105' } });
    const hers = /^[^;]+/.exec(kits.headers.get('set-cookie')!)![0];
    expect((await ask(`/api/people/${added.id}`, { ...here, method: 'DELETE' })).status).toBe(204);
    expect(await typeOf(ask('/api/jobs', { cookie: hers }))).toBe('signed-out');
  });
});

describe('a server that is closed', () => {
  it('answers its own machine without anybody signed in, as ever', async () => {
    expect((await ask('/api/jobs', { app: closed, base: 'http://127.0.0.1:8100', socket: NEAR })).status).toBe(200);
    expect(await (await ask('/api/session', { app: closed, base: 'http://localhost:8100', socket: NEAR })).json()).toEqual({ network: false, here: true, person: null, needsSignIn: false } satisfies SessionState);
  });

  it('answers no other name, and wants a session of what a proxy hands on', async () => {
    expect(await typeOf(ask('/api/jobs', { app: closed, base: 'http://shop.example' }))).toBe('other-host');
    expect(await typeOf(ask('/api/jobs', { app: closed, base: 'http://127.0.0.1:8100', headers: { 'x-forwarded-for': '192.168.7.20' } }))).toBe('signed-out');
  });
});

describe('who did something', () => {
  const at = '2026-11-25T10:00:00Z';
  let count = 100;
  const edit = (field: string[], value: JobEdit['value'], more: Partial<JobEdit> = {}): JobEdit => ({ id: makeUuid(++count), field, value, base: 0, at, ...more });
  const post = (edits: JobEdit[], cookie: string) => ask(`/api/jobs/${makeUuid(1)}/edits`, { body: { edits }, cookie });
  const logged = async (id: string): Promise<LoggedEdit> => {
    const read = await services.jobs.readEdits(makeUuid(1));
    return (read.ok ? read.value : []).find((each) => each.id === id)!;
  };

  it('is whoever is signed in: the author of an edit, the name on a tick, under a sign-off and an outcome', async () => {
    const cookie = await signIn('Ans');
    const [note, tick, whole] = [edit(['notes'], 'x'), edit(['asLeft', 'battery-off'], { at }), edit(['asLeft', 'torque'], { at, by: 'ANS' }, { author: 'ans' })];
    expect((await post([note, tick, whole], cookie)).status).toBe(200);
    expect(await logged(note.id)).toMatchObject({ author: 'Ans' });
    expect((await logged(tick.id)).value).toEqual({ at, by: 'Ans' });
    expect((await logged(whole.id)).value).toEqual({ at, by: 'Ans' });
    const outcome = await ask('/api/outcomes', { body: { id: makeUuid(++count), jobId: makeUuid(1), partId: 'p1', result: 'held', at }, cookie });
    expect(await outcome.json() as PartOutcome).toMatchObject({ by: 'Ans' });
  });

  it('is whoever begins a job', async () => {
    const body = { id: makeUuid(50), title: 'Begun', record: benchRecord, at };
    expect((await ask('/api/jobs', { body, cookie: await signIn('Bob') })).status).toBe(201);
    const read = await services.jobs.readEdits(makeUuid(50));
    expect(read.ok && read.value.map((each) => each.author)).toEqual(['Bob', 'Bob']);
  });

  it.each([
    ['the author', (claimed: string) => edit(['notes'], 'y', { author: claimed })],
    ['a tick', (claimed: string) => edit(['asLeft', 's1'], { at, by: claimed })],
    ['the name of a tick alone', (claimed: string) => edit(['asLeft', 'battery-off', 'by'], claimed)],
    ['all ticks at once', (claimed: string) => edit(['asLeft'], { s2: { at, by: claimed } })],
    ['a sign-off', (claimed: string) => edit(['signedOff'], { at, by: claimed })],
    ['the name under a sign-off alone', (claimed: string) => edit(['signedOff', 'by'], claimed)],
  ])('cannot be said of somebody else by %s', async (_, make) => {
    const cookie = await signIn('Ans');
    const before = await services.jobs.read(makeUuid(1));
    const refused = await post([make('Bob')], cookie);
    expect(refused.status).toBe(403);
    expect((await refused.json() as Problem)).toMatchObject({ type: '/api/docs#problem-other-person', detail: expect.stringContaining('found the name "Bob", want "Ans"') as string });
    expect(await services.jobs.read(makeUuid(1))).toEqual(before);
  });

  it('cannot be said of somebody else by an outcome', async () => {
    const body = { id: makeUuid(++count), jobId: makeUuid(1), partId: 'p1', result: 'held', by: 'Bob', at };
    expect(await typeOf(ask('/api/outcomes', { body, cookie: await signIn('Ans') }))).toBe('other-person');
  });

  it('stays theirs when another undoes the taking away of their tick', async () => {
    const bob = await signIn('Bob');
    const tick = edit(['asLeft', 's9'], { at, by: 'Bob', reading: 0.2 });
    expect((await post([tick], bob)).status).toBe(200);
    const ans = await signIn('Ans');
    expect((await post([edit(['asLeft', 's9'], null)], ans)).status).toBe(200);
    const back = edit(['asLeft', 's9'], { at, by: 'Bob', reading: 0.2 });
    const answer = await post([back], ans);
    expect(answer.status).toBe(200);
    expect((await answer.json() as JobState).document.asLeft!['s9']).toEqual({ at, by: 'Bob', reading: 0.2 });
    expect(await logged(back.id)).toMatchObject({ author: 'Ans' });
    expect((await post([edit(['asLeft', 's9'], { at: '2026-11-25T11:00:00Z', by: 'Bob' })], ans)).status).toBe(403);
  });

  it('is what the request says on the machine itself, where nobody is signed in', async () => {
    const note = edit(['notes'], 'z', { author: 'Whoever' });
    expect((await ask(`/api/jobs/${makeUuid(1)}/edits`, { body: { edits: [note] }, app: closed, base: 'http://127.0.0.1:8100', socket: NEAR })).status).toBe(200);
    expect(await logged(note.id)).toMatchObject({ author: 'Whoever' });
  });
});
