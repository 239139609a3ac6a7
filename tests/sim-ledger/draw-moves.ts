import type { StockMoveRequest } from '../../catalog-schema/index.ts';

export const PARTS = ['relay-a', 'relay-b', 'relay-c', 'starter-a', 'starter-b'] as const;
export const BINS = ['A1', 'A2', 'B1', 'C4'] as const;

export type Roll = (sides: number) => number;

/** A fixed sequence, so that a failure can be had again. */
export function makeDice(seed: number): Roll {
  let state = seed >>> 0;
  return (sides) => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((state / 2 ** 32) * sides);
  };
}

/** What a device asks of the shelf: moves together, or the older doors for one reservation. */
export type Asked =
  | { readonly kind: 'moves'; readonly moves: readonly StockMoveRequest[] }
  | { readonly kind: 'reserve'; readonly body: { id: string; partId: string; qty: number; jobId?: string; at: string } }
  | { readonly kind: 'release'; readonly id: string };

/** What a device knows of what it holds. */
export interface Held { readonly id: string; readonly partId: string; readonly bin: string; readonly qty: number }

export interface DrawWorld {
  readonly roll: Roll;
  readonly jobs: readonly string[];
  readonly held: readonly Held[];
  readonly at: string;
}

/** UUIDs out of the dice: the same seed sends the same ids. */
export function drawId(roll: Roll): string {
  const hex = (digits: number): string => Array.from({ length: digits }, () => roll(16).toString(16)).join('');
  return `${hex(8)}-${hex(4)}-4${hex(3)}-8${hex(3)}-${hex(12)}`;
}

/** Something a shop does at random: mostly what makes sense, some of it more than there is. */
export function drawAsked(world: DrawWorld): Asked {
  const { roll, at, held } = world;
  const pick = <T>(list: readonly T[]): T => list[roll(list.length)]!;
  const mine = held.length > 0 ? pick(held) : undefined;
  const dice = roll(100);
  if (dice < 8) return { kind: 'reserve', body: { id: drawId(roll), partId: pick(PARTS), qty: 1 + roll(4), ...(roll(3) === 0 ? {} : { jobId: pick(world.jobs) }), at } };
  if (dice < 13 && mine !== undefined) return { kind: 'release', id: mine.id };
  if (dice < 21 && mine !== undefined) {
    // The part is fetched from the bin and fitted.
    const place = { partId: mine.partId, bin: mine.bin, qty: mine.qty, reservationId: mine.id, at };
    return { kind: 'moves', moves: [{ ...place, id: drawId(roll), kind: 'release' }, { ...place, id: drawId(roll), kind: 'out' }] };
  }
  return { kind: 'moves', moves: Array.from({ length: 1 + (roll(4) === 0 ? roll(3) : 0) }, () => drawMove(world)) };
}

function drawMove({ roll, at, jobs }: DrawWorld): StockMoveRequest {
  const pick = <T>(list: readonly T[]): T => list[roll(list.length)]!;
  const place = { id: drawId(roll), partId: pick(PARTS), bin: pick(BINS), at };
  const qty = 1 + roll(5);
  switch (roll(12)) {
    case 0: case 1: case 2: return { ...place, kind: 'in', qty: qty + 2, unitCost: (1_000 + roll(900_000)) / 10_000 };
    case 3: case 4: return { ...place, kind: 'out', qty };
    case 5: case 6: return { ...place, kind: 'reserve', qty, jobId: pick(jobs) };
    case 7: return { ...place, kind: 'reserve', qty: 1 };
    case 8: return { ...place, kind: 'release', qty: 1 };
    case 9: return { ...place, kind: 'count', qty: roll(12), reason: 'counted' };
    case 10: return roll(2) === 0 ? { ...place, kind: 'scrap', qty: 1, reason: 'broken' } : { ...place, kind: 'return', qty: 1 };
    default: {
      const others = BINS.filter((bin) => bin !== place.bin);
      return { ...place, kind: 'transfer', qty, toBin: pick(others) };
    }
  }
}
