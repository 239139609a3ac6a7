import type { BenchRecord, CircuitElement, CoilElement, ContactElement, LeadsTo, Part, RefusalCode, SwitchState } from '../../../catalog-schema/index.ts';
import { solveNetwork, type Branch, type DiodeBranch, type Solution } from './plain-solver.ts';

// Judges one way of wiring a part, straight from the contract's sentences. Plain and slow on purpose.

/** Where each wire goes, by tag; null is left off. */
export type Hanging = ReadonlyMap<string, string | null>;
export interface Jumper { from: string; to: string }
/** `load` is the joint where the part's own motor hangs on the heavy contact, for a record without a starter wire. */
export interface Wiring { hanging: Hanging; jumpers: readonly Jumper[]; caseTied: boolean; heavy: ContactElement; load: string | undefined }

export interface Verdict { codes: Set<RefusalCode>; failedStates: number; states: SwitchState[] }

const BATTERY_OHM = 0.01;
const STARTER_OHM = 0.05;
const CONTACT_OHM = 0.0005;
const WIRE_OHM = 1e-6;
const EPSILON = 1e-7;

interface Drive { start: boolean; interlocks: boolean; running: boolean }
type Diodes = 'as-built' | 'turned-round' | 'taken-out';
interface Plunger { key: string; coils: CoilElement[] }

/** A wiring laid out on one part: nets after every zero-ohm tie, plungers and the machine outside. */
interface Bench {
  record: BenchRecord; part: Part; wiring: Wiring
  net: (name: string) => number; netCount: number    // what lies under one nut or in one joint
  tied: (name: string) => number                      // the same, with jumpers and the tie of case to chassis
  plungers: Plunger[]; heavyPlunger: number; contacts: ContactElement[]
}

interface Run { settled: boolean; isIn: boolean[]; solution: Solution; cycle: boolean[][] }

/** Where the interlocks act, as recorded or as the contract reads a record that does not say. */
export function interlocksOf(record: BenchRecord): 'in-return' | 'in-feed' | 'both' | 'none' {
  if (record.system.interlocks) return record.system.interlocks;
  return (record.wires ?? []).some((wire) => wire.leadsTo === 'interlocked-return') ? 'in-return' : 'in-feed';
}

/**
 * Every code this wiring earns; right when there is none. With `firstOnly` it stops at the first state that fails. With
 * `mergeTies` a jumper is no branch but makes its ends one net: quicker, and a wire beside a jumper then seems to carry
 * nothing, so it may call right what is not, never the other way about.
 */
export function judgeWiring(record: BenchRecord, part: Part, wiring: Wiring, how: { firstOnly?: boolean; mergeTies?: boolean } = {}): Verdict {
  const { firstOnly = false, mergeTies = false } = how;
  const bench = layOut(record, part, wiring, mergeTies);
  const codes = new Set<RefusalCode>();
  const states: SwitchState[] = [];
  let failedStates = 0;
  const judged = listDrives(record);
  // the state most plans fail at is tried first; the answer lists them in the contract's order
  const order = firstOnly ? judged.toReversed() : judged;
  for (const group of order) {
    let failed = false;
    for (const drive of group) {
      const found = judgeDrive(bench, drive, states, drive === group[group.length - 1]);
      if (found.length > 0) failed = true;
      for (const code of found) codes.add(code);
      if (failed && firstOnly) return { codes, failedStates: 1, states };
    }
    if (failed) failedStates++;
  }
  if (firstOnly) states.reverse();
  return { codes, failedStates, states };
}

/**
 * Names what a wiring is electrically: which names are one net and which net each wire meets. Two jumpers that tie the
 * same points in another order are the same circuit, so they need to be judged once only.
 */
