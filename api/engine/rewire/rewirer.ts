import type { BenchRecord, Part, Refusal, RewireAnswer } from '../../../catalog-schema/index.ts';
import { CIRCUIT_CONSTANTS } from '../circuit/index.ts';
import { cautionOfBattery, cautionOfCapacitors, cautionOfInterlocks, cautionOfMaker } from '../cautions.ts';
import { describeSetting } from '../settings.ts';
import { shapeOf, type PartNames } from './circuit-shape.ts';
import { findLeastOnTerminals } from './least-on-terminals.ts';
import { CHASSIS, describeMissing, FIRST_PART_NODE, readMachine, type MachineSide } from './machine-side.ts';
import { NetsJudge } from './nets-judge.ts';
import { notePart, type PartNotes } from './part-notes.ts';
import { ohmByWatts, readPart, type PartSide } from './part-side.ts';
import { findCodes, listRefusals, writeRefusals, type RefusalFinding, type Words } from './refusals.ts';
import type { FirstPlan, Rewirer, RewireOptions, WiringOutline } from './rewire-options.ts';
import { FormOutlines, nameWay, orderJumpers, type ChosenPlan } from './form-outlines.ts';
import { listCaseWays, type CaseWays } from './jumper-sets.ts';
import { orderByTag, Search, writePlanText, type FoundPlan, type SearchResult } from './search.ts';
import { joinNets, layNoWires, TrialCircuit, Trials } from './trial-circuit.ts';
import { findSamePlace, LEFT_OFF } from './wire-places.ts';
import { WiringMemory } from './wiring-memory.ts';
import { isFormRefused, wiringFormOf } from './wiring-form.ts';
import { writePlan } from './write-plan.ts';

const MOST_PLANS = 20;

/**
 * Put every wire of a bench record on one part: the plans that behave as the contract demands in every combination of start switch and
 * interlocks, fewest changes first, or why there is none.
 * @param record with wires traced; where they are not, the answer says which and how to trace them
 * @param part judged at `system.nominalV` and 20 C
 * @param options bounds of the search (`complete: false` when it was cut off)
 */
export function rewire(record: BenchRecord, part: Part, options: RewireOptions = {}): RewireAnswer {
  return createRewirer(record, options).rewire(part);
}

/** The one plan `fit` works with; see `FirstPlan`. */
export function findFirstPlan(record: BenchRecord, part: Part, options: RewireOptions = {}): FirstPlan {
  return createRewirer(record, { ...options, separately: true }).findFirstPlan(part);
}

