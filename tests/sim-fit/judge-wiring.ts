import type { CircuitElement, CoilElement, ContactElement, LeadsTo, Part } from '../../catalog-schema/index.ts';

// One wiring of one part on one machine, solved in every state of its switches, straight from the sentences of the contract under `rewire`.
// Written for the oracle, without the engine's solver: every wire is a branch of a hair's resistance, diodes by trying each combination.

export interface Outside {
  readonly nominalV: number;
  readonly interlocks: 'in-return' | 'in-feed' | 'both' | 'none';
  /** start switch, connectors and wire, Ohm */
  readonly controlOhm: number;
  /** most that a wire other than battery and starter may carry, A */
  readonly limitA: number;
  /** the metal case meets chassis through bracket and panel */
  readonly caseTied: boolean;
  readonly wires: readonly { readonly tag: string; readonly goal: LeadsTo }[];
}

export interface Tie { readonly from: string; readonly to: string }
export interface Hung {
  /** by tag; null is left off */
  readonly places: ReadonlyMap<string, string | null>;
  readonly jumpers: readonly Tie[];
}

/** What goes wrong: cranks with an interlock open, does not crank, cranks by itself, too much current, and so on. */
export type Broken = 'interlock' | 'dead' | 'live' | 'over-current' | 'feed-lost' | 'back-feed' | 'chatters' | 'return-on-case' | 'live-case' | 'misplaced';

const LIVE: ReadonlySet<LeadsTo> = new Set<LeadsTo>(['battery', 'tap', 'starter', 'start-switch', 'cranking-feed']);
const WIRE_OHM = 1e-5;
const BATTERY_OHM = 0.01;
const STARTER_OHM = 0.05;
const CONTACT_OHM = 5e-4;
const DIODE = { volts: 0.7, ohm: 0.01 };
const LEAK_S = 1e-8;
const HAIR = 1e-5;

interface Drive { readonly start: boolean; readonly closed: boolean; readonly runs: boolean }
interface Branch { readonly a: number; readonly b: number; readonly ohm: number; readonly emf: number }
/** `limited`: index into the branches whose current is judged */
interface Bench {
  readonly part: Part; readonly outside: Outside; readonly count: number;
  readonly node: (name: string) => number;
  readonly joined: (name: string) => number;
  readonly joinedCount: number;
  readonly coils: readonly CoilElement[]; readonly contacts: readonly ContactElement[];
  readonly plungers: readonly { readonly key: string; readonly coils: readonly CoilElement[] }[];
  readonly plungerOf: ReadonlyMap<ContactElement, number>;
  readonly heavy: number;
  readonly wires: readonly { readonly goal: LeadsTo; readonly a: number; readonly b: number; readonly limited: boolean }[];
  readonly motorLoad: boolean;
  readonly feeds: readonly string[];
}

/** The contact that feeds the load: the best rated. */
export function heavyContactOf(part: Part): ContactElement | undefined {
  const contacts = part.circuit.filter((element): element is ContactElement => element.kind === 'contact');
  for (const rating of ['inrushA', 'continuousA'] as const) {
    const best = Math.max(0, ...contacts.map((contact) => contact[rating] ?? 0));
    if (best > 0) return contacts.find((contact) => contact[rating] === best);
  }
  return contacts[0];
}

/** All that is wrong with this wiring; nothing is right. With `first` it stops at the first fault. */
export function judgeWiring(part: Part, outside: Outside, hung: Hung, first = false): Set<Broken> {
  const broken = new Set<Broken>();
  const bench = layOut(part, outside, hung, broken);
  if (broken.size > 0) return broken;
  for (const drive of listDrives(outside)) {
    for (const startIn of [false, true]) {
      judgeState(bench, drive, startIn, broken);
      if (first && broken.size > 0) return broken;
    }
  }
  return broken;
}

/** The state that most wirings fail comes first. */
function listDrives({ interlocks, wires }: Outside): Drive[] {
  const judged: Drive[] = [{ start: true, closed: true, runs: false }, { start: false, closed: true, runs: false }];
  if (interlocks !== 'none') judged.push({ start: true, closed: false, runs: false }, { start: false, closed: false, runs: false });
  if (wires.some(({ goal }) => goal === 'cranking-feed')) {
    judged.push({ start: false, closed: true, runs: true });
    if (interlocks !== 'none') judged.push({ start: false, closed: false, runs: true });
  }
  return judged;
}

