import { isIPv6 } from 'node:net';
import { deleteGuess, deleteOldGuesses, findGuess, putGuess, type GuessTable, type Store, type Tx } from '../../store/index.ts';
import type { Clock } from '../clock.ts';

// A PIN of six digits has a million values: what keeps it is that few can be tried. All figures are common practice, no source.

const DAY_MS = 86_400_000;
interface Patience { readonly free: number; readonly lockAt: number }
/** Wrong ones that cost no wait, and those after which a day has to pass. One address may be a whole shop's. */
const PATIENCE: Readonly<Record<GuessTable['of'], Patience>> = { name: { free: 2, lockAt: 20 }, address: { free: 10, lockAt: 100 } };
/** The wait doubles with each wrong one: 2 s, 4 s and so on up to this. */
const LONGEST_PAUSE_S = 900;

/** How long nothing is tried after so many wrong ones in a row. */
export function pauseAfter(of: GuessTable['of'], failures: number): number {
  const { free, lockAt } = PATIENCE[of];
  if (failures >= lockAt) return DAY_MS;
  return failures <= free ? 0 : Math.min(LONGEST_PAUSE_S, 2 ** (failures - free)) * 1000;
}

export interface Guesser { readonly nameKey: string; readonly address: string }

/** Counts wrong PINs by name and by address, in the database: a restart forgives nothing. */
export class GuessCounter {
  readonly #store: Store;
  readonly #clock: Clock;

  constructor(store: Store, clock: Clock) {
    this.#store = store;
    this.#clock = clock;
  }

  /**
   * Asks whether a PIN may be tried now, and counts it as wrong before it is looked at, so that many at once are counted as many.
   * Answers the moment before which nothing is tried, or undefined where it may be.
   */
  begin(guesser: Guesser): Promise<Date | undefined> {
    const now = this.#clock.now();
    return this.#store.transact(async (tx) => {
      await deleteOldGuesses(tx, new Date(now.getTime() - DAY_MS).toISOString());
      const places = placesOf(guesser);
      const rows = await Promise.all(places.map(({ of, key }) => findGuess(tx, of, key)));
      const until = rows.map((row) => row?.until ?? '').toSorted().at(-1)!;
      if (until > now.toISOString()) return new Date(until);
      for (const [index, { of, key }] of places.entries()) await this.#count(tx, of, key, (rows[index]?.failures ?? 0) + 1, now);
      return undefined;
    });
  }

  /** Takes back what `begin` counted: the PIN was right. Wrong ones under the name are forgotten; the address keeps its own. */
  async succeed(guesser: Guesser): Promise<void> {
    const now = this.#clock.now();
    await this.#store.transact(async (tx) => {
      await deleteGuess(tx, 'name', guesser.nameKey);
      const [, { of, key }] = placesOf(guesser);
      const row = await findGuess(tx, of, key);
      if (row !== undefined) await this.#count(tx, of, key, row.failures - 1, now);
    });
  }

  async #count(tx: Tx, of: GuessTable['of'], key: string, failures: number, now: Date): Promise<void> {
    if (failures <= 0) return deleteGuess(tx, of, key);
    await putGuess(tx, { of, key, failures, lastAt: now.toISOString(), until: new Date(now.getTime() + pauseAfter(of, failures)).toISOString() });
  }
}

function placesOf({ nameKey, address }: Guesser): [{ of: 'name'; key: string }, { of: 'address'; key: string }] {
  return [{ of: 'name', key: nameKey }, { of: 'address', key: writeAddressKey(address) }];
}

/** IPv4 as it is; of IPv6 the network, since a device may have as many addresses in it as it likes. */
function writeAddressKey(address: string): string {
  const plain = address.replace(/^::ffff:(?=[\d.]+$)/i, '').replace(/%.*$/, '');
  if (!isIPv6(plain)) return plain;
  const [head = '', tail] = plain.split('::');
  const before = head === '' ? [] : head.split(':');
  const after = tail === undefined || tail === '' ? [] : tail.split(':');
  const groups = tail === undefined ? before : [...before, ...Array<string>(Math.max(0, 8 - before.length - after.length)).fill('0'), ...after];
  return `${groups.slice(0, 4).map((group) => group.replace(/^0+(?=.)/, '').toLowerCase()).join(':')}::/64`;
}
