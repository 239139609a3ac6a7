import { createHash, randomBytes, randomUUID } from 'node:crypto';
import type { PersonState } from '../../../catalog-schema/index.ts';
import {
  deleteGuess, deleteOldSessions, deletePerson, deleteSession, deleteSessionsOf, findPerson, findPersonByName, findSession, insertPerson,
  insertSession, listGuessesAtNames, listPeople, updatePin, updateSeen, type PersonTable, type Store,
} from '../../store/index.ts';
import type { Clock } from '../clock.ts';
import { done, refuse, refuseFault, type Outcome } from '../outcome.ts';
import { GuessCounter } from './guessing.ts';
import { hashPin, isPin, readName, readNewPin, writeNameKey } from './names-and-pins.ts';

const HOUR_MS = 3_600_000;
/** A device that stays away longer has to sign in again: long enough for a job in the field, with what was done there waiting. */
export const SESSION_DAYS = { unseen: 30, most: 180 } as const;

/** Somebody who is signed in. */
export interface Who { readonly personId: string; readonly name: string }
export interface SignIn { readonly name: string; readonly pin: string; readonly address: string }

/** The people who may use the server from the network, and who of them is signed in where. */
export interface PeopleService {
  list(): Promise<PersonState[]>;
  add(name: string, pin: string): Promise<Outcome<PersonState>>;
  /** Takes somebody away, and ends their sessions. */
  remove(id: string): Promise<Outcome<null>>;
  /** A new PIN without the old one, for who forgot it: for the machine itself only. Ends their sessions. */
  resetPin(id: string, pin: string): Promise<Outcome<null>>;
  /** Lets somebody try again at once. */
  unlock(id: string): Promise<Outcome<null>>;
  /** The token that the device keeps; it is stored nowhere. Each wrong PIN makes the next one wait. */
  signIn(signIn: SignIn): Promise<Outcome<{ token: string; who: Who }>>;
  /** A new PIN for who knows the old one; their other sessions end. */
  changePin(token: string, pins: { pin: string; newPin: string; address: string }): Promise<Outcome<null>>;
  signOut(token: string): Promise<void>;
  /** Who holds this token; undefined where nobody does, or not any more. */
  find(token: string): Promise<Who | undefined>;
}