export function nameLayout(record: BenchRecord, part: Part, wiring: Wiring): string {
  const { net } = layOut(record, part, wiring, true);
  const names = ['case', '+battery', '+starter', ...part.terminals.map((t) => t.id), ...(part.inside ?? [])];
  const wires = (record.wires ?? []).map((wire) => {
    const to = wiring.hanging.get(wire.tag);
    return typeof to === 'string' ? net(to) : 'off';
  });
  return JSON.stringify([names.map(net), wires, wiring.heavy.id, wiring.load]);
}

/** The judged states; the running one is tried with the interlocks open too, and counts once. */
function listDrives(record: BenchRecord): Drive[][] {
  const skipOpen = interlocksOf(record) === 'none';
  const list: Drive[][] = [];
  for (const start of [false, true]) {
    for (const interlocks of [false, true]) {
      if (!interlocks && skipOpen) continue;
      list.push([{ start, interlocks, running: false }]);
    }
  }
  if ((record.wires ?? []).some((wire) => wire.leadsTo === 'cranking-feed')) {
    const closed: Drive = { start: false, interlocks: true, running: true };
    list.push(skipOpen ? [closed] : [{ ...closed, interlocks: false }, closed]);
  }
  return list;
}

function judgeDrive(bench: Bench, drive: Drive, states: SwitchState[], listed: boolean): RefusalCode[] {
  const codes: RefusalCode[] = [];
  const rest = run(bench, drive, false, 'as-built');
  const fromIn = run(bench, drive, true, 'as-built');
  for (const [one, wasIn] of [[rest, false], [fromIn, true]] as const) {
    if (!one.settled) {
      codes.push(...nameCycle(bench, drive, one));
      continue;
    }
    codes.push(...nameExcess(bench, drive, one));
    if (!drive.running && isFeedLost(bench, one.isIn)) codes.push('cranking-feed-lost');
    const wrong = nameWrongState(bench, drive, one, wasIn);
    if (wrong) codes.push(wrong);
  }
  if (listed) {
    states.push({
      startSwitch: drive.start, interlocks: drive.interlocks, engineRuns: drive.running,
      pulledIn: rest.isIn[bench.heavyPlunger] ?? false, starterLive: isStarterLive(bench, rest.isIn),
      controlA: sumControl(bench, rest.solution),
    });
  }
  return codes;
}

function nameWrongState(bench: Bench, drive: Drive, one: Run, wasIn: boolean): RefusalCode | undefined {
  const isIn = one.isIn[bench.heavyPlunger] ?? false;
  const live = isStarterLive(bench, one.isIn);
  const held = isIn || areCoilsHeld(bench, one.solution);
  if (drive.running) return held || live || isJoinedToFeed(bench, one.isIn) ? 'back-feeds' : undefined;
  if (drive.start && drive.interlocks) {
    if (isIn && live) return undefined;
    const turned = run(bench, drive, false, 'turned-round');
    const turnedRight = bench.part.circuit.some((element) => element.kind === 'diode')
      && turned.settled && (turned.isIn[bench.heavyPlunger] ?? false) && isStarterLive(bench, turned.isIn);
    return turnedRight ? 'polarity' : 'never-pulls-in';
  }
  if (drive.start) return held || live ? 'defeats-interlock' : undefined;
  if (!held && !live) return undefined;
  if (isStarterLive(bench, bench.plungers.map(() => false))) return 'starter-always-live';
  return isIn && !wasIn ? 'always-pulled-in' : namedFromRest(bench, drive, wasIn);
}

/** With the start switch off: what is in only because it was in has latched. */
function namedFromRest(bench: Bench, drive: Drive, wasIn: boolean): RefusalCode | undefined {
  if (!wasIn) return 'latches';
  const rest = run(bench, drive, false, 'as-built');
  return rest.settled && rest.isIn[bench.heavyPlunger] ? undefined : 'latches';
}

function nameCycle(bench: Bench, drive: Drive, one: Run): RefusalCode[] {
  const names = new Set<RefusalCode>();
  for (const isIn of one.cycle) {
    for (const code of nameShorts(bench, drive, isIn)) names.add(code);
  }
  return names.size > 0 ? [...names] : ['chatters'];
}

