import type { Prices } from '../../../catalog-schema/index.ts';
import { firstCodeWhere, type Snapshot } from '../snapshot/index.ts';
import { createSupply, type Supply } from '../source/index.ts';
import { BIT_COLUMNS, bitOf, isMost, listBitColumns, maskRows, MOST_LIMITS, PRESENT, UNSAID, type BitColumn, type CodeColumn } from './index-bits.ts';

/** `landed` of a part that nobody sells. */
export const UNPRICED = 0xffffffff;

/** The parts of one profile, in the order of what they cost here. A slot is a part's place in that order. */
export interface Partition {
  /** place among the snapshot's profiles */
  readonly profile: number;
  /** first slot, a multiple of 32; slots from `start + count` to the next multiple are empty */
  readonly start: number;
  readonly count: number;
  readonly words: number;
  /** where its bits begin; each list of bits takes `words` */
  readonly bitsAt: number;
  /** of each column the codes for which bits are kept, rising */
  readonly limits: ReadonlyMap<BitColumn, { readonly first: number; readonly codes: readonly number[] }>;
}

/**
 * A catalogue sorted out for one price list, or for none. Within parts of equal profile slots stand in order of what one unit needed today
 * costs (part and wait), then of id. For each slot there is a bit for each thing it says, and for each of some limits of each column whether
 * it is on their right side or does not say; so 32 parts are sorted out by one operation a limit, and the first ones found are the cheapest.
 */
export interface PriceIndex {
  readonly snapshot: Snapshot;
  /** undefined without prices */
  readonly supply: Supply | undefined;
  /** one for each profile of the snapshot, in their order */
  readonly partitions: readonly Partition[];
  /** row of each slot */
  readonly rows: Uint32Array;
  /** part and wait in minor units, UNPRICED where nobody sells it; 0 everywhere without prices */
  readonly landed: Uint32Array;
  /** what each slot leaves unsaid */
  readonly masks: Uint16Array;
  readonly bits: Uint32Array;
}

/** Sorts a catalogue out for a price list. Some 3 s for a million parts with prices, 0.5 s without. */
export function compilePrices(snapshot: Snapshot, prices: Prices | undefined, supply: Supply | undefined = prices && createSupply(prices)): PriceIndex {
  const columns = listBitColumns(snapshot);
  const rowMasks = maskRows(snapshot);
  const landedOfRow = supply && landRows(snapshot, supply);
  const slots = snapshot.profiles.reduce((sum, { start, end }) => sum + wordsFor(end - start) * 32, 0);
  const rows = new Uint32Array(slots);
  const landed = new Uint32Array(slots).fill(UNPRICED);
  const masks = new Uint16Array(slots);
  const partitions: Partition[] = [];
  let start = 0;
  let bitsAt = 0;
  snapshot.profiles.forEach((profile, number) => {
    const count = profile.end - profile.start;
    const words = wordsFor(count);
    sortByLanded(profile.start, count, landedOfRow).forEach((row, at) => {
      rows[start + at] = row;
      landed[start + at] = landedOfRow ? landedOfRow[row]! : 0;
      masks[start + at] = rowMasks[row]!;
    });
    const limits = new Map<BitColumn, { first: number; codes: number[] }>();
    let first = PRESENT + 1;
    for (const [name, column] of columns) {
      const codes = chooseLimits(column, profile.start, count, isMost(name));
      limits.set(name, { first, codes });
      first += codes.length;
    }
    partitions.push({ profile: number, start, count, words, bitsAt, limits });
    start += words * 32;
    bitsAt += words * first;
  });
  const bits = new Uint32Array(bitsAt);
  for (const partition of partitions) {
    writeSaid(bits, partition, masks);
    for (const name of BIT_COLUMNS) writeLimits(bits, partition, name, columns.get(name)!, rows, masks);
  }
  return { snapshot, supply, partitions, rows, landed, masks, bits };
}

/** The slot of a row: by its profile, what it costs, then its place. */
export function slotOf({ snapshot, partitions, rows, landed, supply }: PriceIndex, row: number): number {
  const partition = partitions[snapshot.profileAt(row)]!;
  const landedMinor = supply ? landOne(supply, snapshot.idAt(row)) : 0;
  const end = partition.start + partition.count;
  let low = partition.start;
  let high = end;
  while (low < high) {
    const middle = (low + high) >>> 1;
    const apart = landed[middle]! - landedMinor || rows[middle]! - row;
    if (apart < 0) low = middle + 1;
    else high = middle;
  }
  if (low === end || rows[low] !== row) throw new Error(`row ${row} has no slot`);
  return low;
}

