import type { Verdict } from '../../../catalog-schema/index.ts';
import { judgeFinding, multiplyIndependent, roundProbability } from './evaluate-part.ts';
import { labourInMinor, kitInMinor, kitPriceOf, misfitInMinor } from './expected-cost.ts';
import type { FitGates } from './gates-of.ts';
import { UNHEARD, type Finding, type Judged, type Notes } from './finding.ts';
import type { FitMachine } from './machine.ts';
import { KnownLeast } from './known-least.ts';
import { checkMounting } from './mounting.ts';
import { orderKeyOf, pricedKeyOf, type OrderKey } from './order-key.ts';
import { NO_WORK, type LeastWork } from './plan-work.ts';
import { hasSameTerminals } from './removed-likeness.ts';
import { SlotBounds, type ByLikeness, type Chance } from './slot-bounds.ts';
import { chancesOfUnasked } from './unasked.ts';
import { WiringProspects, type Wired } from './wiring-prospects.ts';
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

/** The work that new holes ask for at least: of any placement, and of one that is not in doubt; null where each is. */
interface LeastHoles { readonly ever: LeastWork; readonly surely: LeastWork | null }

const NO_HOLES: LeastHoles = { ever: NO_WORK, surely: NO_WORK };

/** More than there are masks, and profiles in any catalogue that holds together: they make one number of three. */
const MASKS = 2 ** 16;
const PROFILES = 2 ** 14;

/** Minor units by which the sum of amounts rounded each by itself can lie below their sum rounded. */
const ROUNDED_APART = 3;

/** Rounding in a product of a few dozen factors, or a sum: a bound takes it in its favour. */
const ROUNDING = 1 + 1e-12;

/**
 * The best place in the order that one part can still come to, known ever better: by its price and what it leaves unsaid; with the work that its
 * form of wiring and its pattern of holes ask for at least; then with its own wiring, and its own placement, each worked out once for all
 * parts that are alike in it. A bound is never behind the place that all checks give:
 * - group: a finding in doubt that is counted here is one of the part's, so its verdict is no better;
 * - probability: a product over some of the part's findings, each at least as probable as the part's own (`gates-of.ts`);
 * - total: part and wait are the part's own; kit, labour and misfit are at least those of the findings counted here.
 */
export class Prospects {
  readonly #machine: FitMachine;
  readonly #index: PriceIndex;
  readonly #gates: FitGates;
  readonly #judge: SlotJudge;
  readonly #wiring: WiringProspects;
  readonly #known: KnownLeast;
  /** by likeness of terminals: what is to be said of what nobody wrote down, beside the findings */
  readonly #unasked: { readonly alike: number; readonly unlike: number };
  readonly #sure: ByLikeness;
  /** by list of terminals: whether they are those of the removed part */
  readonly #alike = new Map<number, boolean>();
  readonly #newHole: LeastWork;
  /** by profile, and whether its parts are in doubt */
  readonly #bounds = new Map<number, SlotBounds>();
  /** by pattern; null where no placement can be */
  readonly #leastHoles = new Map<number, LeastHoles | null>();
  readonly #mounted = new Map<number, Judged | null>();
  /** by pattern, profile and mask, for each kind of wiring */
  readonly #extras = new Map<Wired | undefined, Map<number, Extra | null>>();

  constructor(machine: FitMachine, index: PriceIndex, gates: FitGates, judge: SlotJudge) {
    this.#machine = machine;
    this.#index = index;
    this.#gates = gates;
    this.#judge = judge;
    this.#unasked = findUnasked(machine);
    this.#sure = this.#chances(1);
    const { cost } = machine;
    const minutes = settingOf('newHoleMinutes');
    this.#newHole = { minutes, price: cost ? kitPriceOf(cost, 'new hole') + (minutes / 60) * (cost.rates.labourPerHour ?? 0) : 0 };
    this.#known = new KnownLeast(index.snapshot);
    this.#wiring = new WiringProspects(machine, index.snapshot, gates.isTraced);
  }

  /** The first bounds of the slots of a profile: by price and what is left unsaid; of a part in doubt no more than that it is. */
  boundsOf(profile: ProfileGate, doubt: boolean): SlotBounds {
    const which = 2 * profile.profile + Number(doubt);
    let bounds = this.#bounds.get(which);
    if (!bounds) {
      const chancesOf = profile.doubt || profile.doubtMask !== 0 ? this.#createChances(profile) : undefined;
      this.#bounds.set(which, bounds = new SlotBounds(this.#index, profile, doubt, this.#machine.cost !== undefined, doubt && chancesOf ? chancesOf : () => this.#sure, this.#isAlike, this.#known));
    }
    return bounds;
  }