function nameShorts(bench: Bench, drive: Drive, isIn: readonly boolean[]): RefusalCode[] {
  const limit = limitOf(bench);
  const coilsOut = wireAmps(bench, solve(bench, drive, isIn, 'as-built', false));
  const bothOut = wireAmps(bench, solve(bench, drive, isIn, 'taken-out', false));
  const codes: RefusalCode[] = [];
  for (const [tag, amps] of coilsOut) {
    if (amps > limit + EPSILON) codes.push(bothOut.get(tag)! > limit + EPSILON ? 'shorts-a-wire' : 'polarity');
  }
  return codes;
}

function nameExcess(bench: Bench, drive: Drive, one: Run): RefusalCode[] {
  const limit = limitOf(bench);
  const over = [...wireAmps(bench, one.solution)].filter(([, amps]) => amps > limit + EPSILON).map(([tag]) => tag);
  if (over.length === 0) return [];
  const coilsOut = wireAmps(bench, solve(bench, drive, one.isIn, 'as-built', false));
  const bothOut = wireAmps(bench, solve(bench, drive, one.isIn, 'taken-out', false));
  return over.map((tag) => {
    if (coilsOut.get(tag)! <= limit + EPSILON) return 'over-fuse';
    return bothOut.get(tag)! <= limit + EPSILON ? 'polarity' : 'shorts-a-wire';
  });
}

/** Lays the wires, jumpers and ties. Chassis is net 0. */
function layOut(record: BenchRecord, part: Part, wiring: Wiring, mergeTies: boolean): Bench {
  const lugs: [string, string][] = wiring.load === undefined ? [] : [[wiring.load, '+starter']];
  const taps: [string, string][] = [];
  for (const wire of record.wires ?? []) {
    const to = wiring.hanging.get(wire.tag);
    if (to === null || to === undefined) continue;
    if (wire.leadsTo === 'battery') lugs.push([to, '+battery']);
    if (wire.leadsTo === 'tap') taps.push([to, '+battery']);
    if (wire.leadsTo === 'starter') lugs.push([to, '+starter']);
  }
  const names = ['chassis', 'case', '+battery', '+starter', '+switch', '+return', '+feed', ...part.terminals.map((t) => t.id), ...(part.inside ?? [])];
  const merged = numberNets(names, [...lugs, ...taps, ...listTies(wiring)]);
  const plain = mergeTies ? merged : numberNets(names, lugs);
  const contacts = part.circuit.filter((element): element is ContactElement => element.kind === 'contact');
  const coils = part.circuit.filter((element): element is CoilElement => element.kind === 'coil');
  const plungers: Plunger[] = [];
  for (const contact of contacts) {
    const key = keyOf(contact);
    if (key === '' || plungers.some((plunger) => plunger.key === key)) continue;
    plungers.push({ key, coils: coils.filter((coil) => contact.coils.includes(coil.id)) });
  }
  return {
    record, part, wiring, plungers, contacts,
    netCount: Math.max(...plain.values()) + 1, net: (name) => plain.get(name)!, tied: (name) => merged.get(name)!,
    heavyPlunger: plungers.findIndex((plunger) => plunger.key === keyOf(wiring.heavy)),
  };
}

function listTies(wiring: Wiring): [string, string][] {
  const ties = wiring.jumpers.map((jumper): [string, string] => [jumper.from, jumper.to]);
  return wiring.caseTied ? [...ties, ['case', 'chassis']] : ties;
}

/** A number for every name, the same for names that the pairs join; the first name's is 0. */
function numberNets(names: readonly string[], pairs: readonly (readonly [string, string])[]): Map<string, number> {
  const group = new Map(names.map((name) => [name, name]));
  for (const [a, b] of pairs) {
    const [kept, gone] = [group.get(a)!, group.get(b)!];
    for (const name of names) if (group.get(name) === gone) group.set(name, kept);
  }
  const numbers = new Map<string, number>();
  return new Map(names.map((name) => {
    const root = group.get(name)!;
    if (!numbers.has(root)) numbers.set(root, numbers.size);
    return [name, numbers.get(root)!];
  }));
}