function wordsFor(count: number): number {
  return (count + 31) >>> 5;
}

function landRows(snapshot: Snapshot, supply: Supply): Uint32Array {
  const landed = new Uint32Array(snapshot.count);
  for (let row = 0; row < landed.length; row++) landed[row] = landOne(supply, snapshot.idAt(row));
  return landed;
}

/** What costs more than 42 million units of money is shown at that: a bound may be too low, never too high. */
function landOne(supply: Supply, id: string): number {
  const landedMinor = supply.landedOf(id);
  return landedMinor === undefined ? UNPRICED : Math.min(landedMinor, UNPRICED - 1);
}

/** Rows from `first` in order of what they cost; rows of equal cost stay in order of id. */
function sortByLanded(first: number, count: number, landed: Uint32Array | undefined): Uint32Array {
  if (!landed) return Uint32Array.from({ length: count }, (_, at) => first + at);
  if (count <= 2 ** 21) {
    const packed = Float64Array.from({ length: count }, (_, at) => landed[first + at]! * 2 ** 21 + at).sort();
    return Uint32Array.from(packed, (pair) => first + (pair % 2 ** 21));
  }
  return Uint32Array.from({ length: count }, (_, at) => first + at).sort((a, b) => landed[a]! - landed[b]! || a - b);
}

/** Codes that cut the parts of a profile into about equal shares. For 'most' a limit is the greatest code on its right side. */
function chooseLimits({ codes }: CodeColumn, first: number, count: number, most: boolean): number[] {
  const all = codes.slice(first, first + count).sort();
  // Those who do not say come first: they have no code to cut at.
  const sorted = all.subarray(firstCodeWhere(count, (place) => all[place - 1] !== 0) - 1);
  const limits = new Set<number>();
  for (let cut = 1; cut <= MOST_LIMITS; cut++) {
    const code = sorted[Math.floor((cut * sorted.length) / (MOST_LIMITS + 1))];
    if (code !== undefined) limits.add(code);
  }
  if (sorted.length > 0) limits.add(most ? sorted[0]! : sorted[sorted.length - 1]!);
  return [...limits].sort((a, b) => a - b).slice(most ? 0 : -MOST_LIMITS).slice(0, MOST_LIMITS);
}

/** A bit for each thing that is said. */
function writeSaid(bits: Uint32Array, { start, count, words, bitsAt }: Partition, masks: Uint16Array): void {
  for (let at = 0; at < count; at++) {
    const said = ~masks[start + at]!;
    const word = bitsAt + (at >>> 5);
    const bit = 1 << (at & 31);
    for (let which = 0; which < UNSAID.length; which++) if ((said >>> which) & 1) bits[word + which * words]! |= bit;
    bits[word + PRESENT * words]! |= bit;
  }
}

/** A bit where the part is on the right side of the limit, or does not say. */
function writeLimits(bits: Uint32Array, partition: Partition, name: BitColumn, { codes }: CodeColumn, rows: Uint32Array, masks: Uint16Array): void {
  const { start, count, words, bitsAt, limits } = partition;
  const { first, codes: limit } = limits.get(name)!;
  const most = isMost(name);
  const open = name === 'dutyS' ? bitOf('dutyTime') : 0;
  // Bits of parts by how many limits they are on the right side of: each limit's bits are then those of its number and all above.
  const reached = new Uint32Array(limit.length + 1);
  for (let word = 0; word < words; word++) {
    reached.fill(0);
    const end = Math.min(count, word * 32 + 32);
    for (let at = word * 32; at < end; at++) {
      const code = codes[rows[start + at]!]!;
      let right = 0;
      if (code === 0 || (masks[start + at]! & open) !== 0) right = limit.length;
      else if (most) while (right < limit.length && code <= limit[limit.length - 1 - right]!) right++;
      else while (right < limit.length && code >= limit[right]!) right++;
      reached[right]! |= 1 << (at & 31);
    }
    let together = 0;
    for (let right = limit.length; right > 0; right--) {
      together |= reached[right]!;
      const which = most ? limit.length - right : right - 1;
      bits[bitsAt + (first + which) * words + word] = together;
    }
  }
}
