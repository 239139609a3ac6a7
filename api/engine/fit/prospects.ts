import type { Verdict } from '../../../catalog-schema/index.ts';
import { roundProbability, judgeFinding, multiplyIndependent } from './evaluate-part.ts';
import { kitPriceOf, misfitInMinor, workInMinor } from './expected-cost.ts';
import type { FitGates } from './gates-of.ts';
import { Notes, type Finding, type Judged } from './finding.ts';
import { gatherKit } from './gather-kit.ts';
import type { FitMachine } from './machine.ts';
import { LeastEnds, leastJumpers } from './least-work.ts';
import { checkMounting } from './mounting.ts';
import { orderKeyOf, type OrderKey } from './order-key.ts';
import { checkStud } from './stud.ts';
import { checkTab } from './tab.ts';
import { mostOfUnasked } from './unasked.ts';
import { checkInterlock, checkPolarity, checkWiring } from './wiring.ts';
import { factsOf } from '../part-facts.ts';
import { settingOf } from '../settings.ts';
import { UNPRICED, type PriceIndex, type ProfileGate, type SlotJudge } from '../retrieve/index.ts';
import { NO_CODE } from '../snapshot/index.ts';

/** What a part comes to besides its own price. */
interface Extra {
  readonly verdict: Verdict;
  readonly fitProbability: number;
  readonly minutes: number;
  /** kit, labour and misfit, minor units */
  readonly extraMinor: number;
}

/** More than there are masks, and profiles in any catalogue that holds together: they make one number of three. */
const MASKS = 2 ** 16;
const PROFILES = 2 ** 14;

/** Rounding in a product of a few dozen factors: a bound takes it in its favour. */
const ROUNDING = 1 + 1e-12;

/**
 * The best place in the order that one part can still come to, known ever better: by its price and what it leaves unsaid; then with its
 * placement and wiring, each worked out once for all parts that are alike in it. A bound is never behind the place that all checks give:
 * - group: a finding in doubt that is counted here is one of the part's, so its verdict is no better;
 * - probability: a product over some of the part's findings, each at least as probable as the part's own (`gates-of.ts`);
 * - total: part and wait are the part's own; kit, labour and misfit are at least those of the findings counted here.
 */
export class Prospects {
  readonly #machine: FitMachine;
  readonly #index: PriceIndex;
  readonly #gates: FitGates;
  readonly #judge: SlotJudge;
  readonly #unasked: number;
  readonly #sure: { readonly chance: number; readonly misfitMinor: number };
  /** by mask, for each profile: most parts share what they leave unsaid */
  readonly #atFirst = new Map<ProfileGate, Map<number, { chance: number; misfitMinor: number }>>();
  readonly #mounted = new Map<number, Judged | null>();
  /** by pattern, profile and mask, then by wiring */
  readonly #extras = new Map<number, Map<number, Extra | null>>();
  /** by profile and list of terminals */
  readonly #leastWork = new Map<ProfileGate, Map<number, { minutes: number; extraMinor: number }>>();
  readonly #leastEnds: LeastEnds;
  readonly #wired = new Map<number, readonly Judged[] | null>();

  constructor(machine: FitMachine, index: PriceIndex, gates: FitGates, judge: SlotJudge) {
    this.#machine = machine;
    this.#index = index;
    this.#gates = gates;
    this.#judge = judge;
    this.#unasked = mostOfUnasked(machine.record, machine.starter);
    this.#sure = this.#chance(1);
    const { cost } = machine;
    const priceOf = (item: string): number => (cost ? kitPriceOf(cost, item) : 0);
    this.#leastEnds = new LeastEnds(machine.record, (items) => items.reduce((least, item) => (priceOf(item) < priceOf(least) ? item : least)));
  }

  /** By price and what is left unsaid. */
  firstKey(slot: number, profile: ProfileGate, doubt: boolean): OrderKey {
    const first = doubt ? this.#chanceAtFirst(profile, this.#index.masks[slot]! & profile.doubtMask) : this.#sure;
    return this.#gates.isTraced ? this.#keyWithWork(slot, profile, doubt, first) : this.#keyOf(slot, doubt, first);
  }

  /** The best key of what follows in a profile from a slot on: the slot's price, and of a part in doubt no more than that it is. */
  floorKey(slot: number, profile: ProfileGate, doubt: boolean): OrderKey {
    return this.#keyOf(slot, doubt, profile.doubt && doubt ? this.#chanceAtFirst(profile, 0) : this.#sure);
  }