/** Prepare one record for many parts. Parts of one shape are answered from memory, so ask one rewirer for a whole catalogue. */
export function createRewirer(record: BenchRecord, given: RewireOptions = {}): Rewirer {
  const machine = readMachine(record);
  const options = { ...given, memory: given.memory ?? new WiringMemory() };
  const ends = new ControlOhmEnds(record, machine, options);
  const shapes = new Map<string, Remembered>();
  const recall = (part: Part): { remembered: Remembered; names: PartNames } => {
    const { shape, names } = shapeOf(part);
    const same = machine.wires.map((wire) => placeIn(names, findSamePlace(wire, part.terminals)));
    const key = `${shape.key} ${same.join()}`;
    let remembered = shapes.get(key);
    if (remembered === undefined) {
      const side = readPart(shape, machine, same, (coil) => options.findCoilOhm?.(part, names.coils[coil]!)?.ohm ?? ohmByWatts(names.coils[coil]!));
      shapes.set(key, remembered = { side, whole: undefined, first: undefined, reasons: undefined });
    }
    return { remembered, names };
  };
  // A bounded search finds what it finds in its own order.
  const forms = options.separately || options.limits ? undefined : new FormOutlines(machine, options, options.memory);
  const findByForm = (part: Part, form: number | undefined, side: PartSide, names: PartNames): First | undefined => {
    const chosen = listMissing(machine, side).length === 0 ? forms?.choose(part, form) : undefined;
    return chosen ? takeChosen(machine, side, names, chosen) : undefined;
  };
  const outline = (part: Part, form?: number): WiringOutline | null => {
    // Whose form is known by number is looked up faster than that.
    if (form === undefined && isFormRefused(machine, wiringFormOf(part))) return null;
    if (machine.refusals.length > 0) return part.circuit.some(({ kind }) => kind === 'diode') ? NOT_JUDGED_WITH_DIODE : NOT_JUDGED;
    const byForm = forms?.outline(part, form);
    if (byForm !== undefined) return byForm ?? ends.outline(part, form);
    const { remembered, names } = recall(part);
    const { missing, result, chosen } = remembered.first ??= findFirst(machine, remembered.side, options);
    if (missing.length === 0 && chosen === undefined && result.complete) return ends.outline(part, form);
    const reasons = remembered.reasons ??= findReasons(machine, remembered.side, remembered.first);
    return writeFirst(machine, remembered.side, remembered.first, reasons, names, notePart(part, machine.nominalV, options));
  };
  return {
    rewire: (part) => {
      const { remembered, names } = recall(part);
      remembered.whole ??= findWhole(machine, remembered.side, options);
      return writeWhole(machine, remembered.side, remembered.whole, names, notePart(part, machine.nominalV, options));
    },
    findFirstPlan: (part, form) => {
      const { remembered, names } = recall(part);
      const first = remembered.first ??= findByForm(part, form, remembered.side, names) ?? findFirst(machine, remembered.side, options);
      const isRefused = first.missing.length === 0 && first.chosen === undefined && first.result.complete;
      const atEnd = isRefused && !isFormRefused(machine, wiringFormOf(part)) ? ends.findFirstPlan(part, form) : undefined;
      if (atEnd) return atEnd;
      const reasons = remembered.reasons ??= findReasons(machine, remembered.side, first);
      return writeFirst(machine, remembered.side, first, reasons, names, notePart(part, machine.nominalV, options));
    },
    refusesForm: (form) => isFormRefused(machine, form),
    outline,
    leastWork: (part, form, ways, needsLug) => (machine.refusals.length > 0 ? undefined : forms?.leastWork(part, form, ways, needsLug)),
    leastOnTerminals: (terminals, ways, needsLug) => (machine.refusals.length > 0 ? ways.map(() => 0) : findLeastOnTerminals(machine, terminals, ways, needsLug)),
    isRefused: (part, form) => outline(part, form) === null,
  };
}

/**
 * The machine at either end of the start circuit's measured resistance, for parts on which no plan is right at the value in its middle: a
 * reading decides only with its whole interval, so a plan that is right at an end is one to be sure of by a finer reading.
 */
class ControlOhmEnds {
  readonly #ends: readonly number[];
  readonly #createAt: (controlOhm: number) => Rewirer;
  readonly #rewirers: Rewirer[] = [];
  /** parts that share an outline share this one too */
  readonly #outlines = new Map<WiringOutline, WiringOutline>();

  constructor(record: BenchRecord, { controlOhmEnds }: MachineSide, options: RewireOptions) {
    this.#ends = controlOhmEnds;
    this.#createAt = (controlOhm) => createRewirer({ ...record, demand: { ...record.demand, controlOhm } }, options);
  }

  outline(part: Part, form: number | undefined): WiringOutline | null {
    const found = this.#findAtEnd((rewirer) => rewirer.outline(part, form));
    if (!found) return null;
    const { plan, controlOhm } = found;
    let outline = this.#outlines.get(plan);
    if (!outline) this.#outlines.set(plan, outline = { ...plan, hangsOnControlOhm: true, onlyAtControlOhm: controlOhm });
    return outline;
  }

  findFirstPlan(part: Part, form: number | undefined): FirstPlan | undefined {
    const found = this.#findAtEnd((rewirer) => rewirer.findFirstPlan(part, form));
    return found && { ...found.plan, hangsOnControlOhm: true, onlyAtControlOhm: found.controlOhm };
  }

  #findAtEnd<T extends WiringOutline>(ask: (rewirer: Rewirer) => T | null): { plan: T; controlOhm: number } | undefined {
    for (const [at, controlOhm] of this.#ends.entries()) {
      const found = ask(this.#rewirers[at] ??= this.#createAt(controlOhm));
      if (found?.plan) return { plan: found, controlOhm };
    }
    return undefined;
  }
}

