import { afterAll, beforeAll, expect, test } from 'vitest';
import { LIMITS, storedPhotograph, type StoredPhotograph } from '../../catalog-schema/index.ts';
import { SAMPLE_JPEG, SAMPLE_PNG, SAMPLE_PROGRESSIVE, SAMPLE_WEBP, turnJpeg } from '../../catalog-schema/photograph/sample-pictures.ts';
import { benchRecord, makeUuid, openTestApp, type TestApp } from './open-test-app.ts';
import type { Problem } from './problem.ts';

let server: TestApp;
beforeAll(async () => {
  server = await openTestApp();
  await server.post('/api/jobs', { id: makeUuid(1), title: 'Job', record: benchRecord, at: '2026-11-25T09:00:00Z' });
});
afterAll(() => server.close());

const at = `/api/jobs/${makeUuid(1)}/photographs`;
const send = async (bytes: Uint8Array, headers: Record<string, string> = { 'content-type': 'image/jpeg' }, path = at): Promise<Response> =>
  server.app.request(path, { method: 'POST', headers, body: bytes as Uint8Array<ArrayBuffer> });
const readProblem = async (response: Response): Promise<Problem> => {
  expect(response.headers.get('content-type')).toBe('application/problem+json');
  const problem = await response.json() as Problem;
  expect(problem.status).toBe(response.status);
  return problem;
};
const text = (words: string): Uint8Array => new TextEncoder().encode(words);

test.each([['JPEG', SAMPLE_JPEG, 'image/jpeg'], ['progressive JPEG', SAMPLE_PROGRESSIVE, 'image/jpeg'], ['PNG', SAMPLE_PNG, 'image/png'], ['WebP', SAMPLE_WEBP, 'image/webp']] as const)(
  'a %s is taken whatever its sender calls it, and answered as what it is for ever', async (_name, bytes, type) => {
    const first = await send(bytes, { 'content-type': 'application/octet-stream' });
    expect(first.status).toBe(201);
    const kept = await first.json() as StoredPhotograph;
    expect(storedPhotograph.safeParse(kept).success).toBe(true);
    expect(kept).toMatchObject({ type, bytes: bytes.length, widthPx: 12, heightPx: 8 });
    const again = await send(bytes, { 'content-type': 'image/gif' });
    expect([again.status, await again.json()]).toEqual([200, kept]);

    const picture = await server.get(`${at}/${kept.hash}`);
    expect(picture.status).toBe(200);
    expect(picture.headers.get('content-type')).toBe(type);
    expect(picture.headers.get('x-content-type-options')).toBe('nosniff');
    expect(picture.headers.get('cache-control')).toBe('private, max-age=31536000, immutable');
    expect([...new Uint8Array(await picture.arrayBuffer())]).toEqual([...bytes]);
    const unchanged = await server.get(`${at}/${kept.hash}`, { 'if-none-match': picture.headers.get('etag')! });
    expect([unchanged.status, (await unchanged.arrayBuffer()).byteLength]).toEqual([304, 0]);
  });

test('a JPEG turned by Exif is answered with the size it is shown at', async () => {
  expect(await (await send(turnJpeg(SAMPLE_JPEG, 8, 'II'))).json()).toMatchObject({ widthPx: 8, heightPx: 12 });
});

test.each([
  ['nothing', new Uint8Array(), 'input: found nothing, want a photograph: JPEG, PNG or WebP'],
  ['text called .jpg', text('GPS off, flash on'), 'input: found text, want a photograph: JPEG, PNG or WebP'],
  ['a page', text('<!doctype html><script>1</script>'), 'input: found text, want a photograph: JPEG, PNG or WebP'],
  ['a drawing with scripts', text('<svg xmlns="http://www.w3.org/2000/svg"/>'), 'input: found text, want a photograph: JPEG, PNG or WebP'],
  ['a HEIC', text('\0\0\0\x18ftypheic\0\0\0\0'), 'input: found a picture of type HEIC, want a photograph: JPEG, PNG or WebP'],
  ['half a JPEG', SAMPLE_JPEG.subarray(0, SAMPLE_JPEG.length / 2), 'input: found a JPEG picture that is cut off, want a whole picture'],
  ['half a PNG', SAMPLE_PNG.subarray(0, 90), 'input: found a PNG picture that is cut off, want a whole picture'],
  ['half a WebP', SAMPLE_WEBP.subarray(0, 40), 'input: found a WebP picture that is cut off, want a whole picture'],
])('%s is refused in one line', async (_what, bytes, line) => {
  const problem = await readProblem(await send(bytes));
  expect(problem.status).toBe(422);
  expect(problem.faults.map((fault) => fault.line)).toEqual([line]);
});