  /** With placement and wiring; undefined where one of them fails. */
  fullKey(slot: number, profile: ProfileGate): OrderKey | undefined {
    const { rows, masks, snapshot, landed } = this.#index;
    const row = rows[slot]!;
    const mask = masks[slot]! & profile.doubtMask;
    const doubtful = this.#judge.doubtful(slot);
    const pattern = snapshot.patterns[row] === NO_CODE ? 0 : snapshot.patterns[row]! + 1;
    const alike = ((pattern * PROFILES + profile.profile) * MASKS) + mask;
    const wiring = snapshot.circuits[row]! * snapshot.terminalLists + snapshot.terminals[row]!;
    let byWiring = this.#extras.get(alike);
    if (!byWiring) this.#extras.set(alike, byWiring = new Map());
    let extra = doubtful === 0 ? byWiring.get(wiring) : undefined;
    if (extra === undefined) {
      extra = this.#findExtra(row, profile, mask, doubtful, wiring);
      if (doubtful === 0) byWiring.set(wiring, extra);
    }
    if (extra === null) return undefined;
    const isPriced = this.#machine.cost !== undefined;
    return orderKeyOf({ ...extra, totalMinor: isPriced && landed[slot] !== UNPRICED ? landed[slot]! + extra.extraMinor : undefined, isPriced });
  }