function layOut(part: Part, outside: Outside, hung: Hung, broken: Set<Broken>): Bench {
  const names = ['chassis', '+battery', '+starter', '+switch', '+return', '+feed', 'case', ...part.terminals.map(({ id }) => id), ...(part.inside ?? [])];
  const index = new Map(names.map((name, i) => [name, i]));
  const lugs = joinNames(names.length);
  const ties = joinNames(names.length);
  const at = (name: string): number => index.get(name)!;
  const hungWires = outside.wires.flatMap(({ tag, goal }) => {
    const to = hung.places.get(tag);
    if (to === undefined || (to === null && goal !== 'chassis') || (to === 'case' && goal !== 'chassis')) broken.add('misplaced');
    return typeof to === 'string' ? [{ goal, to }] : [];
  });
  for (const { goal, to } of hungWires) {
    if (goal === 'battery' || goal === 'tap') { lugs.join(at('+battery'), at(to)); ties.join(at('+battery'), at(to)); }
    if (goal === 'starter') { lugs.join(at('+starter'), at(to)); ties.join(at('+starter'), at(to)); }
  }
  const caseTies = joinNames(names.length);
  for (const { from, to } of hung.jumpers) {
    ties.join(at(from), at(to));
    caseTies.join(at(from), at(to));
  }
  if (hungWires.some(({ goal, to }) => goal === 'interlocked-return' && caseTies.find(at(to)) === caseTies.find(at('case')))) broken.add('return-on-case');
  // A case that a jumper makes live is a short waiting for the bracket to touch metal.
  if (hungWires.some(({ goal, to }) => LIVE.has(goal) && caseTies.find(at(to)) === caseTies.find(at('case')))) broken.add('live-case');
  if (outside.caseTied) ties.join(at('case'), at('chassis'));

  const contacts = part.circuit.filter((element): element is ContactElement => element.kind === 'contact');
  const coils = part.circuit.filter((element): element is CoilElement => element.kind === 'coil');
  const plungers: { key: string; coils: CoilElement[] }[] = [];
  const plungerOf = new Map<ContactElement, number>();
  for (const contact of contacts) {
    const key = [...contact.coils].sort().join(' ');
    if (key === '') continue;
    if (!plungers.some((each) => each.key === key)) plungers.push({ key, coils: coils.filter(({ id }) => contact.coils.includes(id)) });
    plungerOf.set(contact, plungers.findIndex((each) => each.key === key));
  }
  const heavy = heavyContactOf(part);
  const motorEnds = part.circuit.flatMap((element) => (element.kind === 'motor' ? element.between : []));
  const motorLoad = !outside.wires.some(({ goal }) => goal === 'starter');
  const exempt = (name: string): boolean => motorLoad && motorEnds.includes(name);
  const node = (name: string): number => lugs.find(at(name));
  const wires: { goal: LeadsTo; a: number; b: number; limited: boolean }[] = [];
  for (const { goal, to } of hungWires) {
    const outer = goal === 'start-switch' ? '+switch' : goal === 'interlocked-return' ? '+return' : goal === 'cranking-feed' ? '+feed' : goal === 'chassis' ? 'chassis' : undefined;
    if (outer !== undefined) wires.push({ goal, a: node(outer), b: node(to), limited: !(goal === 'chassis' && exempt(to)) });
  }
  for (const { from, to } of hung.jumpers) {
    if (node(from) !== node(to)) wires.push({ goal: 'unknown', a: node(from), b: node(to), limited: !exempt(from) && !exempt(to) });
  }
  return {
    part, outside, count: names.length, node, joined: (name) => ties.find(at(name)), joinedCount: names.length, coils, contacts, plungers, plungerOf,
    heavy: heavy === undefined ? -1 : plungerOf.get(heavy) ?? -1, wires, motorLoad,
    feeds: hungWires.filter(({ goal }) => goal === 'cranking-feed').map(({ to }) => to),
  };
}

function joinNames(count: number): { find(i: number): number; join(a: number, b: number): void } {
  const root = Array.from({ length: count }, (_, i) => i);
  const find = (i: number): number => (root[i] === i ? i : find(root[i]!));
  return {
    find,
    join(a, b) {
      const [low, high] = [find(a), find(b)].sort((x, y) => x - y) as [number, number];
      root[high] = low;
    },
  };
}

