import type { Part } from '../../../catalog-schema/index.ts';
import { standInOf, type CaseWays, type Jumper } from './jumper-sets.ts';
import { FIRST_PART_NODE, type MachineSide } from './machine-side.ts';
import { PartValues } from './part-values.ts';
import { PlanJudge } from './plan-judge.ts';
import { listNewEnds, costOf } from './placements.ts';
import type { PossiblePlan, PossiblePlans } from './possible-plans.ts';
import type { PlanOutline, RewireOptions, WiringOutline } from './rewire-options.ts';
import { orderByTag, writePlanText } from './search.ts';
import type { PartForm } from './topology.ts';
import { findSamePlace, LEFT_OFF, listPlaces, takesOneEnd } from './wire-places.ts';
import { writeOutline } from './write-plan.ts';
import type { WiringMemory } from './wiring-memory.ts';

/** What of a part its form told: the plan it comes to, by the numbers of its topology. */
export interface ChosenPlan {
  readonly plan: PossiblePlan;
  /** in which ways of the case it is right, as bits */
  readonly ways: number;
  readonly hangsOnControlOhm: boolean;
  readonly form: PartForm;
  readonly changes: number;
  readonly newEnd: Uint8Array;
}

/** What the parts of one topology share on one machine. */
interface Judged {
  readonly possible: PossiblePlans;
  readonly values: PartValues;
  readonly judge: PlanJudge;
}

/** What the parts of one form share on one machine. Terminals are numbered as in the topology. */
interface PlacedForm extends Judged {
  readonly form: PartForm;
  readonly same: readonly (number | undefined)[];
  readonly ranked: readonly Ranked[];
  /** for each plan that was chosen, by what else was found of it */
  readonly outlines: Map<Ranked, (WiringOutline | undefined)[]>;
}

/** A possible plan with what orders it among those of a form. */
interface Ranked {
  readonly plan: PossiblePlan;
  readonly newEnd: Uint8Array;
  readonly changes: number;
  /** by changes, then by wires moved; equal ones by text */
  readonly rank: number;
  text: string | undefined;
}

const MOST_MOVED = 64;

/** The plan of each part by its form: the plans that are possible for all parts of the form in their order, the part's numbers then choose. */
export class FormOutlines {
  readonly #machine: MachineSide;
  readonly #options: RewireOptions;
  readonly #memory: WiringMemory;
  readonly #byTag: readonly number[];
  readonly #judged = new Map<PossiblePlans, Judged>();
  readonly #placed = new Map<PartForm, PlacedForm | null>();

  constructor(machine: MachineSide, options: RewireOptions, memory: WiringMemory) {
    this.#machine = machine;
    this.#options = options;
    this.#memory = memory;
    this.#byTag = orderByTag(machine);
  }

  /** @returns undefined where the part has to be searched by itself; null where it is refused */
  outline(part: Part, code: number | undefined): WiringOutline | null | undefined {
    const placed = this.#place(part, code);
    if (!placed) return undefined;
    const chosen = this.#choose(placed, part);
    if (!chosen) return chosen;
    const { ranked: { plan }, ways, hangsOnControlOhm } = chosen;
    const all = 2 ** placed.possible.ways.length - 1;
    const wrong = ways === all ? -1 : placed.possible.ways.findIndex((_, way) => (ways & (1 << way)) === 0);
    const defeats = wrong >= 0 && placed.judge.defeatsInterlock(plan, wrong);
    if (placed.judge.isClose) return undefined;
    let known = placed.outlines.get(chosen.ranked);
    if (known === undefined) placed.outlines.set(chosen.ranked, known = []);
    return known[4 * ways + 2 * Number(hangsOnControlOhm) + Number(defeats)] ??= {
      plan: this.#write(placed, chosen.ranked), rightBothWays: ways === all, leansOn: ways === all ? null : nameWay(placed.possible.ways, ways),
      hangsOnControlOhm, complete: true, judged: true, interlock: { outcome: defeats ? 'fail' : 'pass' },
      polarity: placed.possible.part.diodes.length > 0 ? { outcome: 'pass' } : null,
    };
  }

  /** As `outline`, for those who write the plan themselves. */
  choose(part: Part): ChosenPlan | undefined {
    const placed = this.#place(part, undefined);
    const chosen = placed && this.#choose(placed, part);
    if (!placed || !chosen) return undefined;
    const { ranked: { plan, changes, newEnd }, ways, hangsOnControlOhm } = chosen;
    return { plan, ways, hangsOnControlOhm, form: placed.form, changes, newEnd };
  }

  listPossible(part: Part, code: number | undefined): readonly PlanOutline[] | undefined {
    const placed = this.#place(part, code);
    return placed?.ranked.map((ranked) => this.#write(placed, ranked));
  }

  /** Null where the form's topology was not listed. */
  #place(part: Part, code: number | undefined): PlacedForm | null {
    const form = this.#memory.formOf(part, code);
    let placed = this.#placed.get(form);
    if (placed === undefined) this.#placed.set(form, placed = this.#findPlaced(form, part));
    return placed;
  }

