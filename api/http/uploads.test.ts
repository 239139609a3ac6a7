import { createHash } from 'node:crypto';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { LIMITS, type StoredPhotograph } from '../../catalog-schema/index.ts';
import { SAMPLE_JPEG } from '../../catalog-schema/photograph/sample-pictures.ts';
import { benchRecord, makeUuid, openTestApp, type TestApp } from './open-test-app.ts';
import type { Problem } from './problem.ts';

// Fields, status codes and the problem type are those of draft-ietf-httpbis-resumable-upload, read in its text.

let server: TestApp;
beforeAll(async () => {
  server = await openTestApp();
  await server.post('/api/jobs', { id: makeUuid(1), title: 'Job', record: benchRecord, at: '2026-11-25T09:00:00Z' });
});
afterAll(() => server.close());

const at = `/api/jobs/${makeUuid(1)}/photographs`;
/** A picture of so many bytes, each its own: a telephone appends to a JPEG what it likes. */
const pictureOf = (bytes: number, n: number): Uint8Array<ArrayBuffer> => {
  const whole = new Uint8Array(bytes);
  whole.set(SAMPLE_JPEG);
  whole[bytes - 1] = n;
  return whole;
};
const digestOf = (bytes: Uint8Array, form: 'hex' | 'base64'): string => createHash('sha256').update(bytes).digest(form);
const begin = async (bytes: Uint8Array, headers: Record<string, string> = {}): Promise<Response> => server.app.request(at, {
  method: 'POST', headers: {
    'content-type': 'image/jpeg', 'upload-complete': '?0', 'upload-length': String(bytes.length), 'repr-digest': `sha-256=:${digestOf(bytes, 'base64')}:`, ...headers,
  },
});
const append = async (path: string, offset: number, piece: Uint8Array<ArrayBuffer> | ReadableStream<Uint8Array>, last: boolean, headers: Record<string, string> = {}): Promise<Response> => server.app.request(path, {
  method: 'PATCH', duplex: 'half', body: piece,
  headers: { 'content-type': 'application/partial-upload', 'upload-offset': String(offset), 'upload-complete': last ? '?1' : '?0', ...headers },
} as RequestInit);
const progress = (response: Response): (string | null)[] => ['upload-offset', 'upload-complete', 'upload-length'].map((name) => response.headers.get(name));

test('a photograph comes in pieces and is whole when the last has come', async () => {
  const picture = pictureOf(2_000, 1);
  const begun = await begin(picture);
  expect([begun.status, ...progress(begun)]).toEqual([201, '0', '?0', null]);
  const path = begun.headers.get('location')!;
  const first = await append(path, 0, picture.slice(0, 700), false);
  expect([first.status, ...progress(first)]).toEqual([204, '700', '?0', null]);
  const head = await server.app.request(path, { method: 'HEAD' });
  expect([head.status, ...progress(head), head.headers.get('cache-control')]).toEqual([204, '700', '?0', '2000', 'no-store']);
  const last = await append(path, 700, picture.slice(700), true);
  expect([last.status, ...progress(last)]).toEqual([201, '2000', '?1', null]);
  const kept = await last.json() as StoredPhotograph;
  expect(kept).toMatchObject({ hash: digestOf(picture, 'hex'), bytes: 2_000, type: 'image/jpeg' });
  expect([...new Uint8Array(await (await server.get(`${at}/${kept.hash}`)).arrayBuffer())]).toEqual([...picture]);
  // Its device may not have heard the answer.
  expect([...progress(await server.app.request(path, { method: 'HEAD' }))]).toEqual(['2000', '?1', '2000']);
  expect([(await begin(picture)).status, (await append(path, 700, picture.slice(700), true)).status]).toEqual([200, 200]);
});

test('a connection that breaks in the middle of a piece costs nothing of what had arrived', async () => {
  const picture = pictureOf(700_000, 2);
  const path = (await begin(picture)).headers.get('location')!;
  let sent = 0;
  const broken = new ReadableStream<Uint8Array>({
    pull(controller) {
      if (sent >= 400_000) return controller.error(new Error('the line is cut'));
      controller.enqueue(picture.slice(sent, sent + 50_000));
      sent += 50_000;
    },
  });
  expect((await append(path, 0, broken, true)).status).toBe(500);
  server.failures.length = 0;
  const [offset] = progress(await server.app.request(path, { method: 'HEAD' }));
  expect(offset).toBe('400000');
  const again = await begin(picture);
  expect([again.status, ...progress(again)]).toEqual([201, '400000', '?0', null]);
  const last = await append(path, 400_000, picture.slice(400_000), true);
  expect([last.status, (await last.json() as StoredPhotograph).hash]).toEqual([201, digestOf(picture, 'hex')]);
});

