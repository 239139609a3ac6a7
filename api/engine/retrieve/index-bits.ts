import { COLUMNS, NO_CODE, type Column, type Snapshot } from '../snapshot/index.ts';

/**
 * What a part may leave unsaid, one bit each of a slot's mask. `dutyTime` is an intermittent duty without its time, `sealingDigit` an
 * IEC 60529 code with a digit that was not tested.
 */
export const UNSAID = [
  'dutyS', 'dutyTime', 'holdOhm', 'pullInV', 'inrushA', 'continuousA', 'ambientC', 'body', 'sealing', 'sealingDigit', 'mounting', 'stud', 'pinionModuleMm', 'powerKw', 'noseMm',
] as const;
export type Unsaid = (typeof UNSAID)[number];

/** Bits behind those of UNSAID: the slots that hold a part. */
export const PRESENT = UNSAID.length;

export function bitOf(unsaid: Unsaid): number {
  return 1 << UNSAID.indexOf(unsaid);
}

/** Columns that are looked at 32 parts at a time; the sealing's two digits are columns here. The others are looked at one part at a time. */
export const BIT_COLUMNS = [
  'dutyS', 'holdOhm', 'pullInV', 'inrushA', 'continuousA', 'ambientMinC', 'ambientMaxC', 'bodyLongMm', 'bodyShortMm', 'bodyHighMm', 'sealingSolids', 'sealingWater',
] as const;
export type BitColumn = (typeof BIT_COLUMNS)[number];

/** Columns of which more is worse: a part passes with at most so much. */
const MOST: ReadonlySet<BitColumn> = new Set<BitColumn>(['pullInV', 'ambientMinC', 'bodyLongMm', 'bodyShortMm', 'bodyHighMm']);

export function isMost(column: BitColumn): boolean {
  return MOST.has(column);
}

/** Most limits of a column for which bits are kept; the parts between two limits are told apart one at a time. */
export const MOST_LIMITS = 12;

/** A column's codes row by row, 0 for a part that does not say; as `ValueColumn`, also for the sealing's digits. */
export interface CodeColumn {
  readonly codes: Uint16Array | Uint32Array | Uint8Array;
  /** number of distinct codes from 1 */
  readonly count: number;
}

/** The codes a snapshot's bits are made from. A digit d of the sealing is code d + 1; an untested one is 0, as is a code not given. */
export function listBitColumns(snapshot: Snapshot): ReadonlyMap<BitColumn, CodeColumn> {
  const digits = (position: number): CodeColumn => {
    const byCode = Uint8Array.from(snapshot.sealingCodes, (code) => (code[position] === undefined || code[position] === 'X' ? 0 : Number(code[position]) + 1));
    return { codes: Uint8Array.from(snapshot.sealing, (code) => byCode[code]!), count: 10 };
  };
  return new Map(BIT_COLUMNS.map((column): [BitColumn, CodeColumn] => {
    if (column === 'sealingSolids') return [column, digits(2)];
    if (column === 'sealingWater') return [column, digits(3)];
    const { codes, values } = snapshot.column(column);
    return [column, { codes, count: values.length }];
  }));
}

/** The mask of what each row leaves unsaid. */
export function maskRows(snapshot: Snapshot): Uint16Array {
  const masks = new Uint16Array(snapshot.count);
  const mark = (column: Column, unsaid: Unsaid, code = 0): void => {
    const { codes } = snapshot.column(column);
    const bit = bitOf(unsaid);
    for (let row = 0; row < masks.length; row++) if (codes[row] === code) masks[row]! |= bit;
  };
  for (const column of COLUMNS) {
    switch (column) {
      case 'dutyS': case 'holdOhm': case 'pullInV': case 'inrushA': case 'continuousA': case 'pinionModuleMm': case 'powerKw': case 'noseMm': mark(column, column); break;
      case 'ambientMinC': mark(column, 'ambientC'); break;
      case 'bodyHighMm': mark(column, 'body'); break;
      case 'studThickMm': mark(column, 'stud'); break;
      // Said together with one of the others, or not at all.
      case 'ambientMaxC': case 'bodyLongMm': case 'bodyShortMm': case 'studThinMm': break;
      default: throw new Error(`column ${String(column satisfies never)} is not known`);
    }
  }
  if (snapshot.column('dutyS').values[0] === -1) mark('dutyS', 'dutyTime', 1);
  const untested = snapshot.sealingCodes.map((code) => (code === '' ? bitOf('sealing') : code.slice(2, 4).includes('X') ? bitOf('sealingDigit') : 0));
  const withoutMounting = bitOf('mounting');
  for (let row = 0; row < masks.length; row++) {
    masks[row]! |= untested[snapshot.sealing[row]!]!;
    if (snapshot.patterns[row] === NO_CODE) masks[row]! |= withoutMounting;
  }
  return masks;
}