  #findPlaced(form: PartForm, part: Part): PlacedForm | null {
    const machine = this.#machine;
    const possible = this.#memory.possibleFor(machine, form);
    if (!possible.isListed) return null;
    let judged = this.#judged.get(possible);
    if (judged === undefined) {
      const values = new PartValues(possible.part, possible.networks.branchCount);
      this.#judged.set(possible, judged = { possible, values, judge: new PlanJudge(machine, possible, values) });
    }
    // Without a load nothing can be judged.
    if (!machine.has.starter && !possible.part.ownMotor) return null;
    const terminals = form.terminals.map((place) => {
      const { form: kind, tabWidthMm } = part.terminals[place]!;
      return { form: kind, tabWidthMm: kind === 'tab' ? tabWidthMm : undefined };
    });
    const same = machine.wires.map((wire) => {
      const place = findSamePlace(wire, part.terminals);
      return place === undefined ? undefined : form.places[place] ?? terminals.length;
    });
    const places = listPlaces(machine, { terminals, same });
    const oneEnd = [...terminals.map(takesOneEnd), false];
    const costs = new Map<PossiblePlan['placement'], { newEnd: Uint8Array; changes: number; moved: number }>();
    const ranked = possible.plans.map((plan): Ranked => {
      let cost = costs.get(plan.placement);
      if (cost === undefined) {
        const { to } = plan.placement;
        const { newEnd, added } = listNewEnds(machine, places, oneEnd, to);
        let changes = added;
        let moved = 0;
        for (let w = 0; w < to.length; w++) {
          if (to[w] === LEFT_OFF) {
            changes++;
            continue;
          }
          const place = places[w]![to[w]!]!;
          changes += costOf(place);
          if (place.moved) moved++;
        }
        costs.set(plan.placement, cost = { newEnd, changes, moved });
      }
      const changes = cost.changes + plan.jumpers.length;
      return { plan, newEnd: cost.newEnd, changes, rank: changes * MOST_MOVED + cost.moved, text: undefined };
    });
    ranked.sort((a, b) => a.rank - b.rank);
    return { ...judged, form, same, ranked, outlines: new Map() };
  }

  /** The first that is right in every way of the case, else the first that is right in one. */
  #choose(placed: PlacedForm, part: Part): { ranked: Ranked; ways: number; hangsOnControlOhm: boolean } | null | undefined {
    const { form, judge, values, possible, ranked } = placed;
    values.fill(this.#machine, form, part, this.#options.findCoilOhm);
    judge.begin();
    const all = 2 ** possible.ways.length - 1;
    let best: { ranked: Ranked; ways: number } | undefined;
    for (const each of ranked) {
      if (best !== undefined && best.ways === all && each.rank > best.ranked.rank) break;
      const working = judge.findWorkingWays(each.plan);
      if (working === 0 || (best !== undefined && working !== all && !this.#isBefore(placed, each, best.ranked))) continue;
      const ways = judge.keepWithinLimits(each.plan, working);
      if (ways === 0 || judge.hasIdleJumper(each.plan, ways)) continue;
      const isBetter = best === undefined || (ways === all) !== (best.ways === all) ? best === undefined || ways === all : this.#isBefore(placed, each, best.ranked);
      if (isBetter) best = { ranked: each, ways };
    }
    if (judge.isClose) return undefined;
    if (best === undefined) return null;
    const hangsOnControlOhm = this.#machine.controlOhmEnds.some((ohm) => {
      values.setControlOhm(ohm);
      judge.begin();
      return judge.keepWithinLimits(best.ranked.plan, judge.findWorkingWays(best.ranked.plan) & best.ways) !== best.ways;
    });
    if (judge.isClose) return undefined;
    if (this.#machine.controlOhmEnds.length > 0) {
      values.setControlOhm(this.#machine.controlOhm);
      judge.begin();
    }
    return { ...best, hangsOnControlOhm };
  }

  #isBefore(placed: PlacedForm, a: Ranked, b: Ranked): boolean {
    return a.rank !== b.rank ? a.rank < b.rank : this.#textOf(placed, a) < this.#textOf(placed, b);
  }

  #textOf({ form }: PlacedForm, ranked: Ranked): string {
    return ranked.text ??= writePlanText(this.#machine, this.#byTag, form, ranked.plan.placement.to, orderJumpers(form, ranked.plan.jumpers));
  }

  #write({ form, same }: PlacedForm, { plan, newEnd, changes }: Ranked): PlanOutline {
    return writeOutline(this.#machine, same, form, { to: plan.placement.to, newEnd, jumpers: orderJumpers(form, plan.jumpers), changes });
  }
}

/** Jumpers as a plan lists them, by the names that stand for those of the part. */
export function orderJumpers(names: Pick<PartForm, 'standIns'>, jumpers: readonly Jumper[]): Jumper[] {
  const name = (node: number): string => standInOf(names, node);
  return jumpers.map(({ from, to }) => (to >= FIRST_PART_NODE && name(to) < name(from) ? { from: to, to: from } : { from, to }))
    .sort((a, b) => compare(name(a.from), name(b.from)) || compare(name(a.to), name(b.to)));
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** What a plan counts on that is right in some of the ways only. */
export function nameWay(ways: CaseWays, right: number): 'case-grounded' | 'case-apart' {
  return ways.findIndex((name, way) => name === 'joined' && (right & (1 << way)) !== 0) >= 0 ? 'case-grounded' : 'case-apart';
}