function keyOf(contact: ContactElement): string {
  return [...new Set(contact.coils)].sort().join(' ');
}

/** Lets the plungers move, all at once each round, until they rest or come back to where they were. */
function run(bench: Bench, drive: Drive, startIn: boolean, diodes: Diodes): Run {
  let isIn = bench.plungers.map(() => startIn);
  const seen: boolean[][] = [];
  for (;;) {
    const solution = solve(bench, drive, isIn, diodes, true);
    const next = bench.plungers.map((plunger, index) => movePlunger(bench, plunger, isIn[index]!, solution));
    if (isSame(next, isIn)) return { settled: true, isIn, solution, cycle: [] };
    seen.push(isIn);
    const repeat = seen.findIndex((old) => isSame(old, next));
    if (repeat >= 0) return { settled: false, isIn, solution, cycle: seen.slice(repeat) };
    isIn = next;
  }
}

function isSame(a: readonly boolean[], b: readonly boolean[]): boolean {
  return a.every((value, index) => value === b[index]);
}

function movePlunger(bench: Bench, plunger: Plunger, isIn: boolean, solution: Solution): boolean {
  if (!isIn) return plunger.coils.every((coil) => Math.abs(voltsAcross(bench, coil, solution)) >= pullInOf(bench, coil) - EPSILON);
  const sum = plunger.coils.reduce((total, coil) => total + voltsAcross(bench, coil, solution) / coil.ohmAt20C!, 0);
  const least = Math.min(...plunger.coils.map((coil) => dropOutOf(bench, coil) / coil.ohmAt20C!));
  return Math.abs(sum) > least + EPSILON;
}

/** "Out" needs dropOutV or less at every coil of the plunger. */
function areCoilsHeld(bench: Bench, solution: Solution): boolean {
  const plunger = bench.plungers[bench.heavyPlunger];
  return plunger !== undefined
    && plunger.coils.some((coil) => Math.abs(voltsAcross(bench, coil, solution)) > dropOutOf(bench, coil) + EPSILON);
}

function voltsAcross(bench: Bench, coil: CoilElement, solution: Solution): number {
  return solution.volts[bench.net(coil.between[0])]! - solution.volts[bench.net(coil.between[1])]!;
}

function pullInOf(bench: Bench, coil: CoilElement): number {
  return (coil.pullInV ?? 0.7 * coil.nominalV) * bench.record.system.nominalV / coil.nominalV;
}

function dropOutOf(bench: Bench, coil: CoilElement): number {
  return (coil.dropOutV ?? 0.1 * coil.nominalV) * bench.record.system.nominalV / coil.nominalV;
}

function isClosed(bench: Bench, contact: ContactElement, isIn: readonly boolean[]): boolean {
  const index = bench.plungers.findIndex((plunger) => plunger.key === keyOf(contact));
  const moved = index >= 0 && isIn[index]!;
  return contact.form === 'NO' ? moved : !moved;
}

/**
 * The outside of the machine, but for battery and starter. All wires of one goal meet in one outside point, and each
 * wire is a branch from there to its terminal (current counted into the part for the start switch, out of it for returns).
 */
function listWireBranches(bench: Bench): { tag: string; goal: LeadsTo; branch: Branch; meets: string[] }[] {
  const { record, wiring, net } = bench;
  const list: { tag: string; goal: LeadsTo; branch: Branch; meets: string[] }[] = [];
  for (const wire of record.wires ?? []) {
    const to = wiring.hanging.get(wire.tag);
    if (to === null || to === undefined) continue;
    const add = (from: number, into: number) => {
      list.push({
        tag: wire.tag, goal: wire.leadsTo!, branch: { from, to: into, ohm: WIRE_OHM, emf: 0 }, meets: wire.leadsTo === 'chassis' ? [to] : [],
      });
    };
    switch (wire.leadsTo) {
      case 'start-switch': add(net('+switch'), net(to)); break;
      case 'cranking-feed': add(net('+feed'), net(to)); break;
      case 'interlocked-return': add(net(to), net('+return')); break;
      case 'chassis': add(net(to), 0); break;
      // on the battery's stud it has no load; anywhere else the battery reaches through it
      case 'tap': add(net('+battery'), net(to)); break;
      case 'battery': case 'starter': case 'unknown': case undefined: break;
    }
  }
  return list;
}

