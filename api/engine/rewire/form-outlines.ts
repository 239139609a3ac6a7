import type { Part } from '../../../catalog-schema/index.ts';
import { standInOf, type CaseWays, type Jumper } from './jumper-sets.ts';
import { FIRST_PART_NODE, type MachineSide } from './machine-side.ts';
import type { PlanJudge } from './plan-judge.ts';
import { costOf, listNewEnds } from './placements.ts';
import type { PossiblePlan } from './possible-plans.ts';
import type { NeedsLug, PlanOutline, RewireOptions, StepCosts, WiringOutline } from './rewire-options.ts';
import { orderByTag, writePlanText } from './search.ts';
import type { PartForm, Topology } from './topology.ts';
import { findSamePlace, LEFT_OFF, listPlaces, takesOneEnd, type WirePlace } from './wire-places.ts';
import type { WiringMemory } from './wiring-memory.ts';
import { writeOutline } from './write-plan.ts';

/** The plan that a part came to by its form, by the numbers of its topology. */
export interface ChosenPlan {
  readonly plan: PossiblePlan;
  /** in which ways of the case it is right, as bits */
  readonly ways: number;
  readonly hangsOnControlOhm: boolean;
  readonly form: PartForm;
  readonly changes: number;
  readonly newEnd: Uint8Array;
}

/** What each plan costs on terminals that take the wires alike. Terminals are numbered as in the topology. */
interface Layout {
  readonly judge: PlanJudge;
  readonly same: readonly (number | undefined)[];
  readonly places: readonly (readonly WirePlace[])[];
  readonly oneEnd: readonly boolean[];
  /** numbers of the possible plans, the cheapest first; equal ones still without their text */
  readonly order: Int32Array;
  /** for each of them, in that order, its changes and then its moved wires as one number */
  readonly costs: Int32Array;
}

/** What the parts of one form share on one machine. */
interface PlacedForm extends Layout {
  readonly form: PartForm;
  /** by number of the plan */
  readonly texts: (string | undefined)[];
  /** by number of the plan, then by what else was found of it */
  readonly outlines: (WiringOutline | undefined)[][];
}

interface Chosen {
  readonly number: number;
  /** in which ways of the case it is right, as bits */
  readonly ways: number;
  readonly hangsOnControlOhm: boolean;
  /** where it is wrong in one way of the case: it cranks with the interlocks open there */
  readonly defeats: boolean;
}

interface Answered {
  readonly part: Part;
  readonly placed: PlacedForm | null;
  /** null where the part is refused; undefined where it has to be searched by itself */
  readonly chosen: Chosen | null | undefined;
}

const MOST_MOVED = 64;
/** More than there are plans in a list: cost and number make one number that sorts. */
const MOST_PLANS = 2 ** 20;

/** The plan of each part by its form: the plans that are possible for all parts of the form in their order; the part's numbers then choose. */
export class FormOutlines {
  readonly #machine: MachineSide;
  readonly #findCoilOhm: RewireOptions['findCoilOhm'];
  readonly #memory: WiringMemory;
  readonly #byTag: readonly number[];
  readonly #mayBeLeftOff: number;
  readonly #placed = new Map<PartForm, PlacedForm | null>();
  readonly #judges = new Map<Topology, Map<boolean | undefined, PlanJudge>>();
  /** the part asked about last: whoever hears that it is not refused asks for its plan next */
  #last: Answered | undefined;
  readonly #layouts = new Map<PlanJudge, Map<string, Layout>>();

  constructor(machine: MachineSide, { findCoilOhm }: RewireOptions, memory: WiringMemory) {
    this.#machine = machine;
    this.#findCoilOhm = findCoilOhm;
    this.#memory = memory;
    this.#byTag = orderByTag(machine);
    this.#mayBeLeftOff = machine.wires.filter(({ role }) => role === 'chassis').length;
  }

