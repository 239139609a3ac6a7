import { randomBytes, scrypt, timingSafeEqual, type ScryptOptions } from 'node:crypto';
import { promisify } from 'node:util';
import type { InputFault, Read } from '../../../catalog-schema/index.ts';

const MOST_NAME = 100;
const LEAST_PIN = 6;
const MOST_PIN = 32;

/** scrypt as RFC 7914 has it: 64 MB and some tenths of a second a guess. */
const COST_LOG2 = 16;
const KEY_BYTES = 32;
const SALT_BYTES = 16;

export interface HashedPin {
  readonly salt: Uint8Array;
  readonly hash: Uint8Array;
  readonly costLog2: number;
}

/** A person's name without spaces around it, and as it is compared: in small letters, look-alike forms of one letter made one. */
export function readName(name: string): Read<{ name: string; nameKey: string }> {
  const trimmed = name.normalize('NFC').replace(/\s+/gu, ' ').trim();
  if (trimmed === '' || [...trimmed].length > MOST_NAME || /[\p{Cc}\p{Cf}\p{Surrogate}]/u.test(trimmed)) {
    return refuse('name', trimmed === '' ? 'nothing' : JSON.stringify(trimmed.slice(0, 60)), `a name of 1 to ${MOST_NAME} characters on one line`);
  }
  return { ok: true, value: { name: trimmed, nameKey: writeNameKey(trimmed) } };
}

export function writeNameKey(name: string): string {
  return name.normalize('NFKC').toLowerCase().replace(/\s+/gu, ' ').trim().slice(0, MOST_NAME * 4);
}

/** A new PIN: digits, and not the first ones that anybody would try. The PIN itself is not repeated in a fault. */
export function readNewPin(pin: string, path: string): Read<string> {
  if (!/^\d+$/.test(pin)) return refuse(path, pin === '' ? 'nothing' : 'something with other characters than digits', `${LEAST_PIN} to ${MOST_PIN} digits`);
  if (pin.length < LEAST_PIN || pin.length > MOST_PIN) return refuse(path, `${pin.length} digits`, `${LEAST_PIN} to ${MOST_PIN} digits`);
  const steps = new Set([...pin].slice(1).map((digit, index) => (Number(digit) - Number(pin[index]) + 10) % 10));
  if (steps.size === 1 && [0, 1, 9].includes([...steps][0]!)) return refuse(path, 'digits in a row', 'digits that are not all alike and do not count up or down');
  return { ok: true, value: pin };
}

const derive = promisify<string, Uint8Array, number, ScryptOptions, Buffer>(scrypt);
let last: Promise<unknown> = Promise.resolve();

/** One at a time: many guesses at once would fill the memory and keep the database's threads from their work. */
function deriveInTurn(pin: string, salt: Uint8Array, costLog2: number): Promise<Buffer> {
  const mine = last.then(() => derive(pin, salt, KEY_BYTES, { N: 2 ** costLog2, r: 8, p: 1, maxmem: 2 ** costLog2 * 8 * 128 * 2 }));
  last = mine.catch(() => undefined);
  return mine;
}

export async function hashPin(pin: string): Promise<HashedPin> {
  const salt = randomBytes(SALT_BYTES);
  return { salt, hash: await deriveInTurn(pin, salt, COST_LOG2), costLog2: COST_LOG2 };
}

const NOBODY: HashedPin = { salt: randomBytes(SALT_BYTES), hash: randomBytes(KEY_BYTES), costLog2: COST_LOG2 };

/** Whether the PIN is the one that was hashed. Without a hash, as for a name that nobody has, it takes as long and is false. */
export async function isPin(pin: string, hashed: HashedPin | undefined): Promise<boolean> {
  const { salt, hash, costLog2 } = hashed ?? NOBODY;
  const derived = await deriveInTurn(pin.slice(0, MOST_PIN + 1), salt, costLog2);
  return timingSafeEqual(derived, hash) && hashed !== undefined;
}

function refuse(path: string, found: string, want: string): { ok: false; faults: InputFault[] } {
  return { ok: false, faults: [{ path, found, want }] };
}