export function createPeopleService(store: Store, clock: Clock): PeopleService {
  const counter = new GuessCounter(store, clock);
  const before = (ms: number): string => new Date(clock.now().getTime() - ms).toISOString();

  /** Compares a PIN with somebody's, counting it. */
  const tryPin = async (person: PersonTable | undefined, nameKey: string, pin: string, address: string): Promise<Outcome<PersonTable>> => {
    const until = await counter.begin({ nameKey, address });
    if (until !== undefined) return refuse({ kind: 'wait', until });
    if (!await isPin(pin, person) || person === undefined) return refuse({ kind: 'wrong-pin' });
    await counter.succeed({ nameKey, address });
    return done(person);
  };

  const withPerson = (id: string, work: (tx: Parameters<Parameters<Store['transact']>[0]>[0], person: PersonTable) => Promise<void>): Promise<Outcome<null>> => (
    store.transact(async (tx) => {
      const person = await findPerson(tx, id);
      if (person === undefined) return refuse({ kind: 'not-found', what: `nobody with the id ${JSON.stringify(id.slice(0, 60))}` });
      await work(tx, person);
      return done(null);
    })
  );

  return {
    list: async () => {
      const waits = new Map((await listGuessesAtNames(store.db)).map((guess) => [guess.key, guess.until]));
      const now = clock.now().toISOString();
      return (await listPeople(store.db)).map(({ id, name, nameKey, at }) => {
        const until = waits.get(nameKey);
        return { id, name, at, ...(until !== undefined && until > now ? { waitsUntil: until } : {}) };
      });
    },
    add: async (wanted, wantedPin) => {
      const name = readName(wanted);
      const pin = readNewPin(wantedPin, 'pin');
      const faults = [...(name.ok ? [] : name.faults), ...(pin.ok ? [] : pin.faults)];
      if (!name.ok || !pin.ok) return refuse({ kind: 'faults', faults });
      const hashed = await hashPin(pin.value);
      return store.transact(async (tx) => {
        if (await findPersonByName(tx, name.value.nameKey) !== undefined) {
          return refuseFault('name', JSON.stringify(name.value.name), 'a name that nobody here has');
        }
        const person = { id: randomUUID(), ...name.value, ...hashed, at: clock.now().toISOString() };
        await insertPerson(tx, person);
        return done({ id: person.id, name: person.name, at: person.at });
      });
    },
    remove: (id) => withPerson(id, async (tx, { nameKey }) => {
      await deletePerson(tx, id);
      await deleteGuess(tx, 'name', nameKey);
    }),
    resetPin: async (id, wantedPin) => {
      const pin = readNewPin(wantedPin, 'pin');
      if (!pin.ok) return refuse({ kind: 'faults', faults: pin.faults });
      const hashed = await hashPin(pin.value);
      return withPerson(id, async (tx, { nameKey }) => {
        await updatePin(tx, id, hashed);
        await deleteSessionsOf(tx, id);
        await deleteGuess(tx, 'name', nameKey);
      });
    },
    unlock: (id) => withPerson(id, (tx, { nameKey }) => deleteGuess(tx, 'name', nameKey)),
    signIn: async ({ name, pin, address }) => {
      const nameKey = writeNameKey(name);
      const tried = await tryPin(await findPersonByName(store.db, nameKey), nameKey, pin, address);
      if (!tried.ok) return tried;
      const token = randomBytes(32).toString('base64url');
      const now = clock.now().toISOString();
      return store.transact(async (tx) => {
        await deleteOldSessions(tx, before(SESSION_DAYS.most * 24 * HOUR_MS), before(SESSION_DAYS.unseen * 24 * HOUR_MS));
        // Taken away, or given another PIN, while this one was compared.
        const person = await findPerson(tx, tried.value.id);
        if (person === undefined || !Buffer.from(person.hash).equals(tried.value.hash)) return refuse({ kind: 'wrong-pin' });
        await insertSession(tx, { tokenHash: hashToken(token), personId: person.id, beganAt: now, seenAt: now });
        return done({ token, who: { personId: person.id, name: person.name } });
      });
    },
    changePin: async (token, { pin, newPin, address }) => {
      const wanted = readNewPin(newPin, 'newPin');
      if (!wanted.ok) return refuse({ kind: 'faults', faults: wanted.faults });
      const session = await findSession(store.db, hashToken(token));
      const person = session === undefined ? undefined : await findPerson(store.db, session.personId);
      if (person === undefined) return refuse({ kind: 'signed-out' });
      const tried = await tryPin(person, person.nameKey, pin, address);
      if (!tried.ok) return tried;
      const hashed = await hashPin(wanted.value);
      return withPerson(person.id, async (tx) => {
        await updatePin(tx, person.id, hashed);
        await deleteSessionsOf(tx, person.id, hashToken(token));
      });
    },
    signOut: (token) => store.transact((tx) => deleteSession(tx, hashToken(token))),
    find: async (token) => {
      const session = await findSession(store.db, hashToken(token));
      if (session === undefined || session.beganAt < before(SESSION_DAYS.most * 24 * HOUR_MS) || session.seenAt < before(SESSION_DAYS.unseen * 24 * HOUR_MS)) return undefined;
      if (session.seenAt < before(HOUR_MS)) await store.transact((tx) => updateSeen(tx, session.tokenHash, clock.now().toISOString()));
      return { personId: session.personId, name: session.name };
    },
  };
}

/** The token has 256 random bits: a plain hash of it tells nobody anything. */
function hashToken(token: string): string {
  return createHash('sha256').update(token).digest('hex');
}
