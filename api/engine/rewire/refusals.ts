import type { Refusal, RefusalCode } from '../../../catalog-schema/index.ts';
import type { PartNames } from './circuit-shape.ts';
import { findTroubles, type Trouble, type Wiring } from './explain.ts';
import { BATTERY, CHASSIS, FIRST_PART_NODE, INTERLOCKED_RETURN, listStates, STARTER, type MachineSide, type MachineWire, type Role } from './machine-side.ts';
import { nameNode, type PartSide } from './part-side.ts';
import { describeTrouble, describeWire, REFUSAL_ORDER } from './refusal-words.ts';
import type { CaseWays, Jumper } from './jumper-sets.ts';
import { nameJumper, Search, type Candidate, type SearchResult } from './search.ts';
import { joinNets, layNoWires, type Trials } from './trial-circuit.ts';
import { capacityOf, LEFT_OFF } from './wire-places.ts';

/**
 * Why there is no plan, or why the obvious plan (every wire on its same place, no jumper) is none. Empty only where the obvious plan is
 * right, or is none because a wire has no same place and yet there are plans.
 */
export function listRefusals(machine: MachineSide, part: PartSide, trials: Trials, ways: CaseWays, result: SearchResult): RefusalFinding[] {
  const said = new Map<RefusalCode, Words>();
  const say = (code: RefusalCode, why: Words): void => {
    if (!said.has(code)) said.set(code, why);
  };
  const { same } = part;
  if (same.every((place) => place !== undefined)) {
    if (!result.plans.some((plan) => isObvious(plan, same))) explainObvious(machine, part, trials, ways, same, say);
  }
  else if (result.plans.length === 0) {
    machine.wires.forEach((wire, w) => {
      if (same[w] === undefined) say('no-terminal', () => `wire ${describeWire(wire)} was on ${wire.wasOn}, and this part has no terminal that answers to it.`);
    });
  }
  if (result.plans.length === 0) {
    const room = Math.max(MOST_REFUSALS, said.size + 1);
    sayReturnLeftOff(machine, part, trials, say);
    sayFeedLeftOff(machine, part, trials, say);
    for (const miss of result.nearMisses) {
      if (said.size < room) explain(machine, part, trials, ways, miss, [miss.way], (names) => `with ${describeHanging(machine, names, miss)}: `, say);
    }
    const { first } = result;
    if (result.nearMisses.length === 0 && said.size === 0 && first) {
      explain(machine, part, trials, ways, first, ways.keys(), (names) => `with ${describeHanging(machine, names, first)}: `, say);
    }
    if (said.size === 0) {
      say('no-terminal', () => part.heavyPairs.length === 0
        ? 'the part has no contact between two terminals for battery and starter.'
        : 'the terminals of this part do not take all these wires.');
    }
  }
  return REFUSAL_ORDER.flatMap((code) => (said.has(code) ? [{ code, why: said.get(code)! }] : []));
}

/** Why a wiring is refused: the same for all parts of one shape, the words in each part's own names. */
export interface RefusalFinding {
  readonly code: RefusalCode;
  readonly why: Words;
}

export type Words = (names: PartNames) => string;

/** The findings as an answer lists them. */
export function writeRefusals(findings: readonly RefusalFinding[], names: PartNames): Refusal[] {
  return findings.map(({ code, why }) => ({ code, why: capitalise(why(names)) }));
}

/** Is this plan each wire on its same place, and no jumper? */
function isObvious({ placement, jumpers }: Candidate, same: PartSide['same']): boolean {
  return jumpers.length === 0 && same.every((place, w) => placement.to[w] === place);
}

/** The obvious plan's codes are all told; those of the nearest misses only up to this many in all. */
const MOST_REFUSALS = 4;
const LEFT_OFF_LIMITS = { evaluations: 300, candidates: 3_000 };

/**
 * Where nothing works and the interlocks act in the return, somebody in a hurry leaves the return off and lets the coil return another way. Where
 * that would crank, it is said that it cranks with every interlock open.
 */