function judgeState(bench: Bench, drive: Drive, startIn: boolean, broken: Set<Broken>): void {
  let isIn = bench.plungers.map(() => startIn);
  let solved: Solved;
  const seen = new Set<string>();
  for (;;) {
    solved = solve(bench, drive, isIn);
    const next = bench.plungers.map(({ coils }, i) => moves(bench, coils, isIn[i]!, solved));
    if (next.every((value, i) => value === isIn[i])) break;
    const key = next.join();
    if (seen.has(key)) {
      broken.add('chatters');
      return;
    }
    seen.add(key);
    isIn = next;
  }
  if (solved.wireAmps.some((amps, i) => bench.wires[i]!.limited && Math.abs(amps) > bench.outside.limitA + HAIR)) broken.add('over-current');
  const pulled = isIn[bench.heavy] ?? false;
  const out = !pulled && !(bench.plungers[bench.heavy]?.coils ?? []).some((coil) => Math.abs(across(bench, coil, solved)) > dropOutOf(bench, coil) + HAIR);
  const reach = reachFrom(bench, isIn, '+battery');
  const live = isStarterLive(bench, reach);
  if (drive.runs) {
    const fed = bench.feeds.some((feed) => reachFrom(bench, isIn, feed).has(bench.joined('+starter')));
    if (!out || live || fed) broken.add('back-feed');
    return;
  }
  if (bench.feeds.some((feed) => reach.has(bench.joined(feed)) !== live)) broken.add('feed-lost');
  if (drive.start && drive.closed) {
    if (!pulled || !live) broken.add('dead');
  } else if (!out || live) broken.add(drive.start ? 'interlock' : 'live');
}

function moves(bench: Bench, coils: readonly CoilElement[], isIn: boolean, solved: Solved): boolean {
  if (!isIn) return coils.every((coil) => Math.abs(across(bench, coil, solved)) >= pullInOf(bench, coil) - HAIR);
  const sum = coils.reduce((total, coil) => total + across(bench, coil, solved) / coil.ohmAt20C!, 0);
  return Math.abs(sum) > Math.min(...coils.map((coil) => dropOutOf(bench, coil) / coil.ohmAt20C!)) + HAIR / 10;
}

function across(bench: Bench, { between: [a, b] }: CoilElement, { volts }: Solved): number {
  return volts[bench.node(a)]! - volts[bench.node(b)]!;
}

function pullInOf({ outside }: Bench, coil: CoilElement): number {
  return (coil.pullInV ?? 0.7 * coil.nominalV) * outside.nominalV / coil.nominalV;
}

function dropOutOf({ outside }: Bench, coil: CoilElement): number {
  return (coil.dropOutV ?? 0.1 * coil.nominalV) * outside.nominalV / coil.nominalV;
}

function isClosed(bench: Bench, contact: ContactElement, isIn: readonly boolean[]): boolean {
  const plunger = bench.plungerOf.get(contact);
  const moved = plunger !== undefined && isIn[plunger]!;
  return contact.form === 'NO' ? moved : !moved;
}

/** What a point is joined to through ties and closed contacts. */
function reachFrom(bench: Bench, isIn: readonly boolean[], from: string): Set<number> {
  const reached = new Set([bench.joined(from)]);
  for (let before = -1; before !== reached.size;) {
    before = reached.size;
    for (const contact of bench.contacts) {
      if (!isClosed(bench, contact, isIn)) continue;
      const [a, b] = contact.between.map(bench.joined) as [number, number];
      if (reached.has(a)) reached.add(b);
      if (reached.has(b)) reached.add(a);
    }
  }
  return reached;
}

function isStarterLive(bench: Bench, reach: ReadonlySet<number>): boolean {
  if (!bench.motorLoad) return reach.has(bench.joined('+starter'));
  const grounded = new Set([bench.joined('chassis')]);
  for (const { goal, b } of bench.wires) {
    if (goal !== 'chassis') continue;
    for (const name of ['case', ...bench.part.terminals.map(({ id }) => id)]) if (bench.node(name) === b) grounded.add(bench.joined(name));
  }
  return bench.part.circuit.some((element) => element.kind === 'motor'
    && element.between.some((end, i) => reach.has(bench.joined(end)) && grounded.has(bench.joined(element.between[1 - i]!))));
}

