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

/** Puts a part together. `shared` gives a piece as it was parsed: parts that share it share the object, so nobody may change it. */
export function putTogether(keys: readonly string[], own: readonly unknown[], shared: (piece: SharedPiece) => readonly unknown[]): Part {
  const part: Record<string, unknown> = {};
  for (const key of keys) {
    const [piece, position] = PLACE_OF.get(key as keyof Part)!;
    part[key] = (piece === 'own' ? own : shared(piece))[position];
  }
  return part as unknown as Part;
}

const PLACE_OF = new Map<keyof Part, readonly [SharedPiece | 'own', number]>([
  ...SHARED_PIECES.flatMap((piece) => KEYS_OF[piece].map((key, position): [keyof Part, [SharedPiece, number]] => [key, [piece, position]])),
  ...OWN_KEYS.map((key, position): [keyof Part, ['own', number]] => [key, ['own', position]]),
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