  /** All that is counted of a part besides its own price; null where its placement or wiring fails. */
  #findExtra(row: number, profile: ProfileGate, mask: number, doubtful: number, wiring: number): Extra | null {
    const mounted = this.#mount(row);
    if (mounted === null) return null;
    const wired = this.#wire(row, wiring);
    if (wired === null) return null;
    const findings = [
      ...this.#gates.findingsOf(profile, mask), ...(doubtful > 0 ? this.#gates.findingsAt(profile, row, doubtful) : []),
    ].filter(({ criterion }) => !wired.some((each) => each.criterion === criterion) && criterion !== mounted?.criterion);
    if (mounted) findings.push(mounted);
    findings.push(...wired);
    const has = (outcome: Finding['outcome']): boolean => findings.some((each) => each.outcome === outcome);
    const { chance, misfitMinor } = this.#chance(multiplyIndependent(findings));
    const minutes = findings.reduce((sum, each) => sum + (each.minutes ?? 0), 0);
    const { cost } = this.#machine;
    const work = cost && workInMinor(cost, gatherKit(findings), minutes, new Notes());
    return {
      verdict: has('unknown') ? 'unproven' : has('work') ? 'adapt' : 'direct', fitProbability: chance, minutes, extraMinor: work ? work.kitMinor + work.labourMinor + misfitMinor : 0,
    };
  }

  #keyOf(slot: number, doubt: boolean, { chance, misfitMinor }: { readonly chance: number; readonly misfitMinor: number }): OrderKey {
    const landed = this.#index.landed[slot]!;
    const isPriced = this.#machine.cost !== undefined;
    return orderKeyOf({
      verdict: doubt ? 'unproven' : 'direct', fitProbability: chance, minutes: 0, totalMinor: isPriced && landed !== UNPRICED ? landed + misfitMinor : undefined, isPriced,
    });
  }

  /**
   * With the work that every wiring of the part asks for. A part whose search was cut off is shown no work: it is in doubt then, so this only
   * matters among those in doubt, and there its misfit is at least that of a doubt about the wiring.
   */
  #keyWithWork(slot: number, profile: ProfileGate, doubt: boolean, first: { readonly chance: number; readonly misfitMinor: number }): OrderKey {
    const row = this.#index.rows[slot]!;
    const code = this.#index.snapshot.terminals[row]!;
    let byProfile = this.#leastWork.get(profile);
    if (!byProfile) this.#leastWork.set(profile, byProfile = new Map());
    let work = byProfile.get(code);
    if (!work) byProfile.set(code, work = this.#findLeastWork(row, profile));
    if (work.minutes === 0) return this.#keyOf(slot, doubt, first);
    const isPriced = this.#machine.cost !== undefined;
    // Without prices the part cut off would come before by its minutes.
    if (doubt && !isPriced) return this.#keyOf(slot, doubt, first);
    const landed = this.#index.landed[slot]!;
    const cutOff = this.#machine.cost ? misfitInMinor(this.#machine.cost, roundProbability(first.chance * settingOf('unrecordedHolds') * ROUNDING)) : 0;
    const extraMinor = doubt ? Math.min(work.extraMinor + first.misfitMinor, cutOff) : work.extraMinor + first.misfitMinor;
    if (doubt && landed === UNPRICED) return this.#keyOf(slot, doubt, first);
    return orderKeyOf({
      verdict: doubt ? 'unproven' : 'adapt', fitProbability: first.chance, minutes: work.minutes,
      totalMinor: isPriced && landed !== UNPRICED ? landed + extraMinor : undefined, isPriced,
    });
  }

  #findLeastWork(row: number, { profile }: ProfileGate): { minutes: number; extraMinor: number } {
    const { snapshot } = this.#index;
    const jumpers = leastJumpers(this.#machine.record, snapshot.exampleOf(profile).part);
    const ends = this.#leastEnds.of(snapshot.terminalsAt(row));
    const minutes = jumpers.minutes + ends.minutes;
    const { cost } = this.#machine;
    const work = cost && workInMinor(cost, [...jumpers.kit, ...ends.kit], minutes, new Notes());
    return { minutes, extraMinor: work ? work.kitMinor + work.labourMinor : 0 };
  }

  #chanceAtFirst(profile: ProfileGate, mask: number): { chance: number; misfitMinor: number } {
    let byMask = this.#atFirst.get(profile);
    if (!byMask) this.#atFirst.set(profile, byMask = new Map());
    let known = byMask.get(mask);
    if (!known) {
      byMask.set(mask, known = this.#chance(profile.chanceOf(mask)));
    }
    return known;
  }

  /** A chance and what it costs, with the most that may be said of what nobody wrote down. */
  #chance(product: number): { readonly chance: number; readonly misfitMinor: number } {
    const chance = roundProbability(product * this.#unasked * ROUNDING);
    return { chance, misfitMinor: this.#machine.cost ? misfitInMinor(this.#machine.cost, chance) : 0 };
  }

  /** The mounting of a row, once for each pattern of holes; undefined where the part gives none: that is one of the gates' findings. */
  #mount(row: number): Judged | null | undefined {
    const { snapshot } = this.#index;
    const pattern = snapshot.patterns[row]!;
    if (pattern === NO_CODE || this.#machine.record.mounting === undefined) return undefined;
    let known = this.#mounted.get(pattern);
    if (known === undefined) {
      const check = (part: Parameters<typeof checkMounting>[1], notes: Notes): Finding => checkMounting(this.#machine.record, part, this.#machine.placements, notes).finding;
      const part = snapshot.partAt(row);
      const finding = check(part, new Notes());
      this.#mounted.set(pattern, known = finding.outcome === 'fail' ? null : judgeFinding(this.#machine, part, finding, check, new Notes()));
    }
    return known;
  }

  /** Wiring, interlock, polarity, studs and tabs of a row, once for each circuit on equal terminals; null where one of them fails. */
  #wire(row: number, key: number): readonly Judged[] | null {
    let known = this.#wired.get(key);
    if (known === undefined) this.#wired.set(key, known = this.#findWiring(row));
    return known;
  }

  #findWiring(row: number): readonly Judged[] | null {
    const machine = this.#machine;
    const { record } = machine;
    const part = this.#index.snapshot.partAt(row);
    const facts = factsOf(part);
    const notes = new Notes();
    const found: (Finding | null)[] = [];
    const isWired = !machine.starter || (facts.coils.length > 0 && part.partClass === 'starter-motor');
    const hasWires = (record.wires ?? []).length > 0;
    if (isWired && hasWires && machine.rewirer.isRefused(part)) return null;
    const first = isWired && hasWires ? machine.rewirer.findFirstPlan(part) : null;
    if (isWired) found.push(checkWiring(record, part, first), checkInterlock(record, first), facts.hasDiode ? checkPolarity(record, first) : null);
    if (found.some((finding) => finding?.outcome === 'fail')) return null;
    found.push(checkStud(record, part, first?.plan ?? null, notes), checkTab(record, part, first?.plan ?? null, notes));
    // None of these is counted over a class: they follow from the wiring.
    return found.some((finding) => finding?.outcome === 'fail') ? null
      : found.flatMap((finding) => (finding ? [judgeFinding(machine, { ...part, id: '' }, finding, neverAsked, notes)] : []));
  }
}

function neverAsked(): never {
  throw new Error('what follows from the wiring is not counted over a class');
}

