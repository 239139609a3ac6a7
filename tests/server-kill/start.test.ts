import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { LIMITS } from '../../catalog-schema/index.ts';
import { startServer, type RunningServer } from './running-server.ts';

let folder: string;
let server: RunningServer;
let env: Parameters<typeof startServer>[0];
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'lugwright-start-'));
  env = { LUGWRIGHT_DB: join(folder, 'shop.sqlite'), LUGWRIGHT_DEMO: folder, LUGWRIGHT_UI: join(folder, 'screens') };
  server = await startServer(env);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function runMain(more: Record<string, string>): { status: number | null; stdout: string; stderr: string } {
  const root = fileURLToPath(new URL('../..', import.meta.url));
  return spawnSync(process.execPath, ['api/http/main.ts'], { cwd: root, env: { ...process.env, ...env, ...more }, encoding: 'utf8', timeout: 10_000 });
}

test('a body past the limit is refused over a real connection, whether its length is told or not', async () => {
  const body = `{"padding":"${'x'.repeat(LIMITS.jsonRequestBytes)}"}`;
  const told = await fetch(`${server.url}/api/fit`, { method: 'POST', headers: { 'content-type': 'application/json' }, body });
  const untold = await fetch(`${server.url}/api/fit`, {
    method: 'POST', headers: { 'content-type': 'application/json' }, duplex: 'half',
    body: new Blob([body]).stream(),
  } as RequestInit);
  for (const response of [told, untold]) {
    expect(response.status).toBe(422);
    expect((await response.json() as { faults: { line: string }[] }).faults[0]!.line).toMatch(/^input: found more than 5000000 bytes/);
  }
});

test('screens that are built while the server runs are served', async () => {
  const before = await fetch(`${server.url}/`);
  expect([before.status, (await before.json() as { detail: string }).detail]).toEqual([404, expect.stringContaining('npm run build')]);
  mkdirSync(join(folder, 'screens'));
  writeFileSync(join(folder, 'screens', 'index.html'), '<!doctype html>');
  expect(await (await fetch(`${server.url}/jobs`)).text()).toBe('<!doctype html>');
});

test('a port that is taken or is none ends the start with one line and code 1', async () => {
  const holder = createServer();
  const port = await new Promise<number>((resolve) => holder.listen(0, '127.0.0.1', () => resolve((holder.address() as { port: number }).port)));
  const taken = runMain({ PORT: String(port) });
  expect([taken.status, taken.stdout]).toEqual([1, '']);
  expect(taken.stderr).toContain(`cannot listen on 127.0.0.1:${port}`);
  await new Promise((resolve) => holder.close(resolve));
  const none = runMain({ PORT: 'eighty' });
  expect([none.status, none.stdout]).toEqual([1, '']);
  expect(none.stderr).toContain('PORT: found "eighty", want a whole number');
});

test('asked to stop, the server ends with code 0 even while a client keeps its connection', async () => {
  await (await fetch(`${server.url}/api/health`)).json();
  expect(await server.stop()).toBe(0);
});
