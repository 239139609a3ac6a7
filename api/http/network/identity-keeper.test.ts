import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { readCertificate } from './certificates.ts';
import { IdentityKeeper } from './identity-keeper.ts';
import { findLocalNames, type Machine } from './local-names.ts';

let parent: string;
let folder: string;
let now = new Date('2026-11-25T12:00:00Z');
let machine: Machine;
const keeper = (): IdentityKeeper => new IdentityKeeper({ folder, readMachine: () => machine, now: () => now });
beforeEach(() => {
  parent = mkdtempSync(join(tmpdir(), 'lugwright-identity-'));
  folder = join(parent, 'network');
  now = new Date('2026-11-25T12:00:00Z');
  machine = { hostName: 'Bench-PC', interfaces: { lo: [{ address: '127.0.0.1', internal: true }], eth0: [{ address: '192.168.7.5', internal: false }] } };
});
afterEach(() => rmSync(parent, { recursive: true }));

describe('the kept certificates', () => {
  it('are made at the first start, their keys readable by nobody else, and stay at the next', async () => {
    const first = await keeper().bringUpToDate();
    expect(readdirSync(folder).toSorted()).toEqual(['authority.pem', 'server.pem']);
    if (process.platform !== 'win32') {
      expect(statSync(folder).mode & 0o777).toBe(0o700);
      for (const name of readdirSync(folder)) expect(statSync(join(folder, name)).mode & 0o777).toBe(0o600);
    }
    const second = await keeper().bringUpToDate();
    expect([second.authority, second.server]).toEqual([first.authority, first.server]);
    expect(readCertificate(first.server.certificatePem)).toMatchObject({
      names: ['bench-pc', 'bench-pc.local', 'localhost'], addresses: ['192.168.7.5', '127.0.0.1', '::1'],
    });
  });

  it('the server\'s is renewed before it ends, under the same authority', async () => {
    const first = await keeper().bringUpToDate();
    now = new Date(now.getTime() + 59 * 86_400_000);
    expect((await keeper().bringUpToDate()).server).toEqual(first.server);
    now = new Date(now.getTime() + 2 * 86_400_000);
    const later = await keeper().bringUpToDate();
    expect(later.authority).toEqual(first.authority);
    expect(readCertificate(later.server.certificatePem).notAfter.getTime()).toBeGreaterThan(readCertificate(first.server.certificatePem).notAfter.getTime());
  });

  it('the server\'s is made anew when the addresses or the name change; the authority stays', async () => {
    const first = await keeper().bringUpToDate();
    machine = { ...machine, interfaces: { eth0: [{ address: '192.168.7.9', internal: false }, { address: 'fd12:0:0::7', internal: false }] } };
    const moved = await keeper().bringUpToDate();
    expect(moved.authority).toEqual(first.authority);
    expect(readCertificate(moved.server.certificatePem).addresses).toEqual(expect.arrayContaining(['192.168.7.9']));
    expect((await keeper().bringUpToDate()).server).toEqual(moved.server);
    machine = { ...machine, hostName: 'other.lan' };
    expect(readCertificate((await keeper().bringUpToDate()).server.certificatePem).names).toEqual(['other.lan', 'localhost']);
  });

  it('two servers that start at once share one authority', async () => {
    const [one, other] = await Promise.all([keeper().bringUpToDate(), keeper().bringUpToDate()]);
    expect(one!.authority).toEqual(other!.authority);
    expect(readdirSync(folder).toSorted()).toEqual(['authority.pem', 'server.pem']);
  });

  it('a file with wider rights is narrowed, one that is broken stops the start and is named', async () => {
    await keeper().bringUpToDate();
    const file = join(folder, 'authority.pem');
    writeFileSync(join(parent, 'copy'), readFileSync(file), { mode: 0o644 });
    rmSync(file);
    writeFileSync(file, readFileSync(join(parent, 'copy')), { mode: 0o644 });
    await keeper().bringUpToDate();
    if (process.platform !== 'win32') expect(statSync(file).mode & 0o777).toBe(0o600);
    writeFileSync(file, 'nothing');
    await expect(keeper().bringUpToDate()).rejects.toThrow('authority.pem');
    expect(existsSync(file)).toBe(true);
  });
});

describe('the names of a machine', () => {
  it('put the network\'s own addresses first, those of inner networks last, and leave out what is open to the Internet', () => {
    expect(findLocalNames({ hostName: 'pc', interfaces: {
      docker0: [{ address: '172.17.0.1', internal: false }], wlan0: [{ address: 'fe80::1', internal: false }, { address: '192.168.1.4', internal: false }],
      eth0: [{ address: 'fd12::9', internal: false }, { address: '2001:db8::4', internal: false }, { address: '10.0.0.3', internal: false }],
    } })).toEqual({
      names: ['pc', 'pc.local', 'localhost'], addresses: ['10.0.0.3', '192.168.1.4', 'fd12::9', '172.17.0.1', '127.0.0.1', '::1'],
      reached: ['10.0.0.3', '192.168.1.4', 'fd12::9', '172.17.0.1'], leftOut: ['2001:db8::4'],
    });
  });

  it('have no name of a machine that calls itself something no certificate can carry', () => {
    expect(findLocalNames({ hostName: 'Büro PC', interfaces: {} }).names).toEqual(['localhost']);
  });
});