test('a piece at another offset is refused with the right one, and changes nothing', async () => {
  const picture = pictureOf(1_500, 3);
  const path = (await begin(picture)).headers.get('location')!;
  await append(path, 0, picture.slice(0, 500), false);
  for (const offset of [0, 400, 501]) {
    const response = await append(path, offset, picture.slice(offset), true);
    expect([response.status, response.headers.get('upload-offset')]).toEqual([409, '500']);
    expect((await response.json() as Problem).type).toBe('https://iana.org/assignments/http-problem-types#mismatching-upload-offset');
  }
  expect(progress(await server.app.request(path, { method: 'HEAD' }))[0]).toBe('500');
});

test('a last piece that leaves bytes missing does not end the upload', async () => {
  const picture = pictureOf(1_500, 4);
  const path = (await begin(picture)).headers.get('location')!;
  const early = await append(path, 0, picture.slice(0, 500), true);
  expect([early.status, ...progress(early)]).toEqual([409, '500', '?0', null]);
  expect((await append(path, 500, picture.slice(500), true)).status).toBe(201);
});

test('bytes that are not those of the hash are refused and not kept', async () => {
  const picture = pictureOf(1_500, 5);
  const path = (await begin(picture)).headers.get('location')!;
  const response = await append(path, 0, pictureOf(1_500, 6), true);
  expect([response.status, response.headers.get('upload-complete')]).toEqual([422, '?1']);
  expect((await response.json() as Problem).faults[0]!.line).toMatch(/bytes whose SHA-256 is/);
  expect((await server.app.request(path, { method: 'HEAD' })).status).toBe(404);
  expect((await server.get(`${at}/${digestOf(picture, 'hex')}`)).status).toBe(404);
});

test('bytes that are no picture are refused once they are whole', async () => {
  const text = new TextEncoder().encode('no picture at all, and no more than a line of text');
  const path = (await begin(text)).headers.get('location')!;
  const response = await append(path, 0, text, true);
  expect([response.status, (await response.json() as Problem).faults[0]!.found]).toEqual([422, 'text']);
});

test('more bytes than were said, or than may be, are refused', async () => {
  const picture = pictureOf(1_500, 7);
  const path = (await begin(picture)).headers.get('location')!;
  expect((await append(path, 0, pictureOf(1_501, 7), true)).status).toBe(422);
  expect((await begin(picture, { 'upload-length': String(LIMITS.photographBytes + 1), 'repr-digest': `sha-256=:${digestOf(SAMPLE_JPEG, 'base64')}:` })).status).toBe(422);
  expect((await begin(picture, { 'upload-length': '1501' })).status).toBe(422);
});

test.each([
  ['no length', { 'upload-length': '' }, 'upload-length'], ['a length of text', { 'upload-length': 'many' }, 'upload-length'],
  ['no digest', { 'repr-digest': '' }, 'repr-digest'], ['a digest of another kind', { 'repr-digest': 'md5=:AAAA:' }, 'repr-digest'],
])('an upload begun with %s is refused', async (_what, headers, named) => {
  const response = await begin(pictureOf(1_500, 8), headers);
  expect([response.status, (await response.json() as Problem).faults[0]!.found]).toEqual([422, expect.stringContaining(named)]);
});

test.each([
  ['without an offset', { 'upload-offset': '' }], ['without a word on whether it is the last', { 'upload-complete': '' }], ['of another type', { 'content-type': 'image/jpeg' }],
])('a piece %s is refused', async (_what, headers) => {
  const path = (await begin(pictureOf(1_500, 9))).headers.get('location')!;
  expect((await append(path, 0, new Uint8Array(10), false, headers)).status).toBe(422);
});

test('an upload that nobody began is not there, nor one that was given up', async () => {
  const nowhere = `${at}/${'0'.repeat(64)}/upload`;
  expect([(await server.app.request(nowhere, { method: 'HEAD' })).status, (await append(nowhere, 0, new Uint8Array(1), true)).status]).toEqual([404, 404]);
  const path = (await begin(pictureOf(1_500, 10))).headers.get('location')!;
  expect((await server.app.request(path, { method: 'DELETE' })).status).toBe(204);
  expect((await server.app.request(path, { method: 'HEAD' })).status).toBe(404);
});

test('what is on its way counts towards what a job may hold', async () => {
  await server.post('/api/jobs', { id: makeUuid(2), title: 'Full', record: benchRecord, at: '2026-11-25T09:00:00Z' });
  const most = LIMITS.photographBytesOfJob / LIMITS.photographBytes;
  const post = (n: number): Promise<Response> => Promise.resolve(server.app.request(`/api/jobs/${makeUuid(2)}/photographs`, {
    method: 'POST', headers: { 'content-type': 'image/jpeg', 'upload-complete': '?0', 'upload-length': String(LIMITS.photographBytes), 'repr-digest': `sha-256=:${digestOf(new Uint8Array([n]), 'base64')}:` },
  }));
  for (let n = 0; n < most; n++) expect((await post(n)).status).toBe(201);
  expect((await post(99)).status).toBe(422);
});
