import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { connect } from 'node:tls';
import { Hono } from 'hono';
import { afterEach, beforeEach, expect, test } from 'vitest';
import type { Machine } from './local-names.ts';
import { openNetwork, type OpenNetwork } from './open-network.ts';
import { printConnecting } from './print-connecting.ts';

let folder: string;
let machine: Machine;
let now: Date;
let said: string[];
let network: OpenNetwork;
let ports: { port: number; securePort: number };
beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'lugwright-open-'));
  machine = { hostName: 'bench-pc', interfaces: { eth0: [{ address: '192.168.7.5', internal: false }, { address: '203.0.113.9', internal: false }] } };
  now = new Date();
  said = [];
  network = await openNetwork({ folder, port: 0, securePort: 0, report: (line) => said.push(line), machine: () => machine, now: () => now });
  ports = await network.listen(new Hono().get('/', (c) => c.text('the shop')));
});
afterEach(async () => {
  await network.close();
  rmSync(folder, { recursive: true });
});

/** The addresses of the certificate that is shown to whoever trusts the authority. */
function meet(): Promise<string> {
  return new Promise((resolve, reject) => {
    const socket = connect({ host: '127.0.0.1', port: ports.securePort, servername: 'localhost', ca: network.connecting.certificate().pem }, () => {
      resolve(socket.getPeerCertificate().subjectaltname!);
      socket.destroy();
    });
    socket.on('error', reject);
  });
}

test('an address that comes while the server runs is in the certificate it shows next, under the same authority', async () => {
  const authority = network.connecting.certificate().pem;
  expect(await meet()).toContain('192.168.7.5');
  machine = { ...machine, interfaces: { wlan0: [{ address: '10.0.0.8', internal: false }] } };
  await network.lookAgain();
  expect(await meet()).toContain('10.0.0.8');
  expect(await meet()).not.toContain('192.168.7.5');
  expect(network.connecting.certificate().pem).toBe(authority);
  expect([...network.rule.hosts()]).toEqual(['bench-pc', 'bench-pc.local', 'localhost', '10.0.0.8', '127.0.0.1', '::1']);
  expect(network.connecting.facts().addresses).toEqual([`https://10.0.0.8:${ports.securePort}/`, `https://bench-pc:${ports.securePort}/`, `https://bench-pc.local:${ports.securePort}/`]);
  const told = said.length;
  await network.lookAgain();
  expect(said).toHaveLength(told);
});

test('a certificate that is about to end is renewed while the server runs', async () => {
  const before = said.length;
  now = new Date(now.getTime() + 61 * 86_400_000);
  await network.lookAgain();
  expect(said.slice(before)).toEqual([expect.stringMatching(/^a new certificate, for bench-pc/), expect.stringContaining('203.0.113.9')]);
});

test('an address that is open to the Internet is left out and said, and the start says all that another device needs', () => {
  expect(said).toEqual(['203.0.113.9 is no private address: nothing is answered there']);
  const words = printConnecting(network, 0);
  expect(words).toContain(`open to the network: https://192.168.7.5:${ports.securePort}/`);
  expect(words).toContain(`first open http://192.168.7.5:${ports.port}/connect`);
  expect(words).toContain('nobody can sign in yet');
  expect(words).toMatch(/\/here\?key=[\w-]{43}\n/);
  expect(printConnecting(network, 1)).not.toContain('nobody can sign in yet');
});

test('the square code in the terminal reads as the address it stands for', async () => {
  const { makeQrCode, drawQrCode, printQrCode } = await import('./qr-code.ts');
  const { readBarcodes, prepareZXingModule } = await import('zxing-wasm/reader');
  const { readFileSync } = await import('node:fs');
  const wasm = readFileSync(new URL(import.meta.resolve('zxing-wasm/reader/zxing_reader.wasm')));
  prepareZXingModule({ overrides: { wasmBinary: wasm.buffer.slice(wasm.byteOffset, wasm.byteOffset + wasm.byteLength) as ArrayBuffer } });
  const address = 'http://192.168.7.5:8100/connect';
  // The lines of the terminal as a picture, two fields a character, 4 px a field.
  const lines = printQrCode(address).trimEnd().split('\n').map((line) => line.replaceAll('\u001b[30;107m', '').replaceAll('\u001b[0m', ''));
  const fields = lines.flatMap((line) => [[...line].map((sign) => '█▀'.includes(sign)), [...line].map((sign) => '█▄'.includes(sign))]);
  const [width, height, px] = [fields[0]!.length, fields.length, 4];
  const data = new Uint8ClampedArray(width * height * px * px * 4).fill(255);
  fields.forEach((row, y) => row.forEach((dark, x) => {
    if (!dark) return;
    for (let dy = 0; dy < px; dy++) for (let dx = 0; dx < px; dx++) data.fill(0, (((y * px + dy) * width * px) + x * px + dx) * 4, (((y * px + dy) * width * px) + x * px + dx) * 4 + 3);
  }));
  const [read] = await readBarcodes({ data, width: width * px, height: height * px, colorSpace: 'srgb' } as never, { formats: ['QRCode'] });
  expect(read?.text).toBe(address);
  expect(drawQrCode(address).path.split('M').length - 1).toBe(makeQrCode(address).flat().filter(Boolean).length);
});
