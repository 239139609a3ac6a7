import { spawnSync } from 'node:child_process';
import { X509Certificate } from 'node:crypto';
import { readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { get } from 'node:http';
import { join } from 'node:path';
import { connect } from 'node:tls';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { findOuterAddress, OpenServer } from './open-server.ts';

// The started product as other devices on the network meet it: over real connections, trusting its own authority and nothing else.

const server = new OpenServer();
let authorityFile: string;
beforeAll(async () => {
  await server.start();
  authorityFile = join(server.folder, 'authority.pem');
  const authority = await (await fetch(`http://127.0.0.1:${server.port}/connect/authority.pem`)).text();
  writeFileSync(authorityFile, authority);
}, 60_000);
afterAll(() => server.close());

const outer = findOuterAddress();
const written = outer?.includes(':') ? `[${outer}]` : outer;

interface Answer { status: number; headers: Record<string, string | string[] | undefined>; body: string }
/** Plain HTTP to an address, asked for under a name: `fetch` would set the Host itself. */
function ask(address: string, path: string, host: string, headers: Record<string, string> = {}): Promise<Answer> {
  return new Promise((resolve, reject) => {
    get({ host: address, port: server.port, path, headers: { host, ...headers } }, (response) => {
      let body = '';
      response.setEncoding('utf8').on('data', (piece: string) => { body += piece; }).on('end', () => resolve({ status: response.statusCode!, headers: response.headers, body }));
    }).on('error', reject);
  });
}

test('fetch takes the server at its word once it trusts the authority, and not before', () => {
  const run = (extra: Record<string, string>) => spawnSync(process.execPath, ['-e', `
    const response = await fetch('https://localhost:${server.securePort}/api/session');
    console.log(response.status, JSON.stringify(await response.json()));`, '--input-type=module'], { encoding: 'utf8', env: { ...process.env, ...extra } });
  const trusting = run({ NODE_EXTRA_CA_CERTS: authorityFile });
  expect(trusting.stdout.trim(), trusting.stderr).toBe('200 {"network":true,"here":false,"person":null,"needsSignIn":true}');
  expect(run({}).stderr).toMatch(/unable to verify|UNABLE_TO_VERIFY|self-signed/);
}, 30_000);

test('the certificate names the machine, and the connection is TLS 1.2 or later', async () => {
  const trusted = readFileSync(authorityFile, 'utf8');
  const meet = (more: object): Promise<string> => new Promise((resolve) => {
    const socket = connect({ host: '127.0.0.1', port: server.securePort, servername: 'localhost', ca: trusted, ...more }, () => {
      resolve(`${socket.authorized} ${socket.getProtocol()} ${(socket.getPeerX509Certificate() as X509Certificate).checkHost('localhost')}`);
      socket.destroy();
    });
    socket.on('error', (error) => resolve((error as NodeJS.ErrnoException).code ?? error.message));
  });
  expect(await meet({})).toBe('true TLSv1.3 localhost');
  expect(await meet({ maxVersion: 'TLSv1.2' })).toBe('true TLSv1.2 localhost');
  expect(await meet({ minVersion: 'TLSv1', maxVersion: 'TLSv1.1' })).toMatch(/ERR_SSL|ECONNRESET/);
  expect(new X509Certificate(trusted).ca).toBe(true);
});

test('the page of steps shows the certificate\'s fingerprint as the terminal does, and gives the very certificate', async () => {
  const page = await (await fetch(`http://127.0.0.1:${server.port}/connect`)).text();
  const fingerprint = new X509Certificate(readFileSync(authorityFile)).fingerprint256.replaceAll(':', ' ');
  const plain = page.replace(/<br>/g, ' ').replace(/\s+/g, ' ');
  expect(plain).toContain(fingerprint);
  expect(server.said.replace(/\s+/g, ' ')).toContain(fingerprint);
  expect(page).not.toMatch(/<script|https?:\/\/(?!\[|[\w.-]+:\d+\/)/);
  const der = await (await fetch(`http://127.0.0.1:${server.port}/connect/authority.crt`)).arrayBuffer();
  expect(new X509Certificate(Buffer.from(der)).fingerprint256.replaceAll(':', ' ')).toBe(fingerprint);
});

test('keys and the machine\'s key lie where only their owner reads them', () => {
  expect(readdirSync(server.keys).toSorted()).toEqual(['authority.pem', 'machine-key', 'server.pem']);
  if (process.platform === 'win32') return;
  for (const name of readdirSync(server.keys)) expect(statSync(join(server.keys, name)).mode & 0o777, name).toBe(0o600);
});

test('the machine itself is served over plain HTTP as ever once it has followed its link, and asks who it is before', async () => {
  const base = `http://127.0.0.1:${server.port}`;
  expect((await fetch(`${base}/api/jobs`)).status).toBe(401);
  const link = await fetch(server.machineLink, { redirect: 'manual' });
  const cookie = link.headers.get('set-cookie')!.split(';')[0]!;
  expect((await fetch(`${base}/api/jobs`, { headers: { cookie } })).status).toBe(200);
  expect((await ask('127.0.0.1', '/api/jobs', `127.0.0.1:${server.port}`, { cookie })).status).toBe(200);
  // As a proxy on this machine that hands on the cookie of somebody else would: it says for whom.
  expect((await ask('127.0.0.1', '/api/jobs', `127.0.0.1:${server.port}`, { cookie, 'x-forwarded-for': '192.168.7.20' })).status).toBe(401);
  // A site whose name was made to point here.
  expect((await ask('127.0.0.1', '/api/jobs', 'shop.example', { cookie })).status).toBe(421);
});

test.skipIf(outer === undefined)('over plain HTTP other devices get the steps, and nothing of the shop', async () => {
  const host = `localhost:${server.port}`;
  const from = (path: string, name = host) => ask(outer!, path, name);
  expect(await from('/connect')).toMatchObject({ status: 200 });
  expect((await from('/connect')).body).toContain('Work on another device');
  expect(await from('/connect/authority.crt')).toMatchObject({ status: 200, headers: { 'content-type': 'application/x-x509-ca-cert' } });
  for (const path of ['/', '/jobs/abc', '/index.html', '/settings', '/here?key=x', '/assets/x.js']) expect(await from(path), path).toMatchObject({ status: 302, headers: { location: '/connect' } });
  for (const path of ['/api/session', '/api/jobs', '/api/openapi.json']) expect((await from(path)).status, path).toBe(403);
  expect((await from('/connect', 'shop.example')).status).toBe(421);
  expect(written).toBeDefined();
});

test('the authority, the certificate and the machine\'s key are the same after a restart', async () => {
  const before = readdirSync(server.keys).map((name) => readFileSync(join(server.keys, name), 'utf8'));
  expect(await server.stop()).toBe(0);
  await server.start();
  expect(readdirSync(server.keys).map((name) => readFileSync(join(server.keys, name), 'utf8'))).toEqual(before);
}, 60_000);

test('a closed server is not opened by an address alone, and does not know other arguments', () => {
  const run = (args: string[], env: Record<string, string>) => spawnSync(process.execPath, ['api/http/main.ts', ...args], { encoding: 'utf8', timeout: 20_000, env: { ...process.env, LUGWRIGHT_DB: join(server.folder, 'x.sqlite'), PORT: '0', ...env } });
  const opened = run([], { HOST: '0.0.0.0' });
  expect([opened.status, opened.stderr]).toEqual([1, expect.stringContaining('HOST: found "0.0.0.0", want an address of this machine alone')]);
  expect(run(['--open'], {})).toMatchObject({ status: 1, stderr: expect.stringContaining('--open') as string });
}, 60_000);