/** Jumpers, by a tag of their own, and the bracket where it joins case and chassis; a tie within one net is none. */
function listTieBranches(bench: Bench): { tag: string | undefined; branch: Branch; meets: string[] }[] {
  const all: { tag: string | undefined; branch: Branch; meets: string[] }[] = bench.wiring.jumpers.map(({ from, to }) => (
    { tag: `jumper ${from} ${to}`, branch: makeTie(bench, from, to), meets: [from, to] }));
  if (bench.wiring.caseTied) all.push({ tag: undefined, branch: makeTie(bench, 'case', 'chassis'), meets: [] });
  return all.filter((entry) => entry.branch.from !== entry.branch.to);
}

function makeTie(bench: Bench, from: string, to: string): Branch {
  return { from: bench.net(from), to: bench.net(to), ohm: WIRE_OHM, emf: 0 };
}

/** What the machine's switches join in one state. */
function listOutsideBranches(bench: Bench, drive: Drive): Branch[] {
  const { record, net } = bench;
  const list: Branch[] = [
    { from: 0, to: net('+battery'), ohm: BATTERY_OHM, emf: -record.system.nominalV },
  ];
  if (bench.wiring.load === undefined) list.push({ from: net('+starter'), to: 0, ohm: STARTER_OHM, emf: 0 });
  const dead = !drive.start || (interlocksOf(record) === 'in-feed' && !drive.interlocks);
  if (!dead) list.push({ from: net('+battery'), to: net('+switch'), ohm: controlOhmOf(record) + WIRE_OHM, emf: 0 });
  if (drive.interlocks) list.push({ from: net('+return'), to: 0, ohm: WIRE_OHM, emf: 0 });
  if (drive.running) list.push({ from: 0, to: net('+feed'), ohm: BATTERY_OHM, emf: -record.system.nominalV });
  return list;
}

function controlOhmOf(record: BenchRecord): number {
  const given = record.demand?.controlOhm;
  return given === undefined ? 0 : typeof given === 'number' ? given : given.value;
}

function solve(bench: Bench, drive: Drive, isIn: readonly boolean[], diodes: Diodes, withCoils: boolean): Solution {
  const { net, part } = bench;
  const insideOut = [...listWireBranches(bench), ...listTieBranches(bench)].map((entry) => entry.branch);
  const branches: Branch[] = [...insideOut, ...listOutsideBranches(bench, drive)];
  const diodeBranches: DiodeBranch[] = [];
  const add = (between: readonly [string, string], ohm: number) => branches.push({ from: net(between[0]), to: net(between[1]), ohm, emf: 0 });
  for (const element of part.circuit) addElement(element);
  return solveNetwork(bench.netCount, branches, diodeBranches);

  function addElement(element: CircuitElement): void {
    switch (element.kind) {
      case 'coil': if (withCoils) add(element.between, element.ohmAt20C!); break;
      case 'resistor': add(element.between, Math.max(element.ohm, WIRE_OHM)); break;
      case 'motor': add(element.between, Math.max(element.ohm ?? STARTER_OHM, WIRE_OHM)); break;
      case 'contact': if (isClosed(bench, element, isIn)) add(element.between, CONTACT_OHM); break;
      case 'diode': {
        const [from, to] = [net(element.from), net(element.to)];
        if (diodes === 'as-built') diodeBranches.push({ from, to });
        if (diodes === 'turned-round') diodeBranches.push({ from: to, to: from });
        break;
      }
    }
  }
}

