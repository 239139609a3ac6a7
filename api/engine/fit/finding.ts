import { intervalOf, type Criterion, type InstrumentClass, type KitItem, type Measured, type Part } from '../../../catalog-schema/index.ts';
import { normalTail } from '../normal-tail.ts';
import { describeInstrument, describeSetting, settingOf, type SettingName } from '../settings.ts';

export type Outcome = 'pass' | 'work' | 'unknown' | 'fail';

/** A reading that would settle an unknown check: taken at the bench, or asked of whoever made the part. */
export interface Reading {
  readonly what: string;
  readonly from: 'bench' | 'maker';
}

/** A reading to be asked of whoever made the part on offer, or taken from the part in the hand. */
export function askMaker(what: string, part: Pick<Part, 'id'>): Reading {
  return { what: `${what} of ${part.id}`, from: 'maker' };
}

/** What pull-in and wiring hang on together where the path from battery to coil is known within an interval. */
export const START_CIRCUIT = 'resistance of the start circuit';
export const ASK_CONTROL_OHM: Reading = { what: 'resistance of the start circuit, battery post to coil, with a milliohm method (volts over amps)', from: 'bench' };

/** What one check found, before it is put into the answer's words. */
export interface Finding {
  readonly criterion: Criterion;
  readonly outcome: Outcome;
  readonly needed: string;
  readonly offered: string;
  readonly why: string;
  /** readings that would settle it; only looked at where the outcome is `unknown` */
  readonly readings?: readonly Reading[];
  readonly kit?: readonly KitItem[];
  /** minutes of work that this check asks for */
  readonly minutes?: number;
  /** that the criterion holds once the listed work is done, 0..1; where absent, the outcome says it: see `Judged` */
  readonly probability?: number | undefined;
  /** unknown because the part on offer does not say: how often its class holds stands in for `probability` */
  readonly unsaid?: boolean;
  /** the setting that is its probability, where neither reading nor class tell it; absent: `unrecordedHolds` */
  readonly fromSetting?: 'unrecordedHolds' | 'untracedHolds' | 'unboltedHolds' | 'unboltedAlikeHolds' | 'unboltedUnlikeHolds' | 'relayHolds' | 'endHolds' | undefined;
  /**
   * unknown because the record does not give it of the removed part, which is then taken for one of the catalogue's parts that otherwise may
   * go on: it holds as often as these are `like` this one, and for the others at the chance of this setting (null: never)
   */
  readonly ifUnlike?: 'otherClassHolds' | null | undefined;
  /** what is not known; findings of one part that hang on the same count once in its probability */
  readonly hangsOn?: string;
  /** of two answers a reading can give, this is the second: a part that needs the first holds exactly where this one does not */
  readonly isOther?: boolean;
  /** parts alike in this hold or fail together once the reading is taken, others apart from them; absent: all hang on one measured number */
  readonly like?: string;
  /** parts of one inner circuit hold or fail together once the reading is taken */
  readonly byCircuit?: boolean;
}

/** A finding with its probability made out: 1 for a sure pass or work, 0 for a fail, and for an unknown what is known of its like. */
export interface Judged extends Finding {
  readonly probability: number;
  /** counted in the one chance of all that is not recorded, together with the rest of it: not a factor by itself */
  readonly byRemoved?: boolean;
}

/** Collects what an answer took for granted and warns of, each line once. */
export class Notes {
  readonly assumptions = new Set<string>();
  readonly cautions = new Set<string>();

  assume(line: string): void {
    this.assumptions.add(line);
  }

  caution(line: string): void {
    this.cautions.add(line);
  }

  /** The setting's value; the answer then lists it. */
  use(name: SettingName): number {
    this.assume(describeSetting(name));
    return settingOf(name);
  }

  /** The interval of a measured value; a bare number takes its instrument's default, which the answer then lists. */
  read(measured: Measured, instrument: InstrumentClass): { value: number; low: number; high: number } {
    const interval = intervalOf(measured, instrument);
    if (interval.defaulted) this.assume(describeInstrument(instrument));
    return interval;
  }
}

/** For whoever asks a check and does not answer for it: what it takes for granted is not written down. */
class Unheard extends Notes {
  override assume(): void {
    // nobody reads it
  }

  override caution(): void {
    // nobody reads it
  }

  override use(name: SettingName): number {
    return settingOf(name);
  }
}

export const UNHEARD: Notes = new Unheard();

export interface Interval {
  readonly low: number;
  readonly high: number;
}

/** Whether `offered` is at least what is needed: only with the whole interval on the right side, `unknown` when partly. */
export function judgeAtLeast(offered: number, needed: Interval): 'pass' | 'unknown' | 'fail' {
  if (offered >= needed.high - tiny(needed.high)) return 'pass';
  return offered < needed.low - tiny(needed.low) ? 'fail' : 'unknown';
}

/** Whether `offered` is at most the limit, likewise. */
export function judgeAtMost(offered: number, limit: Interval): 'pass' | 'unknown' | 'fail' {
  if (offered <= limit.low + tiny(limit.low)) return 'pass';
  return offered > limit.high + tiny(limit.high) ? 'fail' : 'unknown';
}

/**
 * Probability that `offered` is at least what is needed, the interval read as the mean plus and minus two sigma of a normal error.
 * @returns undefined for an interval without an upper end
 */
export function chanceOfAtLeast(offered: number, needed: Interval): number | undefined {
  return Number.isFinite(needed.high) ? chanceOf(offered - (needed.low + needed.high) / 2, (needed.high - needed.low) / 4) : undefined;
}

/** Probability that something is not negative that has a normal error about a mean. */
export function chanceOf(mean: number, sigma: number): number {
  if (sigma > 0) return 1 - normalTail(mean / sigma);
  return mean >= -tiny(mean) ? 1 : 0;
}

/** The worst of several outcomes, in the order of the verdicts. */
export function worstOf(outcomes: readonly Outcome[]): Outcome {
  return (['fail', 'unknown', 'work'] as const).find((outcome) => outcomes.includes(outcome)) ?? 'pass';
}

/** A number for a person: at most `places` decimals, no trailing zeros. */
export function show(value: number, places = 2): string {
  const scale = 10 ** places;
  return String(Math.round(value * scale) / scale + 0);
}

/** '180 A', '171 to 189 A'. */
export function showInterval({ low, high }: Interval, unit: string, places = 0): string {
  const [from, to] = [show(low, places), show(high, places)];
  return from === to ? `${from} ${unit}` : `${from} to ${to} ${unit}`;
}

/** The last bits of binary arithmetic decide nothing. */
function tiny(value: number): number {
  return Math.abs(value) * 1e-12 + 1e-12;
}
