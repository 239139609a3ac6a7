import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import sqlite3 from 'sqlite3';
import { openTestServices } from '../open-test-services.ts';
import { openServices, type Services } from '../open-services.ts';
import { pauseAfter } from './guessing.ts';
import type { PeopleService } from './people-service.ts';

const PIN = '493817';
const ADDRESS = '192.168.7.20';
let now: Date;
let file: string;
let people: PeopleService;
let remove: () => Promise<void>;
const more: Services[] = [];
const clock = { now: () => now };
const later = (seconds: number): void => { now = new Date(now.getTime() + seconds * 1000); };
const signIn = (name: string, pin: string, address = ADDRESS) => people.signIn({ name, pin, address });
/** What a sign-in came to, in a word. */
const outcomeOf = async (name: string, pin: string, address = ADDRESS): Promise<string> => {
  const outcome = await signIn(name, pin, address);
  return outcome.ok ? 'in' : outcome.refusal.kind;
};

beforeEach(async () => {
  now = new Date('2026-11-25T12:00:00Z');
  const opened = await openTestServices({ clock });
  ({ file, remove } = opened);
  ({ people } = opened.services);
});
afterEach(async () => {
  for (const services of more.splice(0)) await services.close();
  await remove();
});

const value = <T>(outcome: { ok: true; value: T } | { ok: false }): T => {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome));
  return outcome.value;
};

describe('a person', () => {
  it('signs in by name and PIN, however the name is written, and is found by the token until signing out', async () => {
    const added = value(await people.add('  Ans  de Wit ', PIN));
    expect(added.name).toBe('Ans de Wit');
    const { token, who } = value(await signIn('ANS DE WIT', PIN));
    expect(who).toEqual({ personId: added.id, name: 'Ans de Wit' });
    expect(await people.find(token)).toEqual(who);
    expect(await people.find(`${token}x`)).toBeUndefined();
    await people.signOut(token);
    expect(await people.find(token)).toBeUndefined();
  });

  it('has neither PIN nor token in the database', async () => {
    value(await people.add('Ans', PIN));
    const { token } = value(await signIn('Ans', PIN));
    const rows = await new Promise<unknown[]>((resolve, reject) => {
      const db: sqlite3.Database = new sqlite3.Database(file, () => db.all('select * from person, session', (error, found) => { db.close(); return error ? reject(error) : resolve(found); }));
    });
    const row = rows[0] as Record<string, unknown>;
    expect(rows).toHaveLength(1);
    expect(row['costLog2']).toBe(16);
    for (const held of Object.values(row)) expect([PIN, token]).not.toContain(Buffer.isBuffer(held) ? held.toString() : held);
  });

  it.each([
    ['Ans', '12345', 'pin'], ['Ans', '4938a7', 'pin'], ['Ans', '111111', 'pin'], ['Ans', '123456', 'pin'], ['Ans', '987654', 'pin'],
    ['Ans', '9'.repeat(33), 'pin'], ['', PIN, 'name'], ['a\nb\u0000', PIN, 'name'], ['x'.repeat(101), PIN, 'name'],
  ])('is refused as %j with PIN %j, and the PIN is not repeated', async (name, pin, path) => {
    const outcome = await people.add(name, pin);
    expect(outcome).toMatchObject({ ok: false, refusal: { kind: 'faults', faults: [{ path }] } });
    expect(JSON.stringify(outcome)).not.toContain(pin);
  });

  it('cannot have a name that reads like another\'s', async () => {
    value(await people.add('Ans', PIN));
    expect(await people.add('ＡNS', PIN)).toMatchObject({ ok: false, refusal: { faults: [{ path: 'name' }] } });
  });

  it('that is taken away is signed out everywhere at once, and cannot sign in', async () => {
    const { id } = value(await people.add('Ans', PIN));
    const tokens = [value(await signIn('Ans', PIN)).token, value(await signIn('Ans', PIN)).token];
    value(await people.remove(id));
    for (const token of tokens) expect(await people.find(token)).toBeUndefined();
    expect(await outcomeOf('Ans', PIN)).toBe('wrong-pin');
    expect(await people.remove(id)).toMatchObject({ ok: false, refusal: { kind: 'not-found' } });
  });

  it('changes the PIN with the old one: the other devices are signed out, this one is not', async () => {
    value(await people.add('Ans', PIN));
    const [here, there] = [value(await signIn('Ans', PIN)).token, value(await signIn('Ans', PIN)).token];
    expect(await people.changePin(here, { pin: '000001', newPin: '582614', address: ADDRESS })).toMatchObject({ ok: false, refusal: { kind: 'wrong-pin' } });
    value(await people.changePin(here, { pin: PIN, newPin: '582614', address: ADDRESS }));
    expect(await people.find(here)).toMatchObject({ name: 'Ans' });
    expect(await people.find(there)).toBeUndefined();
    expect([await outcomeOf('Ans', PIN), await outcomeOf('Ans', '582614')]).toEqual(['wrong-pin', 'in']);
    expect(await people.changePin('nobody', { pin: PIN, newPin: '582614', address: ADDRESS })).toMatchObject({ ok: false, refusal: { kind: 'signed-out' } });
  });

  it('is signed out after 30 days away, and after 180 in any case', async () => {
    value(await people.add('Ans', PIN));
    const { token } = value(await signIn('Ans', PIN));
    later(29 * 86_400);
    expect(await people.find(token)).toBeDefined();
    later(31 * 86_400);
    expect(await people.find(token)).toBeUndefined();
    const { token: kept } = value(await signIn('Ans', PIN));
    for (let day = 0; day < 175; day += 25) {
      expect(await people.find(kept)).toBeDefined();
      later(25 * 86_400);
    }
    later(10 * 86_400);
    expect(await people.find(kept)).toBeUndefined();
  });
});

