import type { BenchRecord, Part, Refusal, RewireAnswer } from '../../../catalog-schema/index.ts';
import { CIRCUIT_CONSTANTS } from '../circuit/index.ts';
import { cautionOfBattery, cautionOfCapacitors, cautionOfInterlocks, cautionOfMaker } from '../cautions.ts';
import { describeSetting } from '../settings.ts';
import { BATTERY, CRANKING_FEED, describeMissing, readMachine, START_SWITCH, STARTER, type MachineSide } from './machine-side.ts';
import { readPart, type PartSide } from './part-side.ts';
import { findCodes, listRefusals } from './refusals.ts';
import type { FirstPlan, Rewirer, RewireOptions, WiringVerdict } from './rewire-options.ts';
import { listCaseWays, Search, type CaseWays, type FoundPlan } from './search.ts';
import { joinNets } from './trial-circuit.ts';
import { findSamePlace } from './wire-places.ts';
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
  return createRewirer(record, options).findFirstPlan(part);
}

/** Prepare one record for many parts. Equal circuits on equal terminals are answered from memory, so ask one rewirer for a whole catalogue. */
export function createRewirer(record: BenchRecord, options: RewireOptions = {}): Rewirer {
  const machine = readMachine(record);
  const whole = new Map<string, RewireAnswer>();
  const first = new Map<string, FirstPlan>();
  return {
    rewire: (part) => recall(whole, writeKey(machine, part), () => answerWhole(machine, part, options)),
    findFirstPlan: (part) => recall(first, writeKey(machine, part), () => answerFirst(machine, part, options)),
  };
}

/** All of a part that an answer hangs on. Where its terminals sit matters only by which wire belongs on which. */
function writeKey(machine: MachineSide, part: Part): string {
  const terminals = part.terminals.map(({ id, form, tabWidthMm }) => [id, form, tabWidthMm]);
  const places = machine.wires.map((wire) => findSamePlace(wire, part.terminals) ?? null);
  return JSON.stringify([part.partClass, terminals, places, part.inside, part.circuit, part.mounting?.conductive]);
}

function recall<T>(known: Map<string, T>, key: string, answer: () => T): T {
  let found = known.get(key);
  if (found === undefined) known.set(key, found = answer());
  return structuredCloneOf(found);
}

/** Callers own what they get: a change to one answer must not show in the next. */
function structuredCloneOf<T>(value: T): T {
  return JSON.parse(JSON.stringify(value)) as T;
}

function answerWhole(machine: MachineSide, part: Part, options: RewireOptions): RewireAnswer {
  const side = readPart(part, machine, options);
  const missing = listMissing(machine, side);
  if (missing.length > 0) return { plans: [], complete: true, refusals: missing, cautions: [], assumptions: [] };
  const ways = listCaseWays(machine, side);
  const result = new Search(machine, side, options).run((plans) => plans.length >= MOST_PLANS);
  const plans = result.plans.slice(0, MOST_PLANS);
  return {
    plans: plans.map((found) => writePlan(machine, side, found)),
    complete: result.complete,
    refusals: listRefusals(machine, side, ways, result, options),
    cautions: [...plans.flatMap((found, i) => describeLiveCase(side, found, `Plan ${i + 1}`)), ...listCautions(machine, side)],
    assumptions: [...listAssumptions(machine, side), ...describeLeaning(ways, plans)],
  };
}

/** Why nothing can be judged. A starter wire is missed only where the part carries no motor of its own. */
function listMissing(machine: MachineSide, side: PartSide): Refusal[] {
  if (machine.refusals.length > 0) return [...machine.refusals];
  return machine.has.starter || side.ownMotor ? [] : [describeMissing('the starter')];
}