  /** @returns undefined where the part has to be searched by itself; null where it is refused */
  outline(part: Part, code: number | undefined): WiringOutline | null | undefined {
    const { placed, chosen } = this.#ask(part, code);
    if (!placed) return undefined;
    if (!chosen) return chosen;
    const { number, ways, hangsOnControlOhm, defeats } = chosen;
    const { possible } = placed.judge;
    const all = 2 ** possible.ways.length - 1;
    return (placed.outlines[number] ??= [])[4 * ways + 2 * Number(hangsOnControlOhm) + Number(defeats)] ??= {
      plan: this.#write(placed, number), rightBothWays: ways === all, leansOn: ways === all ? null : nameWay(possible.ways, ways),
      hangsOnControlOhm, complete: true, judged: true, interlock: { outcome: defeats ? 'fail' : 'pass' },
      polarity: possible.part.diodes.length > 0 ? { outcome: 'pass' } : null,
    };
  }

  /** As `outline`, for those who write the plan themselves; undefined also where the part is refused. */
  choose(part: Part, code: number | undefined): ChosenPlan | undefined {
    const { placed, chosen } = this.#ask(part, code);
    if (!placed || !chosen) return undefined;
    const { number, ways, hangsOnControlOhm } = chosen;
    return { plan: placed.judge.possible.plans[number]!, ways, hangsOnControlOhm, form: placed.form, ...this.#price(placed, number) };
  }

  leastWork(part: Part, code: number | undefined, ways: readonly StepCosts[], needsLug: NeedsLug): readonly number[] | null | undefined {
    const placed = this.#place(part, code);
    if (!placed) return undefined;
    const { order, costs, judge: { possible: { plans } }, form } = placed;
    if (order.length === 0) return null;
    const { wires } = this.#machine;
    const lugs = wires.map(({ tag }) => form.terminals.map((place) => (needsLug(tag, part.terminals[place]!) ? 1 : 0)));
    const least = ways.map(() => Number.POSITIVE_INFINITY);
    for (let at = 0; at < order.length; at++) {
      const changes = Math.floor(costs[at]! / MOST_MOVED);
      // Plans stand by rising changes: soon the changes alone come to more.
      if (ways.every((way, which) => leastOfChanges(way, changes, this.#mayBeLeftOff) >= least[which]!)) break;
      const moved = costs[at]! % MOST_MOVED;
      const { placement: { to }, jumpers: { length: jumpers } } = plans[order[at]!]!;
      let leftOff = 0;
      let lugged = 0;
      for (let w = 0; w < to.length; w++) {
        if (to[w] === LEFT_OFF) leftOff++;
        else lugged += lugs[w]![to[w]!] ?? 0;
      }
      const newEnds = changes - moved - leftOff - jumpers;
      for (let which = 0; which < ways.length; which++) {
        const { move, newEnd, jumper, leaveOff, lug } = ways[which]!;
        least[which] = Math.min(least[which]!, moved * move + newEnds * newEnd + jumpers * jumper + leftOff * leaveOff + lugged * lug);
      }
    }
    return least;
  }

  #ask(part: Part, code: number | undefined): Answered {
    if (this.#last?.part === part) return this.#last;
    const placed = this.#place(part, code);
    return this.#last = { part, placed, chosen: placed ? this.#choose(placed, part) : undefined };
  }

  /** Null where the plans of the form's topology are not listed. */
  #place(part: Part, code: number | undefined): PlacedForm | null {
    const form = this.#memory.formOf(part, code);
    let placed = this.#placed.get(form);
    if (placed === undefined) this.#placed.set(form, placed = this.#findPlaced(form, part));
    return placed;
  }

  #judgeFor(form: PartForm): PlanJudge {
    const { conductive, topology } = form;
    let known = this.#judges.get(topology);
    if (known === undefined) this.#judges.set(topology, known = new Map());
    let judge = known.get(conductive);
    if (judge === undefined) known.set(conductive, judge = this.#memory.judgeFor(this.#machine, form));
    return judge;
  }

  #findPlaced(form: PartForm, part: Part): PlacedForm | null {
    const machine = this.#machine;
    const judge = this.#judgeFor(form);
    // Without a load nothing can be judged.
    if (!judge.possible.isListed || (!machine.has.starter && !judge.possible.part.ownMotor)) return null;
    const same = machine.wires.map((wire) => {
      const place = findSamePlace(wire, part.terminals);
      return place === undefined ? undefined : form.places[place] ?? part.terminals.length;
    });
    let key = same.join();
    for (const place of form.terminals) {
      const { form: kind, tabWidthMm } = part.terminals[place]!;
      key += kind === 'tab' ? ` tab ${tabWidthMm ?? ''}` : ` ${kind}`;
    }
    let layouts = this.#layouts.get(judge);
    if (layouts === undefined) this.#layouts.set(judge, layouts = new Map());
    let layout = layouts.get(key);
    if (layout === undefined) layouts.set(key, layout = this.#layOut(judge, form, part, same));
    return { ...layout, form, texts: [], outlines: [] };
  }

  #layOut(judge: PlanJudge, form: PartForm, part: Part, same: Layout['same']): Layout {
    const terminals = form.terminals.map((place) => {
      const { form: kind, tabWidthMm } = part.terminals[place]!;
      return { form: kind, tabWidthMm: kind === 'tab' ? tabWidthMm : undefined };
    });
    const places = listPlaces(this.#machine, { terminals, same });
    const oneEnd = [...terminals.map(takesOneEnd), false];
    const { placements, placementOf, jumperCounts } = judge.possible;
    const byPlacement = placements.map(({ to }) => {
      const { changes, moved } = this.#count({ places, oneEnd }, to);
      return changes * MOST_MOVED + moved;
    });
    const costs = new Int32Array(placementOf.length);
    const sorted = new Float64Array(placementOf.length);
    for (let number = 0; number < sorted.length; number++) {
      sorted[number] = (byPlacement[placementOf[number]!]! + jumperCounts[number]! * MOST_MOVED) * MOST_PLANS + number;
    }
    sorted.sort();
    const order = new Int32Array(sorted.length);
    for (let at = 0; at < sorted.length; at++) {
      costs[at] = Math.floor(sorted[at]! / MOST_PLANS);
      order[at] = sorted[at]! - costs[at]! * MOST_PLANS;
    }
    return { judge, same, places, oneEnd, order, costs };
  }

  /** Changes but for jumpers. */
  #count({ places, oneEnd }: Pick<Layout, 'places' | 'oneEnd'>, to: Int8Array): { changes: number; moved: number } {
    let changes = sharesOneEnd(oneEnd, to) ? listNewEnds(this.#machine, places, oneEnd, to).added : 0;
    let moved = 0;
    for (let w = 0; w < to.length; w++) {
      const place = to[w] === LEFT_OFF ? undefined : places[w]![to[w]!]!;
      changes += place ? costOf(place) : 1;
      if (place?.moved) moved++;
    }
    return { changes, moved };
  }

  /** The first that is right in every way of the case, else the first that is right in one. */
  #choose(placed: PlacedForm, part: Part): Chosen | null | undefined {
    const { form, judge, order, costs } = placed;
    const { values, possible: { plans, ways: { length: wayCount } } } = judge;
    values.fill(this.#machine, form, part, this.#findCoilOhm);
    judge.begin(this.#machine);
    const all = 2 ** wayCount - 1;
    let best: { readonly cost: number; readonly number: number; readonly ways: number } | undefined;
    for (let at = 0; at < order.length; at++) {
      const cost = costs[at]!;
      if (best !== undefined && best.ways === all && cost > best.cost) break;
      const number = order[at]!;
      const plan = plans[number]!;
      if (best !== undefined && plan.reach !== all && (best.ways === all || cost > best.cost)) continue;
      const working = judge.findWorkingWays(plan);
      if (working === 0 || (best !== undefined && working !== all && (best.ways === all || cost > best.cost))) continue;
      const ways = judge.keepWithinLimits(plan, working);
      if (ways === 0 || judge.hasIdleJumper(plan, ways)) continue;
      if (best === undefined || (ways === all && best.ways !== all)
        || ((ways === all || best.ways !== all) && cost === best.cost && this.#isWrittenBefore(placed, number, best.number))) best = { cost, number, ways };
    }
    if (judge.isClose) return undefined;
    if (best === undefined) return null;
    const hangsOnControlOhm = this.#hangsOnControlOhm(judge, plans[best.number]!, best.ways);
    const wrong = all & ~best.ways;
    const defeats = wrong !== 0 && judge.defeatsInterlock(plans[best.number]!, wrong === 2 ? 1 : 0);
    return judge.isClose ? undefined : { number: best.number, ways: best.ways, hangsOnControlOhm, defeats };
  }

  /** Is a plan not as right at both ends of the start circuit's measured resistance? */
  #hangsOnControlOhm(judge: PlanJudge, plan: PossiblePlan, ways: number): boolean {
    const { controlOhm, controlOhmEnds } = this.#machine;
    if (controlOhmEnds.length === 0) return false;
    let isClose = judge.isClose;
    const hangs = controlOhmEnds.some((ohm) => {
      judge.values.setControlOhm(ohm);
      judge.begin(this.#machine);
      const isAsRight = judge.keepWithinLimits(plan, judge.findWorkingWays(plan) & ways) === ways;
      isClose ||= judge.isClose;
      return !isAsRight;
    });
    judge.values.setControlOhm(controlOhm);
    judge.begin(this.#machine, isClose);
    return hangs;
  }

  /** Does the text of one plan sort before another's? */
  #isWrittenBefore(placed: PlacedForm, number: number, other: number): boolean {
    const { judge: { possible: { plans } }, form: { standIns } } = placed;
    const [a, b] = [plans[number]!, plans[other]!];
    // Where nothing but single letters for the places differ, the first that does tells.
    if (a.jumpers.length + b.jumpers.length === 0 && standIns[0]?.length === 1 && !a.placement.to.includes(LEFT_OFF) && !b.placement.to.includes(LEFT_OFF)) {
      const differing = this.#byTag.find((w) => a.placement.to[w] !== b.placement.to[w]);
      return differing !== undefined && standIns[a.placement.to[differing]!]! < standIns[b.placement.to[differing]!]!;
    }
    return this.#textOf(placed, number) < this.#textOf(placed, other);
  }

  #textOf({ form, texts, judge }: PlacedForm, number: number): string {
    const { placement, jumpers } = judge.possible.plans[number]!;
    return texts[number] ??= writePlanText(this.#machine, this.#byTag, form, placement.to, orderJumpers(form, jumpers));
  }

  #price({ judge, places, oneEnd }: Layout, number: number): { changes: number; newEnd: Uint8Array } {
    const { placement: { to }, jumpers } = judge.possible.plans[number]!;
    return { changes: this.#count({ places, oneEnd }, to).changes + jumpers.length, newEnd: listNewEnds(this.#machine, places, oneEnd, to).newEnd };
  }

  #write(placed: PlacedForm, number: number): PlanOutline {
    const { judge, form, same } = placed;
    const { placement: { to }, jumpers } = judge.possible.plans[number]!;
    return writeOutline(this.#machine, same, form, { to, jumpers: orderJumpers(form, jumpers), ...this.#price(placed, number) });
  }
}

/** What so many changes come to at least, so many of which may be wires left off. */
function leastOfChanges({ move, newEnd, jumper, leaveOff }: StepCosts, changes: number, mayBeLeftOff: number): number {
  const other = Math.min(move, newEnd, jumper);
  const leftOff = Math.min(changes, mayBeLeftOff);
  return leftOff * Math.min(other, leaveOff) + (changes - leftOff) * other;
}

/** Do two wires sit on a terminal that has room for one end? */
function sharesOneEnd(oneEnd: readonly boolean[], to: Int8Array): boolean {
  let taken = 0;
  for (let w = 0; w < to.length; w++) {
    if (to[w] === LEFT_OFF || !oneEnd[to[w]!]) continue;
    const bit = 1 << to[w]!;
    if ((taken & bit) !== 0) return true;
    taken |= bit;
  }
  return false;
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