/** What follows from wires that are not traced yet: the same for every part. */
const NOT_JUDGED: WiringOutline = {
  plan: null, rightBothWays: false, leansOn: null, hangsOnControlOhm: false, complete: true, judged: false, interlock: { outcome: 'unknown' }, polarity: null,
};
const NOT_JUDGED_WITH_DIODE: WiringOutline = { ...NOT_JUDGED, polarity: { outcome: 'unknown' } };

/** What is known of one shape with its wires' places, without names. */
interface Remembered {
  readonly side: PartSide;
  whole: Whole | undefined;
  first: First | undefined;
  /** why there is no plan, or why the obvious one is refused: sought only for those who read it */
  reasons: Reasons | undefined;
}

/** A place on a part as a number of its shape. */
function placeIn(names: PartNames, place: number | undefined): number | undefined {
  return place === undefined ? undefined : names.places[place] ?? names.places.length;
}

/** A whole answer without names; `missing` where nothing could be judged. */
interface Whole {
  readonly missing: readonly Refusal[];
  readonly ways: CaseWays;
  readonly plans: readonly FoundPlan[];
  readonly complete: boolean;
  readonly refusals: readonly RefusalFinding[];
}

function findWhole(machine: MachineSide, side: PartSide, { limits }: RewireOptions): Whole {
  const missing = listMissing(machine, side);
  const ways = listCaseWays(machine, side);
  if (missing.length > 0) return { missing, ways, plans: [], complete: true, refusals: [] };
  const trials = new Trials(machine, side);
  const result = new Search(machine, side, trials.of('whole'), limits).run((plans) => plans.length >= MOST_PLANS);
  return {
    missing, ways, plans: result.plans.slice(0, MOST_PLANS), complete: result.complete, refusals: listRefusals(machine, side, trials, ways, result),
  };
}

function writeWhole(machine: MachineSide, side: PartSide, whole: Whole, names: PartNames, notes: PartNotes): RewireAnswer {
  const { missing, ways, plans, complete, refusals } = whole;
  if (missing.length > 0) return { plans: [], complete, refusals: missing.map((refusal) => ({ ...refusal })), cautions: [], assumptions: [] };
  return {
    plans: plans.map((found) => writePlan(machine, side, names, found)),
    complete,
    refusals: writeRefusals(refusals, names),
    cautions: listCautions(machine, notes),
    assumptions: [...listAssumptions(machine, side, notes), ...describeLeaning(ways, plans)],
  };
}

/** Why nothing can be judged. A starter wire is missed only where the part carries no motor of its own. */
function listMissing(machine: MachineSide, side: PartSide): Refusal[] {
  if (machine.refusals.length > 0) return [...machine.refusals];
  return machine.has.starter || side.ownMotor ? [] : [describeMissing('the starter')];
}

const NOTHING_FOUND: SearchResult = { plans: [], complete: true, nearMisses: [], first: undefined };

/** A first plan without names; `missing` where nothing could be judged. */
interface First {
  readonly missing: readonly Refusal[];
  readonly ways: CaseWays;
  readonly trials: Trials;
  readonly result: SearchResult;
  readonly chosen: FoundPlan | undefined;
  /** the chosen plan is not right over all of the start circuit's measured resistance */
  readonly hangsOnControlOhm: boolean;
}

interface Reasons {
  readonly refusals: readonly RefusalFinding[];
  /** where the chosen plan is wrong in one way of the case: how it would defeat the interlocks there */
  readonly defeat: { readonly way: CaseWays[number]; readonly why: Words } | undefined;
}

function findFirst(machine: MachineSide, side: PartSide, { limits }: RewireOptions): First {
  const missing = listMissing(machine, side);
  const ways = listCaseWays(machine, side);
  const trials = new Trials(machine, side);
  if (missing.length > 0) return { missing, ways, trials, result: NOTHING_FOUND, chosen: undefined, hangsOnControlOhm: false };
  const all = 2 ** ways.length - 1;
  const result = new Search(machine, side, trials.of('whole'), limits).run((plans) => plans.some((found) => found.ways === all));
  const chosen = result.plans.find((found) => found.ways === all) ?? result.plans[0];
  return { missing, ways, trials, result, chosen, hangsOnControlOhm: chosen !== undefined && !isRightAtEnds(machine, side, chosen) };
}

