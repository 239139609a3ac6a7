import type { Column } from '../snapshot/index.ts';
import type { BitColumn } from './index-bits.ts';

/**
 * What a record asks of one column, in codes of the snapshot: a part whose code lies outside low..high is out; inside, but outside
 * sureLow..sureHigh, it is in doubt. A part that does not say is not judged here.
 */
export interface ColumnGate {
  readonly column: Column;
  readonly low: number;
  readonly high: number;
  readonly sureLow: number;
  readonly sureHigh: number;
}

/** What a record asks of the sealing. */
export interface SealingGate {
  /** by code of the snapshot's sealing; the part that gives none is not judged here */
  readonly fates: readonly Fate[];
  /** least digits, each plus one, among the codes that are not out; 0 where one of them has that digit untested */
  readonly leastSolids: number;
  readonly leastWater: number;
}

export type Fate = 'out' | 'doubt' | 'sure';

/** What a record asks of parts that share the answer of every check that hangs on no column. */
export interface ProfileGate {
  /** place among the snapshot's profiles */
  readonly profile: number;
  /** no part of the profile can be direct or adapt */
  readonly doubt: boolean;
  /** What a part may leave unsaid without being out, and what of it puts the part in doubt; bits of `UNSAID`. */
  readonly outMask: number;
  readonly doubtMask: number;
  /** Probability that a part works, at most, by what it leaves unsaid. */
  chanceOf(mask: number): number;
}

/** A record's demands, ready to be asked of an index. */
export interface Gates {
  readonly columns: readonly ColumnGate[];
  readonly sealing: SealingGate | undefined;
  readonly profiles: readonly ProfileGate[];
}

/** The column of a gate whose bits are kept, if any. */
export function bitColumnOf(column: Column): BitColumn | undefined {
  switch (column) {
    case 'dutyS': case 'holdOhm': case 'pullInV': case 'inrushA': case 'continuousA': case 'ambientMinC': case 'ambientMaxC':
    case 'bodyLongMm': case 'bodyShortMm': case 'bodyHighMm': return column;
    case 'studThickMm': case 'studThinMm': case 'pinionModuleMm': case 'powerKw': case 'noseMm': return undefined;
    default: throw new Error(`column ${String(column satisfies never)} is not known`);
  }
}