function answerFirst(machine: MachineSide, part: Part, options: RewireOptions): FirstPlan {
  const side = readPart(part, machine, options);
  const missing = listMissing(machine, side);
  if (missing.length > 0) {
    const unknown: WiringVerdict = { outcome: 'unknown', why: missing[0]!.why };
    return {
      plan: null, rightBothWays: false, leansOn: null, complete: true, judged: false, refusals: missing, interlock: unknown,
      polarity: side.diodes.length > 0 ? unknown : null, cautions: [], assumptions: [],
    };
  }
  const ways = listCaseWays(machine, side);
  const all = 2 ** ways.length - 1;
  const result = new Search(machine, side, options).run((plans) => plans.some((found) => found.ways === all));
  const chosen = result.plans.find((found) => found.ways === all) ?? result.plans[0];
  const refusals = listRefusals(machine, side, ways, result, options);
  const plan = chosen ? writePlan(machine, side, chosen) : null;
  const rightBothWays = chosen !== undefined && chosen.ways === all;
  return {
    plan, rightBothWays, leansOn: !chosen || rightBothWays ? null : nameWay(ways, chosen.ways),
    complete: result.complete, judged: true, refusals,
    interlock: judgeInterlock(machine, side, ways, refusals, chosen),
    polarity: side.diodes.length === 0 ? null : judgePolarity(chosen, refusals),
    cautions: [...(chosen ? describeLiveCase(side, chosen, 'The wiring onto a part with a coil to its case') : []), ...side.cautions],
    assumptions: listAssumptions(machine, side),
  };
}

function judgeInterlock(
  machine: MachineSide, side: PartSide, ways: CaseWays, refusals: FirstPlan['refusals'], chosen: FoundPlan | undefined,
): WiringVerdict {
  if (chosen) {
    for (const way of ways.keys()) {
      if ((chosen.ways & (1 << way)) !== 0) continue;
      const defeat = findCodes(machine, side, ways, way, chosen).find((trouble) => trouble.code === 'defeats-interlock');
      if (defeat) return { outcome: 'fail', why: `${ways[way] === 'joined' ? 'Should the bracket reach battery minus' : 'Should the bracket not reach battery minus'}: ${defeat.why}` };
    }
    if (machine.interlocks === 'none') return { outcome: 'pass', why: 'The machine has no interlocks in its start circuit.' };
    return { outcome: 'pass', why: 'With an interlock open the relay lets go and does not pull in.' };
  }
  const defeat = refusals.find((refusal) => refusal.code === 'defeats-interlock');
  if (defeat) return { outcome: 'fail', why: defeat.why };
  return { outcome: 'unknown', why: 'Not judged: no way to put the wires on this part works.' };
}

function judgePolarity(chosen: FoundPlan | undefined, refusals: FirstPlan['refusals']): WiringVerdict {
  if (chosen) return { outcome: 'pass', why: 'The diode of the part blocks with these wires, as it should.' };
  const turned = refusals.find((refusal) => refusal.code === 'polarity');
  if (turned) return { outcome: 'fail', why: turned.why };
  return { outcome: 'unknown', why: 'Not judged: no way to put the wires on this part works.' };
}

function nameWay(ways: CaseWays, right: number): 'case-grounded' | 'case-apart' {
  return ways.findIndex((name, way) => name === 'joined' && (right & (1 << way)) !== 0) >= 0 ? 'case-grounded' : 'case-apart';
}

function describeLeaning(ways: CaseWays, plans: readonly FoundPlan[]): string[] {
  const all = 2 ** ways.length - 1;
  return plans.flatMap((found, index) => {
    if (found.ways === all) return [];
    const way = nameWay(ways, found.ways) === 'case-grounded' ? 'reaches battery minus through its bracket and the panel' : 'does not reach battery minus';
    return [`Plan ${index + 1} is right only if the case ${way}: not known, measure ohms from the bracket to battery minus (common practice, no source).`];
  });
}

/** Right by the rules where the case is apart from battery minus, and yet a short as soon as the bracket touches metal. */
function describeLiveCase(side: PartSide, { placement, jumpers }: FoundPlan, what: string): string[] {
  const nets = placement.nets.slice();
  for (const jumper of jumpers) joinNets(nets, jumper.from, jumper.to);
  if (side.part.mounting?.conductive === false || !LIVE_POINTS.includes(nets[side.caseNode]!)) return [];
  return [`${what} puts voltage on the metal case: the bracket must be insulated and touch nothing. Choose another plan or part where there is one.`];
}

const LIVE_POINTS: readonly number[] = [BATTERY, STARTER, START_SWITCH, CRANKING_FEED];

function listAssumptions(machine: MachineSide, side: PartSide): string[] {
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
  return [...lines, ...side.assumptions];
}

function listCautions({ system }: MachineSide, side: PartSide): string[] {
  return [...side.cautions, cautionOfBattery(), cautionOfInterlocks(system), cautionOfCapacitors(system.nominalV), cautionOfMaker()]
    .filter((line): line is string => line !== undefined);
}