function sayReturnLeftOff(machine: MachineSide, part: PartSide, trials: Trials, say: Say): void {
  if (!machine.has.interlockedReturn || machine.interlocks === 'none') return;
  const without = planWithout(machine, part, trials, 'interlocked-return', 'none', { ...machine.has, interlockedReturn: false });
  if (!without) return;
  say('defeats-interlock', (names) => `with wire ${without.left} left off the coil would find another way back (${without.hanging(names)}): `
    + 'the starter would crank with every interlock open. Someone can be hurt; this is refused, it is no adaptation.');
}

/** Where only the cranking feed stands in the way, that is said: the reader would look for a fault in the other wires. */
function sayFeedLeftOff(machine: MachineSide, part: PartSide, trials: Trials, say: Say): void {
  if (!machine.has.crankingFeed) return;
  const without = planWithout(machine, part, trials, 'cranking-feed', machine.interlocks, { ...machine.has, crankingFeed: false });
  if (!without) return;
  say('cranking-feed-lost', (names) => `nothing of this part is live only while cranking: wire ${without.left} would have no place, `
    + `and the other wires would do without it (${without.hanging(names)}).`);
}

/** The cheapest plan of the record without its wires of one role, for words only; undefined where a short search finds none. */
function planWithout(
  machine: MachineSide, part: PartSide, trials: Trials, role: Role, interlocks: MachineSide['interlocks'], has: MachineSide['has'],
): { left: string; hanging: Words } | undefined {
  const isKept = (wire: MachineWire): boolean => wire.role !== role;
  const bare: MachineSide = { ...machine, wires: machine.wires.filter(isKept), has, interlocks, ...listStates(interlocks, has) };
  const rest: PartSide = { ...part, same: part.same.filter((_, w) => isKept(machine.wires[w]!)) };
  const [plan] = new Search(bare, rest, trials.of('whole'), LEFT_OFF_LIMITS).run((plans) => plans.length > 0).plans;
  if (!plan) return undefined;
  return { left: machine.wires.filter((wire) => !isKept(wire)).map(describeWire).join(', '), hanging: (names) => describeHanging(bare, names, plan) };
}

type Say = (code: RefusalCode, why: Words) => void;

function explainObvious(machine: MachineSide, part: PartSide, trials: Trials, ways: CaseWays, same: PartSide['same'], say: Say): void {
  const to = Int8Array.from(same, (place) => place!);
  const breach = findPlacingBreach(machine, part, to);
  const heavy = chooseHeavy(machine, part, to);
  const byWay = ways.map((_, way) => findTroubles(machine, part, trials, layWiring(machine, part, ways, way, to, [], heavy)));
  // Right in one way of the case is a plan, listed with that assumption: nothing is refused.
  if (breach === undefined && byWay.some((troubles) => troubles.length === 0)) return;
  byWay.forEach((troubles, way) => sayTroubles(machine, part, ways, way, to, troubles, () => 'each wire on its old place: ', say));
  if (breach !== undefined && byWay.every((troubles) => troubles.length === 0)) say('no-terminal', (names) => `each wire on its old place: ${breach(names)}`);
}

function explain(
  machine: MachineSide, part: PartSide, trials: Trials, ways: CaseWays, candidate: Candidate, which: Iterable<number>, lead: Words, say: Say,
): void {
  const { to, heavy } = candidate.placement;
  for (const way of which) {
    const troubles = findTroubles(machine, part, trials, layWiring(machine, part, ways, way, to, candidate.jumpers, heavy));
    sayTroubles(machine, part, ways, way, to, troubles, lead, say);
  }
}

function sayTroubles(
  machine: MachineSide, part: PartSide, ways: CaseWays, way: number, to: ArrayLike<number>, troubles: readonly Trouble[], lead: Words, say: Say,
): void {
  const condition = ways.length === 1 ? '' : ways[way] === 'joined' ? 'if the bracket reaches battery minus, ' : 'if the bracket does not reach battery minus, ';
  // Of one kind of trouble the strongest current is the one to tell.
  for (const trouble of [...troubles].sort((a, b) => (b.amps ?? 0) - (a.amps ?? 0))) {
    say(trouble.code, (names) => `${lead(names)}${condition}${describeTrouble(machine, part, names, to, trouble)}`);
  }
}