interface Solved { readonly volts: readonly number[]; readonly wireAmps: readonly number[] }

function solve(bench: Bench, drive: Drive, isIn: readonly boolean[]): Solved {
  const { node, outside } = bench;
  const branches: Branch[] = bench.wires.map(({ a, b }) => ({ a, b, ohm: WIRE_OHM, emf: 0 }));
  const add = (a: string, b: string, ohm: number, emf = 0): void => { branches.push({ a: node(a), b: node(b), ohm, emf }); };
  add('+battery', 'chassis', BATTERY_OHM, outside.nominalV);
  if (!bench.motorLoad) add('+starter', 'chassis', STARTER_OHM);
  const fed = drive.start && (drive.closed || outside.interlocks !== 'in-feed');
  if (fed) add('+battery', '+switch', Math.max(outside.controlOhm, WIRE_OHM));
  if (drive.closed) add('+return', 'chassis', WIRE_OHM);
  if (drive.runs) add('+feed', 'chassis', BATTERY_OHM, outside.nominalV);
  if (outside.caseTied) add('case', 'chassis', WIRE_OHM);
  const diodes: { a: number; b: number }[] = [];
  for (const element of bench.part.circuit) addElement(element);

  for (let combination = 0; combination < 2 ** diodes.length; combination++) {
    const on = diodes.map((_, i) => (combination & (1 << i)) !== 0);
    const all = [...branches, ...diodes.filter((_, i) => on[i]).map(({ a, b }) => ({ a, b, ohm: DIODE.ohm, emf: DIODE.volts }))];
    const volts = solveNodes(bench.count, all);
    const consistent = diodes.every(({ a, b }, i) => (on[i] ? volts[a]! - volts[b]! >= DIODE.volts - HAIR : volts[a]! - volts[b]! <= DIODE.volts + HAIR));
    if (consistent) return { volts, wireAmps: bench.wires.map(({ a, b }) => (volts[a]! - volts[b]!) / WIRE_OHM) };
  }
  throw new Error('no combination of conducting and blocking diodes is consistent');

  function addElement(element: CircuitElement): void {
    switch (element.kind) {
      case 'coil': add(...element.between, element.ohmAt20C!); break;
      case 'resistor': add(...element.between, Math.max(element.ohm, WIRE_OHM)); break;
      case 'motor': add(...element.between, Math.max(element.ohm ?? STARTER_OHM, WIRE_OHM)); break;
      case 'contact': if (isClosed(bench, element, isIn)) add(...element.between, CONTACT_OHM); break;
      case 'diode': diodes.push({ a: node(element.from), b: node(element.to) }); break;
    }
  }
}

/** Node volts against node 0, by elimination on the conductances (symmetric, and positive by the leak of every node: no pivoting). */
function solveNodes(count: number, branches: readonly Branch[]): number[] {
  const size = count - 1;
  const width = size + 1;
  const m = new Float64Array(size * width);
  for (let i = 0; i < size; i++) m[i * width + i] = LEAK_S;
  for (const { a, b, ohm, emf } of branches) {
    if (a === b) continue;
    const g = 1 / ohm;
    if (a > 0) {
      m[(a - 1) * width + a - 1]! += g;
      m[(a - 1) * width + size]! += g * emf;
    }
    if (b > 0) {
      m[(b - 1) * width + b - 1]! += g;
      m[(b - 1) * width + size]! -= g * emf;
    }
    if (a > 0 && b > 0) {
      m[(a - 1) * width + b - 1]! -= g;
      m[(b - 1) * width + a - 1]! -= g;
    }
  }
  for (let c = 0; c < size; c++) {
    const pivot = m[c * width + c]!;
    for (let r = c + 1; r < size; r++) {
      const factor = m[r * width + c]! / pivot;
      if (factor === 0) continue;
      for (let k = c; k < width; k++) m[r * width + k]! -= factor * m[c * width + k]!;
    }
  }
  const volts = Array.from({ length: count }, () => 0);
  for (let r = size - 1; r >= 0; r--) {
    let sum = m[r * width + size]!;
    for (let k = r + 1; k < size; k++) sum -= m[r * width + k]! * volts[k + 1]!;
    volts[r + 1] = sum / m[r * width + r]!;
  }
  return volts;
}