/**
 * Magnitude of the current of every wire but battery and starter, by tag, and of every jumper: it is a wire too. The
 * bracket is none. A chassis wire or jumper on the far end of the part's own motor stands for the starter's cable.
 */
function wireAmps(bench: Bench, solution: Solution): Map<string, number> {
  const amps = new Map<string, number>();
  [...listWireBranches(bench), ...listTieBranches(bench)].forEach(({ tag, meets }, index) => {
    if (tag !== undefined && !meets.some((node) => isMotorEnd(bench, node))) amps.set(tag, Math.abs(solution.amps[index]!));
  });
  return amps;
}

function isMotorEnd(bench: Bench, node: string): boolean {
  const { load } = bench.wiring;
  return load !== undefined && bench.part.circuit.some((element) => (
    element.kind === 'motor' && element.between.includes(load) && element.between.some((end) => end !== load && end === node)));
}

function sumControl(bench: Bench, solution: Solution): number {
  return listWireBranches(bench).reduce((sum, entry, index) => sum + (entry.goal === 'start-switch' ? solution.amps[index]! : 0), 0);
}

function limitOf(bench: Bench): number {
  const { record, part, tied, wiring } = bench;
  if (record.demand?.controlFuseA !== undefined) return record.demand.controlFuseA;
  const fed = new Set<number>();
  for (const wire of record.wires ?? []) {
    const to = wiring.hanging.get(wire.tag);
    if (wire.leadsTo === 'start-switch' && typeof to === 'string') fed.add(tied(to));
  }
  let sum = 0;
  for (const element of part.circuit) {
    if (element.kind === 'coil' && element.between.some((end) => fed.has(tied(end)))) sum += record.system.nominalV / element.ohmAt20C!;
  }
  return Math.max(20, 3 * sum);
}

/** Whether two names are one net once ties and closed contacts are counted. */
function areJoined(bench: Bench, isIn: readonly boolean[], a: string, b: string): boolean {
  const reached = new Set([bench.tied(a)]);
  for (let before = 0; before !== reached.size;) {
    before = reached.size;
    for (const contact of bench.contacts) {
      if (!isClosed(bench, contact, isIn)) continue;
      const [x, y] = [bench.tied(contact.between[0]), bench.tied(contact.between[1])];
      if (reached.has(x)) reached.add(y);
      if (reached.has(y)) reached.add(x);
    }
  }
  return reached.has(bench.tied(b));
}

/** The part's own motor turns only when its other end is on chassis as well. */
function isStarterLive(bench: Bench, isIn: readonly boolean[]): boolean {
  return areJoined(bench, isIn, '+starter', '+battery') && (bench.wiring.load === undefined || isMotorGrounded(bench, bench.wiring.load));
}

function isMotorGrounded(bench: Bench, load: string): boolean {
  const grounded = new Set([0]);
  for (const wire of bench.record.wires ?? []) {
    const to = bench.wiring.hanging.get(wire.tag);
    if (wire.leadsTo === 'chassis' && typeof to === 'string') grounded.add(bench.tied(to));
  }
  return bench.part.circuit.some((element) => element.kind === 'motor' && element.between.includes(load)
    && element.between.some((end) => end !== load && grounded.has(bench.tied(end))));
}

function listFeeds(bench: Bench): string[] {
  return (bench.record.wires ?? []).filter((wire) => wire.leadsTo === 'cranking-feed')
    .map((wire) => bench.wiring.hanging.get(wire.tag)).filter((to): to is string => typeof to === 'string');
}

/** A cranking feed is live exactly while the starter is. */
function isFeedLost(bench: Bench, isIn: readonly boolean[]): boolean {
  const live = isStarterLive(bench, isIn);
  return listFeeds(bench).some((to) => areJoined(bench, isIn, to, '+battery') !== live);
}

function isJoinedToFeed(bench: Bench, isIn: readonly boolean[]): boolean {
  return listFeeds(bench).some((to) => areJoined(bench, isIn, to, '+starter'));
}