  /** With the least work that its terminals and its pattern of holes ask for, and, where `byForm`, its form of wiring; undefined where one of them will not do. */
  closerKey(slot: number, profile: ProfileGate, doubt: boolean, byForm: boolean): OrderKey | undefined {
    const row = this.#index.rows[slot]!;
    const holes = this.#findLeastHoles(row);
    if (holes === null) return undefined;
    const wired = byForm ? this.#wiring.leastOf(row) : this.#wiring.leastOnTerminals(row);
    if (wired === null) return undefined;
    if (!byForm) this.#known.setTerminals(row, this.#leastMinor(wired.price));
    const chance = this.boundsOf(profile, doubt).chanceAt(slot);
    return doubt || holes.surely === null ? this.#keyOf(slot, true, chance, wired, holes.ever) : this.#keyOf(slot, false, chance, wired, holes.surely);
  }

  /** With its own wiring, and, where `isPlaced`, its own placement; undefined where one of them fails. */
  fullKey(slot: number, profile: ProfileGate, isPlaced: boolean): OrderKey | undefined {
    const { rows, masks, snapshot, landed } = this.#index;
    const row = rows[slot]!;
    const wired = this.#wiring.wire(row);
    if (wired === null) return undefined;
    const mask = masks[slot]! & profile.doubtMask;
    const doubtful = this.#judge.doubtful(slot);
    const pattern = snapshot.patterns[row] === NO_CODE ? 0 : snapshot.patterns[row]! + 1;
    const alike = (((pattern * PROFILES + profile.profile) * MASKS) + mask) * 2 + (isPlaced ? 1 : 0);
    let byAlike = this.#extras.get(wired);
    if (!byAlike) this.#extras.set(wired, byAlike = new Map());
    let extra = doubtful === 0 ? byAlike.get(alike) : undefined;
    if (extra === undefined) {
      extra = this.#findExtra(row, profile, mask, doubtful, wired, isPlaced);
      if (doubtful === 0) byAlike.set(alike, extra);
    }
    if (extra === null) return undefined;
    const isPriced = this.#machine.cost !== undefined;
    return orderKeyOf({ ...extra, totalMinor: isPriced && landed[slot] !== UNPRICED ? landed[slot]! + extra.extraMinor : undefined, isPriced });
  }