test('20 MB are taken, one byte more is refused, with its length said before or not', async () => {
  const padded = (bytes: number): Uint8Array => {
    const whole = new Uint8Array(bytes);
    whole.set(SAMPLE_JPEG);
    return whole;
  };
  expect((await send(padded(LIMITS.photographBytes))).status).toBe(201);
  const over = padded(LIMITS.photographBytes + 1);
  const said: Record<string, string>[] = [{ 'content-type': 'image/jpeg' }, { 'content-type': 'image/jpeg', 'content-length': String(over.length) }];
  for (const headers of said) {
    const problem = await readProblem(await send(over, headers));
    expect(problem.status).toBe(422);
    expect(problem.faults[0]!.line).toMatch(/^input: found .*bytes, want at most 20000000 bytes$/);
  }
});

test('a body that another site’s form could send is refused whatever it holds', async () => {
  const types: Record<string, string>[] = [{ 'content-type': 'text/plain' }, { 'content-type': 'multipart/form-data; boundary=x' }, {}];
  for (const headers of types) {
    const problem = await readProblem(await send(SAMPLE_JPEG, headers));
    expect([problem.status, problem.faults[0]!.path]).toEqual([422, '']);
  }
  expect((await send(SAMPLE_JPEG, { 'content-type': 'image/jpeg', origin: 'https://elsewhere.test' })).status).toBe(403);
});

test('the larger limit is the photographs’ alone', async () => {
  const problem = await readProblem(await server.post('/api/identify', `{"padding":"${'x'.repeat(LIMITS.jsonRequestBytes)}"}`));
  expect(problem.faults[0]!.line).toMatch(/want at most 5000000 bytes$/);
});

test.each([
  ['POST', `/api/jobs/${makeUuid(9)}/photographs`], ['POST', '/api/jobs/no-id/photographs'], ['GET', `${at}/${'0'.repeat(64)}`], ['GET', `${at}/..`], ['GET', at], ['DELETE', `${at}/${'0'.repeat(64)}`],
])('%s %s is not found', async (method, path) => {
  const response = method === 'POST' ? await send(SAMPLE_JPEG, undefined, path) : await server.app.request(path, { method });
  expect((await readProblem(response)).status).toBe(404);
});

test('marks on a photograph are edits of the job like any other, and bad ones are refused', async () => {
  const hash = 'b'.repeat(64);
  const edit = (n: number, field: string[], value: unknown, base = 2) => ({ id: makeUuid(100 + n), field: ['photographs', hash, ...field], value, base, at: '2026-11-25T10:00:00Z' });
  const edits = `/api/jobs/${makeUuid(1)}/edits`;
  const kept = { name: 'face.jpg', at: '2026-11-25T10:00:00Z', widthPx: 4000, heightPx: 3000 };
  const thing = { what: 'hole', by: 'middle', marks: [{ xPx: 1, yPx: 2, noisePx: 1 }] };
  expect((await server.post(edits, { edits: [edit(1, [], kept), edit(2, ['things', 'h1'], thing)] })).status).toBe(200);
  const bad = await readProblem(await server.post(edits, { edits: [edit(3, ['things', 'h1', 'marks'], [{ xPx: 'left', yPx: 2, noisePx: 1 }], 4)] }));
  expect(bad.faults.map((fault) => fault.line.replace(/b+…/, 'HASH'))).toEqual(['photographs.HASH.things.h1.marks[0].xPx: found "left", want a number']);
  const job = await (await server.get(`/api/jobs/${makeUuid(1)}`)).json() as { document: { photographs: unknown } };
  expect(job.document.photographs).toEqual({ [hash]: { ...kept, things: { h1: thing } } });
});

test('none of this made the program fail', () => {
  expect(server.failures).toEqual([]);
});
