import type { Part, Plan, Refusal, RewireAnswer } from '../../../catalog-schema/index.ts';
import type { FindCoilOhm } from './part-values.ts';
import type { WiringMemory } from './wiring-memory.ts';

export interface RewireOptions {
  readonly limits?: {
    /** electrical configurations solved for one part before the search is cut off (`complete: false`) */
    readonly evaluations?: number;
    /** ways to hang the wires and jumpers looked at for one part before the search is cut off */
    readonly candidates?: number;
  };
  /**
   * Ohms at 20 C of a coil that does not say: the class's median where a catalogue is at hand, with the words that go into
   * `assumptions`. Where this is absent or gives nothing, the table of settings is used. It may look at the part's class and the coil's nominal
   * voltage only: it is asked once for all parts of one shape.
   */
  readonly findCoilOhm?: FindCoilOhm;
  /** what other records found out about forms of circuits; give the same to the rewirers of one catalogue */
  readonly memory?: WiringMemory;
  /** search every part by itself, as if forms had nothing in common: the yardstick of what they share */
  readonly separately?: boolean;
}

/** What `fit` says at a check that follows from the wiring. */
export interface WiringVerdict {
  readonly outcome: 'pass' | 'unknown' | 'fail';
  readonly why?: string;
}

interface ToldVerdict extends WiringVerdict {
  readonly why: string;
}

/** A plan but for what the switches do with it. */
export type PlanOutline = Omit<Plan, 'states'>;

/** The plan `fit` works with and what follows from it, without words. */
export interface WiringOutline {
  /** the first plan that is right whether or not the case reaches battery minus, else the first listed, else null */
  readonly plan: PlanOutline | null;
  /** false where the plan is right in one way of the case only: `wiring` is then unknown */
  readonly rightBothWays: boolean;
  /** what the plan counts on: the case joined to battery minus, or the case apart from it; null when it counts on neither */
  readonly leansOn: 'case-grounded' | 'case-apart' | null;
  /** the plan is right at some of the interval of `demand.controlOhm`, and not over all of it: `wiring` is then unknown */
  readonly hangsOnControlOhm: boolean;
  /** the end of that interval at which the plan is right, where no plan is at the value in its middle, Ohm */
  readonly onlyAtControlOhm?: number;
  /** false when the bounded search was cut off */
  readonly complete: boolean;
  /** false where a wire has still to be traced, or the record has no battery, starter or start-switch wire: nothing was judged */
  readonly judged: boolean;
  readonly refusals?: readonly Refusal[];
  /** the worse way of the case counts */
  readonly interlock: WiringVerdict;
  /** null where the part has no diode: polarity makes no demand then */
  readonly polarity: WiringVerdict | null;
}

/** The same with words, and with what the switches do. */
export interface FirstPlan extends WiringOutline {
  readonly plan: Plan | null;
  readonly refusals: readonly Refusal[];
  readonly interlock: ToldVerdict;
  readonly polarity: ToldVerdict | null;
  /** of this part alone: those of the machine are the same for every part */
  readonly cautions: readonly string[];
  /** what `leansOn` says is not repeated here */
  readonly assumptions: readonly string[];
}

/** What each step of a plan comes to: in minutes, in money. */
export interface StepCosts {
  readonly move: number;
  readonly newEnd: number;
  readonly jumper: number;
  readonly leaveOff: number;
  /** a wire that keeps the form of its end and gets another size of it */
  readonly lug: number;
}

/** Whether a wire, by its tag, gets another size of its end on a terminal that takes the form it has. */
export type NeedsLug = (tag: string, terminal: Part['terminals'][number]) => boolean;

/** One bench record, prepared once and asked about many parts; parts of one shape (circuit, terminals, bracket) are answered from memory. */
export interface Rewirer {
  /** the whole answer: up to 20 plans */
  rewire(part: Part): RewireAnswer;
  /** the plan `fit` takes; stops at the first level of changes that has one right both ways */
  findFirstPlan(part: Part, form?: number): FirstPlan;
  /**
   * The same without words, for the cost of judging a few numbers once the part's form is known. Parts of one form that come to the same plan get
   * the same object. Null where there surely is no plan; never where nothing could be judged or the search was cut off.
   * @param form a number that stands for the part's `formKeyOf`, the same for all who share `RewireOptions.memory`
   */
  outline(part: Part, form?: number): WiringOutline | null;
  /**
   * The least that any plan comes to which some part of this part's form may have, for each of some ways to count; null where all parts of the form
   * are refused, whatever their numbers; undefined where that is not known.
   */
  leastWork(part: Part, form: number | undefined, ways: readonly StepCosts[], needsLug: NeedsLug): readonly number[] | null | undefined;
  /** What any wiring comes to at least on these terminals, whatever the circuit; nothing where wires are not traced. */
  leastOnTerminals(terminals: Part['terminals'], ways: readonly StepCosts[], needsLug: NeedsLug): readonly number[];
  /** Is `outline` null? */
  isRefused(part: Part, form?: number): boolean;
  /** Is every part with this `wiringFormOf` refused? Costs nothing; `isRefused` asks it first. */
  refusesForm(form: number): boolean;
}