  /** All that is counted of a part besides its own price; null where its placement fails. */
  #findExtra(row: number, profile: ProfileGate, mask: number, doubtful: number, wired: Wired, isPlaced: boolean): Extra | null {
    const mounted = isPlaced ? this.#mount(row) : undefined;
    const needed = isPlaced ? NO_HOLES : this.#findLeastHoles(row);
    if (mounted === null || needed === null) return null;
    const findings = [
      ...this.#gates.findingsOf(profile, mask), ...(doubtful > 0 ? this.#gates.findingsAt(profile, row, doubtful) : []),
    ].filter(({ criterion }) => !wired.findings.some((each) => each.criterion === criterion) && criterion !== mounted?.criterion);
    if (mounted) findings.push(mounted);
    findings.push(...wired.findings);
    const has = (outcome: Finding['outcome']): boolean => findings.some((each) => each.outcome === outcome);
    const { chance, misfitMinor } = this.#chance(multiplyIndependent(findings), this.#unasked[this.#likenessOf(row)]);
    const isInDoubt = has('unknown') || needed.surely === null;
    const holes = isInDoubt ? needed.ever : needed.surely;
    const minutes = findings.reduce((sum, each) => sum + (each.minutes ?? 0), holes.minutes);
    const { cost } = this.#machine;
    const labourAndKit = cost ? labourInMinor(cost, minutes - holes.minutes)
      + kitInMinor(cost, findings.reduce((sum, { kit = [] }) => kit.reduce((all, { item, qty }) => all + qty * kitPriceOf(cost, item), sum), 0) / ROUNDING) : 0;
    return {
      verdict: isInDoubt ? 'unproven' : has('work') || holes.minutes > 0 ? 'adapt' : 'direct', fitProbability: chance, minutes,
      extraMinor: labourAndKit + this.#leastMinor(holes.price) + misfitMinor,
    };
  }

  /** With work that the part asks for in any case. */
  #keyOf(slot: number, doubt: boolean, { chance, misfitMinor }: Chance, wired: LeastWork, holes: LeastWork): OrderKey {
    const landed = this.#index.landed[slot]!;
    const isPriced = this.#machine.cost !== undefined;
    const minutes = wired.minutes + holes.minutes;
    const verdict = doubt ? 'unproven' : minutes > 0 ? 'adapt' : 'direct';
    if (isPriced && landed !== UNPRICED) return pricedKeyOf(verdict, landed + misfitMinor + this.#leastMinor(wired.price + holes.price));
    return orderKeyOf({ verdict, fitProbability: chance, minutes, isPriced, totalMinor: undefined });
  }

  /** Minor units that a price comes to at least once its parts, labour and kit, are rounded each by itself. */
  #leastMinor(price: number): number {
    const { cost } = this.#machine;
    return cost && price > 0 ? Math.max(0, kitInMinor(cost, price / ROUNDING) - ROUNDED_APART) : 0;
  }

  #createChances(profile: ProfileGate): (mask: number) => ByLikeness {
    const byMask = new Map<number, ByLikeness>();
    return (mask) => {
      let known = byMask.get(mask);
      if (!known) byMask.set(mask, known = this.#chances(profile.chanceOf(mask)));
      return known;
    };
  }

  #chances(product: number): ByLikeness {
    const { alike, unlike } = this.#unasked;
    const ofAlike = this.#chance(product, alike);
    return { alike: ofAlike, unlike: alike === unlike ? ofAlike : this.#chance(product, unlike) };
  }

  /** A chance and what it costs. */
  #chance(product: number, unasked: number): Chance {
    const chance = roundProbability(Math.min(1, product * unasked * ROUNDING));
    return { chance, misfitMinor: this.#machine.cost ? misfitInMinor(this.#machine.cost, chance) : 0 };
  }

  /** Whether the row has the terminals of the removed part, as far as that is known. */
  readonly #isAlike = (row: number): boolean => {
    const { snapshot } = this.#index;
    const code = snapshot.terminals[row]!;
    let alike = this.#alike.get(code);
    if (alike === undefined) this.#alike.set(code, alike = hasSameTerminals(this.#machine.record, { terminals: snapshot.terminalsAt(row) }) !== false);
    return alike;
  };

  #likenessOf(row: number): 'alike' | 'unlike' {
    return this.#unasked.alike === this.#unasked.unlike || this.#isAlike(row) ? 'alike' : 'unlike';
  }

  /** The new holes that a row's pattern asks for at least; null where it cannot go on the machine's bolts. */
  #findLeastHoles(row: number): LeastHoles | null {
    const { snapshot } = this.#index;
    const pattern = snapshot.patterns[row]!;
    if (pattern === NO_CODE || this.#machine.record.mounting === undefined) return NO_HOLES;
    let known = this.#leastHoles.get(pattern);
    if (known === undefined) {
      const [ever, surely] = [false, true].map((isSure) => this.#workOfHoles(this.#machine.placements.leastNewHoles(snapshot.mountingAt(row)!, isSure)));
      this.#leastHoles.set(pattern, known = ever ? { ever, surely: surely! } : null);
      this.#known.setPattern(row, ever ? this.#leastMinor(ever.price) : undefined, surely ? this.#leastMinor(surely.price) : undefined);
    }
    return known;
  }

  #workOfHoles(count: number | undefined): LeastWork | null {
    if (count === undefined) return null;
    return count === 0 ? NO_WORK : { minutes: count * this.#newHole.minutes, price: count * this.#newHole.price };
  }

  /** The mounting of a row, once for each pattern of holes; undefined where the part gives none: that is one of the gates' findings. */
  #mount(row: number): Judged | null | undefined {
    const { snapshot } = this.#index;
    const pattern = snapshot.patterns[row]!;
    if (pattern === NO_CODE || this.#machine.record.mounting === undefined) return undefined;
    let known = this.#mounted.get(pattern);
    if (known === undefined) {
      const check = (part: Parameters<typeof checkMounting>[1], notes: Notes): Finding => checkMounting(this.#machine.record, part, this.#machine.placements, notes).finding;
      const part = snapshot.outerAt(row);
      const finding = check(part, UNHEARD);
      this.#mounted.set(pattern, known = finding.outcome === 'fail' ? null : judgeFinding(this.#machine, part, finding, check, UNHEARD));
    }
    return known;
  }
}

/**
 * The factor for what nobody wrote down. Where no bolts are recorded, the gates have the mounting's chance of a part with the removed one's
 * terminals: another part's is so much less.
 */
function findUnasked({ record, starter, removed }: FitMachine): { readonly alike: number; readonly unlike: number } {
  if (removed) return { alike: 1, unlike: 1 };
  const { alike, unlike } = chancesOfUnasked(record, starter);
  const bolted = record.mounting || !record.terminals ? 1 : settingOf('unboltedUnlikeHolds') / settingOf('unboltedAlikeHolds');
  return { alike, unlike: unlike * bolted };
}
