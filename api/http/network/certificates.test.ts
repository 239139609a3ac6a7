import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer, request } from 'node:https';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createHash, X509Certificate } from 'node:crypto';
import { beforeAll, describe, expect, it } from 'vitest';
import { CERTIFICATE_DAYS, isEnding, isPrivateAddress, makeAuthority, makeServerIdentity, readCertificate, writeDer, type Identity } from './certificates.ts';

const now = new Date();
let authority: Identity;
let server: Identity;
beforeAll(async () => {
  authority = await makeAuthority('bench-pc', now);
  server = await makeServerIdentity(authority, { names: ['bench-pc', 'bench-pc.local', 'localhost'], addresses: ['192.168.7.5', 'fd12::7', '127.0.0.1', '::1'] }, now);
});

/** What node's own TLS (OpenSSL) says of a certificate under the authority, asked for under a name. */
async function ask(identity: Identity, host: string, trusted: string): Promise<string> {
  const listening = createServer({ key: identity.keyPem, cert: identity.certificatePem }, (_, response) => response.end('through'));
  await new Promise<void>((resolve) => { listening.listen(0, '127.0.0.1', resolve); });
  try {
    return await new Promise((resolve) => {
      const asked = request({
        host: '127.0.0.1', port: (listening.address() as AddressInfo).port, servername: /[:]|^[\d.]+$/.test(host) ? '' : host, ca: trusted,
        headers: { host }, agent: false,
      }, (response) => response.setEncoding('utf8').on('data', resolve));
      asked.on('error', (error) => resolve(`${(error as NodeJS.ErrnoException).code}: ${error.message}`)).end();
    });
  } finally {
    listening.close();
  }
}

describe('a server\'s certificate under the shop\'s own authority', () => {
  it('is taken by node\'s TLS under each of its names by whoever trusts the authority, and by nobody else', async () => {
    for (const host of ['bench-pc', 'bench-pc.local', 'localhost', '127.0.0.1']) expect(await ask(server, host, authority.certificatePem)).toBe('through');
    expect(await ask(server, 'other.local', authority.certificatePem)).toMatch(/^ERR_TLS_CERT_ALTNAME_INVALID/);
    expect(await ask(server, 'localhost', (await makeAuthority('bench-pc', now)).certificatePem)).not.toBe('through');
  });

  it('is what node reads of it: names and addresses, an end in 90 days, no authority itself', () => {
    const read = new X509Certificate(server.certificatePem);
    for (const host of ['bench-pc', 'bench-pc.local']) expect(read.checkHost(host)).toBe(host);
    for (const address of ['192.168.7.5', 'fd12::7', '::1']) expect(read.checkIP(address)).toBe(address);
    expect(read.checkIP('192.168.7.6')).toBeUndefined();
    expect(read.ca).toBe(false);
    expect(read.verify(new X509Certificate(authority.certificatePem).publicKey)).toBe(true);
    expect(Math.round((Date.parse(read.validTo) - now.getTime()) / 86_400_000)).toBe(CERTIFICATE_DAYS.server);
    expect(isEnding(readCertificate(server.certificatePem), now)).toBe(false);
    expect(isEnding(readCertificate(server.certificatePem), new Date(now.getTime() + 61 * 86_400_000))).toBe(true);
  });

  it('has the fingerprint that node and the bytes themselves give', () => {
    expect(readCertificate(authority.certificatePem).fingerprint).toBe(new X509Certificate(authority.certificatePem).fingerprint256);
    expect(createHash('sha256').update(writeDer(authority.certificatePem)).digest('hex'))
      .toBe(readCertificate(authority.certificatePem).fingerprint.replaceAll(':', '').toLowerCase());
  });

  it('holds for private addresses only', async () => {
    await expect(makeServerIdentity(authority, { names: [], addresses: ['203.0.113.9'] }, now)).rejects.toThrow('no private address');
  });
});

describe('the authority', () => {
  it('cannot vouch for names of the Internet, whoever has its key', async () => {
    const bank = await makeServerIdentity(authority, { names: ['bank.example'], addresses: [] }, now);
    expect(await ask(bank, 'bank.example', authority.certificatePem)).toMatch(/permitted subtree violation/);
  });

  it.skipIf(spawnSync('openssl', ['version']).status !== 0)('is what openssl verifies, with constraints that openssl prints', () => {
    const folder = mkdtempSync(join(tmpdir(), 'lugwright-openssl-'));
    try {
      const [root, leaf] = [join(folder, 'root.pem'), join(folder, 'leaf.pem')];
      writeFileSync(root, authority.certificatePem);
      writeFileSync(leaf, server.certificatePem);
      const verified = spawnSync('openssl', ['verify', '-x509_strict', '-purpose', 'sslserver', '-CAfile', root, leaf], { encoding: 'utf8' });
      expect(verified.stdout.trim(), verified.stderr).toBe(`${leaf}: OK`);
      const printed = spawnSync('openssl', ['x509', '-in', root, '-noout', '-text'], { encoding: 'utf8' }).stdout;
      expect(printed).toMatch(/Name Constraints: critical\s+Permitted:\s+DNS:localhost/);
      expect(printed).toContain('IP:192.168.0.0/255.255.0.0');
      expect(printed).toMatch(/CA:TRUE, pathlen:0/);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});

describe('an address', () => {
  it.each(['10.1.2.3', '172.31.255.255', '192.168.0.1', '169.254.9.9', '127.0.0.1', '::1', 'fd00::1', 'fe80::1'])('%s is private', (address) => {
    expect(isPrivateAddress(address)).toBe(true);
  });
  it.each(['11.0.0.1', '172.32.0.1', '192.169.0.1', '203.0.113.5', '2001:db8::1', '::2'])('%s is not', (address) => {
    expect(isPrivateAddress(address)).toBe(false);
  });
});