/** Which codes a wiring would bring in one way of the case. */
export function findCodes(machine: MachineSide, part: PartSide, trials: Trials, ways: CaseWays, way: number, candidate: Candidate): RefusalFinding[] {
  const { to, heavy } = candidate.placement;
  const wiring = layWiring(machine, part, ways, way, to, candidate.jumpers, heavy);
  return findTroubles(machine, part, trials, wiring).map((trouble) => ({
    code: trouble.code, why: (names) => capitalise(describeTrouble(machine, part, names, to, trouble)),
  }));
}

function layWiring(
  machine: MachineSide, part: PartSide, ways: CaseWays, way: number, to: ArrayLike<number>, jumpers: readonly Jumper[], heavy: number,
): Wiring {
  const nets = layNoWires(part);
  machine.wires.forEach((wire, w) => {
    if (to[w] !== LEFT_OFF) joinNets(nets, FIRST_PART_NODE + to[w]!, wire.leadsTo);
  });
  for (const jumper of jumpers) joinNets(nets, jumper.from, jumper.to);
  const panelTied = ways[way] === 'joined';
  if (panelTied) joinNets(nets, CHASSIS, part.caseNode);
  return { to, jumpers, nets, panelTied, heavy };
}

/** Where the wires sit between no rated contact, the first one stands for it. */
function chooseHeavy(machine: MachineSide, part: PartSide, to: Int8Array): number {
  const at = (leadsTo: number): number => FIRST_PART_NODE + (to[machine.wires.findIndex((wire) => wire.leadsTo === leadsTo && wire.role !== 'tap')] ?? LEFT_OFF);
  const between = part.heavyPairs.find((pair) => pair.battery === at(BATTERY) && (part.ownMotor !== undefined || pair.starter === at(STARTER)));
  return (between ?? part.heavyPairs[0])?.plungers ?? 0;
}

/** The first rule of placing that a placement breaks, in words. */
function findPlacingBreach(machine: MachineSide, part: PartSide, to: Int8Array): Words | undefined {
  const fits = part.heavyPairs.some((pair) => machine.wires.every((wire, w) => {
    const node = FIRST_PART_NODE + to[w]!;
    if (wire.role === 'starter') return node === pair.starter;
    return (wire.role !== 'battery' && wire.role !== 'tap') || node === pair.battery;
  }));
  if (!fits) return () => 'battery, tap and starter would not sit on the two terminals of the contact that is rated for the starter.';
  for (const [t, terminal] of part.terminals.entries()) {
    const count = to.filter((place) => place === t).length;
    if (count > capacityOf(terminal)) return (names) => `${nameNode(names, FIRST_PART_NODE + t)} would hold ${count} wires and takes ${capacityOf(terminal)}.`;
  }
  const onCase = machine.wires.find((wire, w) => wire.role !== 'chassis' && to[w] === part.terminals.length);
  if (onCase) return () => `wire ${describeWire(onCase)} would sit on the case, where only a chassis wire may go.`;
  const nets = layNoWires(part);
  machine.wires.forEach((wire, w) => joinNets(nets, FIRST_PART_NODE + to[w]!, wire.leadsTo));
  if (machine.has.interlockedReturn && nets[INTERLOCKED_RETURN] === nets[part.caseNode]) return () => 'the interlocked return would reach the case.';
  return undefined;
}

function describeHanging(machine: MachineSide, names: PartNames, candidate: Candidate): string {
  const wires = machine.wires.map((wire, w) => {
    const to = candidate.placement.to[w]!;
    return to === LEFT_OFF ? `${wire.tag} left off` : `${wire.tag} on ${nameNode(names, FIRST_PART_NODE + to)}`;
  });
  const jumpers = candidate.jumpers.map((jumper) => nameJumper(names, jumper)).map(({ from, to }) => `a jumper from ${from} to ${to}`);
  return [...wires, ...jumpers].join(', ');
}

function capitalise(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