/** As `findFirst`, from the plan that the part's form came to: in the part's own order, so that its numbers are those of a search. */
function takeChosen(machine: MachineSide, side: PartSide, names: PartNames, { plan, ways: right, form, newEnd, changes, hangsOnControlOhm }: ChosenPlan): First {
  const placeOf = (topological: number): number => names.places[form.terminals[topological]!] ?? side.terminals.length;
  const nodeOf = (node: number): number => (node === CHASSIS ? CHASSIS : FIRST_PART_NODE + placeOf(node - FIRST_PART_NODE));
  const to = Int8Array.from(plan.placement.to, (place) => (place === LEFT_OFF ? LEFT_OFF : placeOf(place)));
  const jumpers = orderJumpers(side, plan.jumpers.map((jumper) => ({ from: nodeOf(jumper.from), to: nodeOf(jumper.to) })));
  const ways = listCaseWays(machine, side);
  const trials = new Trials(machine, side);
  const nets = layNoWires(side);
  if (ways[0] === 'joined') joinNets(nets, CHASSIS, side.caseNode);
  machine.wires.forEach((wire, w) => {
    if (to[w] !== LEFT_OFF) joinNets(nets, FIRST_PART_NODE + to[w]!, wire.leadsTo);
  });
  const placement = { to, newEnd, moved: to.reduce((sum, place, w) => sum + Number(place !== LEFT_OFF && place !== side.same[w]), 0), changes: changes - jumpers.length, heavy: plan.placement.heavy, nets };
  const withJumpers = nets.slice();
  for (const jumper of jumpers) joinNets(withJumpers, jumper.from, jumper.to);
  if ((right & 1) === 0) joinNets(withJumpers, CHASSIS, side.caseNode);
  const verdict = new NetsJudge(machine, side, trials.of('whole')).judge(withJumpers, placement.heavy);
  const chosen: FoundPlan = { placement, jumpers, ways: right, changes, verdict, text: writePlanText(machine, orderByTag(machine), side, to, jumpers) };
  return { missing: [], ways, trials, result: { ...NOTHING_FOUND, plans: [chosen] }, chosen, hangsOnControlOhm };
}

/** Is a plan as right at both ends of the start circuit's measured resistance? Every voltage and current moves one way with one resistance. */
function isRightAtEnds(machine: MachineSide, side: PartSide, plan: FoundPlan): boolean {
  return machine.controlOhmEnds.every((controlOhm) => {
    const end: MachineSide = { ...machine, controlOhm };
    return (new Search(end, side, new TrialCircuit(end, side), undefined).findRightWays(plan) & plan.ways) === plan.ways;
  });
}

function findReasons(machine: MachineSide, side: PartSide, { missing, ways, trials, result, chosen }: First): Reasons {
  if (missing.length > 0) return { refusals: [], defeat: undefined };
  return { refusals: listRefusals(machine, side, trials, ways, result), defeat: chosen && findDefeat(machine, side, trials, ways, chosen) };
}

function findDefeat(machine: MachineSide, side: PartSide, trials: Trials, ways: CaseWays, chosen: FoundPlan): Reasons['defeat'] {
  for (const way of ways.keys()) {
    if ((chosen.ways & (1 << way)) !== 0) continue;
    const defeat = findCodes(machine, side, trials, ways, way, chosen).find((trouble) => trouble.code === 'defeats-interlock');
    if (defeat) return { way: ways[way]!, why: defeat.why };
  }
  return undefined;
}

