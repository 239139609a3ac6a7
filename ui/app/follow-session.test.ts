import { describe, expect, it } from 'vitest';
import type { SessionState } from '../../catalog-schema/index.ts';
import { Session, Settings, type AccessService, type Device, type Reach } from '../client/index.ts';
import { followSession } from './follow-session.ts';

const OUT: SessionState = { network: true, here: false, person: null, needsSignIn: true };
const signedInAs = (name: string): SessionState => ({ ...OUT, person: { name }, needsSignIn: false });
const CLOSED: SessionState = { network: false, here: true, person: null, needsSignIn: false };

function open(storage = new Map<string, string>()) {
  let answer: SessionState | undefined = OUT;
  let asked = 0;
  const access = {
    readSession: async () => { asked += 1; if (answer === undefined) throw new Error('no network'); return answer; },
    signIn: async ({ name }: { name: string }) => { answer = signedInAs(name); return answer; },
    signOut: async () => { answer = OUT; return OUT; },
  } as unknown as AccessService;
  const store = { getItem: (key: string) => storage.get(key) ?? null, setItem: (key: string, value: string) => { storage.set(key, value); }, removeItem: (key: string) => { storage.delete(key); } };
  const session = new Session(access, store);
  const settings = new Settings(store);
  const device = Object.assign(new EventTarget(), { reach: 'reached' as Reach });
  const told: string[] = [];
  followSession({ session, settings, device: device as unknown as Device, goOn: () => told.push('go on'), askToSignIn: () => told.push('ask') });
  return {
    session, settings, told, asked: () => asked, answer: (state: SessionState | undefined) => { answer = state; },
    reach: (reach: Reach) => { device.reach = reach; device.dispatchEvent(new Event('change')); },
  };
}

describe('who works on this device', () => {
  it('is asked at once where nobody has signed in yet, and stands beside what is entered after that', async () => {
    const page = open();
    page.settings.set({ author: 'typed here' });
    await page.session.read();
    expect([page.told, page.settings.values.author]).toEqual([['ask'], 'typed here']);
    await page.session.signIn('Ans', '493817');
    expect([page.told, page.settings.values.author]).toEqual([['ask', 'go on'], 'Ans']);
    await page.session.signOut();
    expect(page.settings.values.author).toBe('typed here');
  });

  it('is whoever was last, without a network and after the session ended; the page stays where it is', async () => {
    const storage = new Map<string, string>();
    await open(storage).session.signIn('Ans', '493817');
    const page = open(storage);
    page.answer(undefined);
    await page.session.read();
    expect([page.settings.values.author, page.told]).toEqual(['Ans', []]);
    page.answer(OUT);
    await page.session.read();
    expect([page.settings.values.author, page.session.needsSignIn, page.told]).toEqual(['Ans', true, []]);
    await page.session.signIn('Ans', '493817');
    expect(page.told).toEqual(['go on']);
  });

  it('goes on when another signs in, whose work may be what waits', async () => {
    const page = open();
    await page.session.signIn('Ans', '493817');
    page.told.length = 0;
    await page.session.signIn('Bob', '493817');
    await page.session.read();
    expect([page.told, page.settings.values.author]).toEqual([['go on'], 'Bob']);
  });

  it('is nobody at a server that asks nobody', async () => {
    const storage = new Map([['lugwright.person', 'Ans']]);
    const page = open(storage);
    page.answer(CLOSED);
    await page.session.read();
    expect([page.settings.values.author, page.told, storage.size]).toEqual(['', [], 0]);
  });

  it('is asked of the server once something could not be sent for want of a name, and not over and over', () => {
    const page = open();
    page.reach('unreachable');
    page.reach('signed-out');
    page.reach('signed-out');
    expect(page.asked()).toBe(1);
  });
});
