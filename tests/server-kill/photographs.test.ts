import { createHash, randomUUID } from 'node:crypto';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { request } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { SAMPLE_JPEG } from '../../catalog-schema/photograph/sample-pictures.ts';
import { startServer, type RunningServer } from './running-server.ts';

// A photograph on its way in while lines are cut and the server is killed: what had arrived is not sent again, and the whole has the right hash.

const BYTES = 6_000_000;
const at = '2026-11-25T10:00:00Z';

let folder: string;
let env: Parameters<typeof startServer>[0];
let server: RunningServer;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'lugwright-uploads-'));
  mkdirSync(join(folder, 'demo', 'parts'), { recursive: true });
  writeFileSync(join(folder, 'demo', 'parts', 'none.json'), '[]');
  env = { LUGWRIGHT_DB: join(folder, 'shop.sqlite'), LUGWRIGHT_DEMO: join(folder, 'demo'), LUGWRIGHT_UI: folder, NODE_COMPILE_CACHE: join(folder, 'compiled') };
  await (await startServer(env)).stop();
  server = await startServer(env);
});
afterAll(async () => {
  await server.stop();
  rmSync(folder, { recursive: true, force: true });
});

/** A picture whose bytes differ from place to place: a telephone appends to a JPEG what it likes. */
function drawPicture(n: number): Uint8Array<ArrayBuffer> {
  const bytes = Uint8Array.from({ length: BYTES }, (_, place) => (place * 31 + (place >> 8) + n) % 256);
  bytes.set(SAMPLE_JPEG);
  return bytes;
}

async function beginUpload(picture: Uint8Array): Promise<{ path: string; hash: string }> {
  const jobId = randomUUID();
  const begun = await fetch(`${server.url}/api/jobs`, {
    method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify({ id: jobId, title: 'Pump', record: { system: { nominalV: 12 } }, at }),
  });
  expect(begun.status).toBe(201);
  const digest = createHash('sha256').update(picture).digest();
  const response = await fetch(`${server.url}/api/jobs/${jobId}/photographs`, {
    method: 'POST', headers: { 'content-type': 'image/jpeg', 'upload-complete': '?0', 'upload-length': String(picture.length), 'repr-digest': `sha-256=:${digest.toString('base64')}:` },
  });
  expect(response.status).toBe(201);
  return { path: response.headers.get('location')!, hash: digest.toString('hex') };
}

async function askOffset(path: string): Promise<number> {
  const response = await fetch(`${server.url}${path}`, { method: 'HEAD' });
  expect([response.status, response.headers.get('upload-complete')]).toEqual([204, '?0']);
  return Number(response.headers.get('upload-offset'));
}

/**
 * Sends the rest of a picture as one request, of which only `cut` bytes leave; breaks it off by what `breakOff` does once the server has said
 * that it has most of them. Answers what it said.
 */
async function sendAndBreak(path: string, picture: Uint8Array, from: number, cut: number, breakOff: (outgoing: { destroy(): void }) => Promise<void> | void): Promise<number> {
  const outgoing = request(`${server.url}${path}`, {
    method: 'PATCH', headers: { 'content-type': 'application/partial-upload', 'upload-offset': String(from), 'upload-complete': '?1', 'content-length': String(picture.length - from) },
  });
  const over = new Promise<void>((resolve) => {
    outgoing.on('error', () => resolve());
    outgoing.on('response', (response) => response.resume().on('end', resolve));
  });
  for (let sent = from; sent < from + cut; sent += 65_536) {
    await new Promise<void>((resolve) => { outgoing.write(picture.subarray(sent, Math.min(sent + 65_536, from + cut)), () => resolve()); });
  }
  let said = 0;
  // Bytes are put on the disk by the quarter of a megabyte.
  await expect.poll(async () => { said = await askOffset(path); return said; }, { timeout: 20_000 }).toBeGreaterThanOrEqual(from + cut - 400_000);
  await breakOff(outgoing);
  await over;
  return said;
}

async function finish(path: string, picture: Uint8Array<ArrayBuffer>, from: number): Promise<Response> {
  return fetch(`${server.url}${path}`, {
    method: 'PATCH', headers: { 'content-type': 'application/partial-upload', 'upload-offset': String(from), 'upload-complete': '?1' }, body: picture.subarray(from),
  });
}

test('a line that is cut twice in the middle costs none of what had arrived', { timeout: 60_000 }, async () => {
  const picture = drawPicture(1);
  const { path, hash } = await beginUpload(picture);
  const offsets: number[] = [];
  for (const cut of [1_500_000, 2_000_000]) {
    const from = offsets.at(-1) ?? 0;
    const said = await sendAndBreak(path, picture, from, cut, (outgoing) => { outgoing.destroy(); });
    // The server learns of the cut a moment later, and keeps what it still had in hand.
    await pause(200);
    offsets.push(await askOffset(path));
    expect(offsets.at(-1)!).toBeGreaterThanOrEqual(said);
    expect(offsets.at(-1)!).toBeLessThanOrEqual(from + cut);
  }
  expect(offsets[1]!).toBeLessThan(BYTES);
  const done = await finish(path, picture, offsets[1]!);
  expect([done.status, (await done.json() as { hash: string }).hash]).toEqual([201, hash]);
  const kept = await fetch(`${server.url}${path.replace(/\/upload$/, '')}`);
  expect(createHash('sha256').update(new Uint8Array(await kept.arrayBuffer())).digest('hex')).toBe(hash);
});

test('a server that is killed in the middle goes on from what it had put on its disk', { timeout: 120_000 }, async () => {
  const picture = drawPicture(2);
  const { path, hash } = await beginUpload(picture);
  let offset = 0;
  for (const cut of [900_000, 1_700_000, 1_100_000]) {
    const said = await sendAndBreak(path, picture, offset, cut, () => server.kill());
    server = await startServer(env);
    const after = await askOffset(path);
    // What was once said to be there is there, and none is counted that is not.
    expect(after).toBeGreaterThanOrEqual(said);
    expect(after).toBeLessThanOrEqual(offset + cut);
    offset = after;
  }
  const done = await finish(path, picture, offset);
  expect([done.status, (await done.json() as { hash: string }).hash]).toEqual([201, hash]);
});

test('a server that is killed between the last byte and its answer has the photograph, or goes on to it', { timeout: 120_000 }, async () => {
  const picture = drawPicture(3);
  const { path, hash } = await beginUpload(picture);
  await finish(path, picture.slice(0, BYTES - 10), 0).then((response) => expect(response.status).toBe(409));
  const last = finish(path, picture, BYTES - 10).catch(() => undefined);
  await pause(5);
  await server.kill();
  await last;
  server = await startServer(env);
  const state = await fetch(`${server.url}${path}`, { method: 'HEAD' });
  const done = await finish(path, picture, Number(state.headers.get('upload-offset')));
  expect([200, 201]).toContain(done.status);
  expect((await done.json() as { hash: string }).hash).toBe(hash);
});