function writeFirst(
  machine: MachineSide, side: PartSide, { missing, ways, chosen, hangsOnControlOhm, result: { complete } }: First, reasons: Reasons, names: PartNames, notes: PartNotes,
): FirstPlan {
  if (missing.length > 0) {
    const unknown: FirstPlan['interlock'] = { outcome: 'unknown', why: missing[0]!.why };
    return {
      plan: null, rightBothWays: false, leansOn: null, hangsOnControlOhm, complete, judged: false, refusals: missing, interlock: unknown,
      polarity: side.diodes.length > 0 ? unknown : null, cautions: [], assumptions: [],
    };
  }
  const refusals = writeRefusals(reasons.refusals, names);
  const rightBothWays = chosen !== undefined && chosen.ways === 2 ** ways.length - 1;
  return {
    plan: chosen ? writePlan(machine, side, names, chosen) : null,
    rightBothWays, leansOn: !chosen || rightBothWays ? null : nameWay(ways, chosen.ways), hangsOnControlOhm,
    complete, judged: true, refusals,
    interlock: judgeInterlock(machine, chosen, reasons.defeat, refusals, names),
    polarity: side.diodes.length === 0 ? null : judgePolarity(chosen, refusals),
    cautions: notes.cautions,
    assumptions: listAssumptions(machine, side, notes),
  };
}

function judgeInterlock(
  machine: MachineSide, chosen: FoundPlan | undefined, defeat: Reasons['defeat'], refusals: FirstPlan['refusals'], names: PartNames,
): FirstPlan['interlock'] {
  if (chosen) {
    if (defeat) {
      const where = defeat.way === 'joined' ? 'Should the bracket reach battery minus' : 'Should the bracket not reach battery minus';
      return { outcome: 'fail', why: `${where}: ${defeat.why(names)}` };
    }
    if (machine.interlocks === 'none') return { outcome: 'pass', why: 'The machine has no interlocks in its start circuit.' };
    return { outcome: 'pass', why: 'With an interlock open the relay lets go and does not pull in.' };
  }
  const refused = refusals.find((refusal) => refusal.code === 'defeats-interlock');
  if (refused) return { outcome: 'fail', why: refused.why };
  return { outcome: 'unknown', why: 'Not judged: no way to put the wires on this part works.' };
}

function judgePolarity(chosen: FoundPlan | undefined, refusals: FirstPlan['refusals']): FirstPlan['interlock'] {
  if (chosen) return { outcome: 'pass', why: 'The diode of the part blocks with these wires, as it should.' };
  const turned = refusals.find((refusal) => refusal.code === 'polarity');
  if (turned) return { outcome: 'fail', why: turned.why };
  return { outcome: 'unknown', why: 'Not judged: no way to put the wires on this part works.' };
}

function describeLeaning(ways: CaseWays, plans: readonly FoundPlan[]): string[] {
  const all = 2 ** ways.length - 1;
  return plans.flatMap((found, index) => {
    if (found.ways === all) return [];
    const way = nameWay(ways, found.ways) === 'case-grounded' ? 'reaches battery minus through its bracket and the panel' : 'does not reach battery minus';
    return [`Plan ${index + 1} is right only if the case ${way}: not known, measure ohms from the bracket to battery minus (common practice, no source).`];
  });
}

function listAssumptions(machine: MachineSide, side: PartSide, notes: PartNotes): string[] {
  const ohm = (name: keyof typeof CIRCUIT_CONSTANTS): string => `${CIRCUIT_CONSTANTS[name].value} ${CIRCUIT_CONSTANTS[name].unit}`;
  const lines = [
    `Judged at ${machine.nominalV} V and 20 C: battery behind ${ohm('batteryOhm')}, starter ${ohm('starterOhm')}, closed contact ${ohm('contactOhm')}`
    + `${side.diodes.length > 0 ? `, diode ${ohm('diodeV')} and ${ohm('diodeOhm')}` : ''}, wires 0 Ohm.`,
  ];
  if (machine.interlocksAssumed) {
    lines.push('The record does not say where the interlocks act: taken to sit ahead of the start-switch wire (in-feed), since no wire leads to an interlocked return.');
  }
  if (machine.controlFuseA === undefined) {
    lines.push(`No control fuse is given: a control wire is taken to bear ${describeSetting('wireLimitOfCoilCurrent')}; but at least ${describeSetting('leastWireLimitA')}.`);
  }
  return [...lines, ...notes.assumptions];
}

function listCautions({ system }: MachineSide, notes: PartNotes): string[] {
  return [...notes.cautions, cautionOfBattery(), cautionOfInterlocks(system), cautionOfCapacitors(system.nominalV), cautionOfMaker()]
    .filter((line): line is string => line !== undefined);
}
