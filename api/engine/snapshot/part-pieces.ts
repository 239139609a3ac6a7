import type { Part } from '../../../catalog-schema/index.ts';

/**
 * What many parts have alike, each piece kept once as JSON text, and what is a part's own. A part put together again is deep-equal to the
 * one that was taken apart, its keys in the same order.
 */
export const SHARED_PIECES = ['terminals', 'circuit', 'mounting', 'body', 'rating', 'starter'] as const;
export type SharedPiece = (typeof SHARED_PIECES)[number];

export interface PartPieces {
  /** the part's keys, in order */
  readonly keys: string;
  readonly shared: Readonly<Record<SharedPiece, string>>;
  /** its id and what else is the part's own */
  readonly own: string;
}

/** Which of a part's keys each piece holds; the piece is the list of their values, null for a key that is not there. */
const KEYS_OF: Readonly<Record<SharedPiece, readonly (keyof Part)[]>> = {
  terminals: ['terminals'], circuit: ['circuit', 'inside'], mounting: ['mounting'], body: ['body'],
  rating: ['partClass', 'sealing', 'ambientC'], starter: ['starter'],
};
const OWN_KEYS: readonly (keyof Part)[] = ['id', 'title', 'numbers', 'replaces', 'supersededBy'];

export function takeApart(part: Part): PartPieces {
  const write = hasMinusZero(part) ? writeWithMinusZero : (value: unknown): string => JSON.stringify(value);
  const list = (keys: readonly (keyof Part)[]): string => write(keys.map((key) => part[key] ?? null));
  return {
    keys: JSON.stringify(Object.keys(part).filter((key) => part[key as keyof Part] !== undefined)),
    shared: {
      terminals: list(KEYS_OF.terminals), circuit: list(KEYS_OF.circuit), mounting: list(KEYS_OF.mounting), body: list(KEYS_OF.body),
      rating: list(KEYS_OF.rating), starter: list(KEYS_OF.starter),
    },
    own: list(OWN_KEYS),
  };
}

/** What a part's own comes by instead of the number of a shared piece. */
export const OWN = -1;

/** How a part of some keys is put together: for each key, in order, the piece that holds its value (its place in SHARED_PIECES, or OWN) and where in it. */
export type Recipe = readonly { readonly key: string; readonly piece: number; readonly position: number }[];

/** Parts put together share the pieces they share: nobody may change them. */
export function writeRecipe(keys: readonly string[]): Recipe {
  return keys.map((key) => ({ key, ...PLACE_OF.get(key as keyof Part)! }));
}

const PLACE_OF = new Map<keyof Part, { readonly piece: number; readonly position: number }>([
  ...SHARED_PIECES.flatMap((name, piece) => KEYS_OF[name].map((key, position): [keyof Part, { piece: number; position: number }] => [key, { piece, position }])),
  ...OWN_KEYS.map((key, position): [keyof Part, { piece: number; position: number }] => [key, { piece: OWN, position }]),
]);

/** JSON text knows -0, JSON.stringify does not write it. */
function hasMinusZero(value: unknown): boolean {
  if (typeof value === 'number') return Object.is(value, -0);
  if (typeof value !== 'object' || value === null) return false;
  for (const key in value) if (hasMinusZero((value as Record<string, unknown>)[key])) return true;
  return false;
}

function writeWithMinusZero(value: unknown): string {
  if (Object.is(value, -0)) return '-0';
  if (Array.isArray(value)) return `[${value.map(writeWithMinusZero).join(',')}]`;
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  return `{${Object.entries(value).filter(([, each]) => each !== undefined).map(([key, each]) => `${JSON.stringify(key)}:${writeWithMinusZero(each)}`).join(',')}}`;
}