describe('guessing', () => {
  it('waits longer after each wrong PIN, up to a quarter of an hour, and is locked out after twenty', () => {
    expect([1, 2, 3, 4, 5, 12, 19, 20].map((failures) => pauseAfter('name', failures) / 1000)).toEqual([0, 0, 2, 4, 8, 900, 900, 86_400]);
    expect([10, 11, 99, 100].map((failures) => pauseAfter('address', failures) / 1000)).toEqual([0, 2, 900, 86_400]);
  });

  it('is slowed by name, also for the right PIN, across a restart, and forgiven by the right one', async () => {
    value(await people.add('Ans', PIN));
    for (const _ of [1, 2, 3]) expect(await outcomeOf('Ans', '000001')).toBe('wrong-pin');
    expect(await outcomeOf('Ans', PIN, '192.168.7.99')).toBe('wait');
    const restarted = await openServices({ file, clock });
    more.push(restarted);
    expect(await restarted.people.signIn({ name: 'Ans', pin: PIN, address: ADDRESS })).toEqual({ ok: false, refusal: { kind: 'wait', until: new Date(now.getTime() + 2000) } });
    later(2.001);
    expect(await outcomeOf('Ans', PIN)).toBe('in');
    for (const _ of [1, 2]) expect(await outcomeOf('Ans', '000001')).toBe('wrong-pin');
    expect(await outcomeOf('Ans', PIN)).toBe('in');
  });

  it('does not tell a name that is there from one that is not', async () => {
    value(await people.add('Ans', PIN));
    const outcomes: string[][] = [];
    for (const name of ['Ans', 'Nobody']) {
      const said: string[] = [];
      for (const _ of [1, 2, 3, 4]) said.push(await outcomeOf(name, '000001', `10.0.0.${name.length}`));
      outcomes.push(said);
    }
    expect(outcomes[0]).toEqual(outcomes[1]);
  });

  it('is slowed by address over many names, and by the network of an IPv6 address', async () => {
    for (let n = 0; n < 11; n++) expect(await outcomeOf(`guess ${n}`, '000001', `fd12:0:0:1::${n.toString(16)}`)).toBe('wrong-pin');
    expect(await outcomeOf('another', '000001', 'fd12::1:ffff:0:0:1')).toBe('wait');
    expect(await outcomeOf('another', '000001', 'fd12:0:0:2::1')).toBe('wrong-pin');
  });

  it('counts many at once as many', async () => {
    value(await people.add('Ans', PIN));
    const said = await Promise.all(Array.from({ length: 12 }, () => outcomeOf('Ans', '000001')));
    expect(said.filter((word) => word === 'wrong-pin')).toHaveLength(3);
    expect(said.filter((word) => word === 'wait')).toHaveLength(9);
  });

  it('stops for a day after twenty, unless somebody at the machine lifts it', async () => {
    const { id } = value(await people.add('Ans', PIN));
    for (let n = 0; n < 20; n++) {
      expect(await outcomeOf('Ans', '000001', `10.1.${n}.1`)).toBe('wrong-pin');
      later(901);
    }
    later(80_000);
    expect(await outcomeOf('Ans', PIN)).toBe('wait');
    expect((await people.list())[0]).toMatchObject({ name: 'Ans', waitsUntil: expect.any(String) as string });
    value(await people.unlock(id));
    expect(await outcomeOf('Ans', PIN)).toBe('in');
    expect((await people.list())[0]).not.toHaveProperty('waitsUntil');
  });

  it('is forgotten a day after the last wrong one', async () => {
    for (const _ of [1, 2, 3]) await outcomeOf('Ans', '000001');
    later(86_401 + 2);
    for (const _ of [1, 2, 3]) expect(await outcomeOf('Ans', '000001')).toBe('wrong-pin');
  });
});
