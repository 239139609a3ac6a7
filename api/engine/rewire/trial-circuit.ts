import { CIRCUIT_CONSTANTS, NodalSolver, settlePlungers, staysOrGoesIn, type SettledPlungers } from '../circuit/index.ts';
import {
  BATTERY, CHASSIS, CRANKING_FEED, FIRST_PART_NODE, INTERLOCKED_RETURN, START_SWITCH, STARTER, type MachineSide, type SwitchPosition,
} from './machine-side.ts';
import type { PartSide } from './part-side.ts';

/** What is taken out of the part, to see what a fault is due to. */
export type Variant = 'whole' | 'coils-out' | 'coils-and-diodes-out' | 'diodes-turned';

/** The circuits of one part on one machine, each built when it is first asked for. */
export class Trials {
  readonly #machine: MachineSide;
  readonly #part: PartSide;
  readonly #built = new Map<Variant, TrialCircuit>();

  constructor(machine: MachineSide, part: PartSide) {
    this.#machine = machine;
    this.#part = part;
  }

  of(variant: Variant): TrialCircuit {
    let trial = this.#built.get(variant);
    if (trial === undefined) this.#built.set(variant, trial = new TrialCircuit(this.#machine, this.#part, variant));
    return trial;
  }
}

/**
 * The part on the machine, wired in one way, in one switch position. The wiring is given as nets: `nets[node]` is the lowest node joined
 * with `node` by wires, jumpers and the panel. Lay a circuit, then settle or solve it, then read.
 */
export class TrialCircuit {
  readonly #part: PartSide;
  readonly #solver = new NodalSolver();
  readonly #coilBranch: readonly number[];
  readonly #contactBranch: readonly number[];
  readonly #group: Uint8Array;
  readonly #joined: Uint8Array;
  readonly #branchEnds: number[] = [];
  readonly #starterBranch: number;
  readonly #startBranch: number;
  readonly #feedBranch: number;

  constructor(machine: MachineSide, part: PartSide, variant: Variant = 'whole') {
    this.#part = part;
    this.#group = new Uint8Array(part.nodeCount);
    this.#joined = new Uint8Array(part.nodeCount);
    const solver = this.#solver;
    const ends = this.#branchEnds;
    const branch = (from: number, to: number, ohm: number, emfV: number): number => {
      ends.push(from, to);
      return solver.addBranch(from, to, ohm, emfV);
    };
    const { batteryOhm, starterOhm, contactOhm } = CIRCUIT_CONSTANTS;
    const own = part.ownMotor;
    solver.begin(part.nodeCount);
    branch(CHASSIS, BATTERY, batteryOhm.value, machine.nominalV);
    // A part that carries the motor is its own load.
    this.#starterBranch = own ? branch(own.fed, own.other, own.ohm, 0) : branch(STARTER, CHASSIS, starterOhm.value, 0);
    this.#startBranch = branch(BATTERY, START_SWITCH, machine.controlOhm, 0);
    this.#feedBranch = branch(CHASSIS, CRANKING_FEED, batteryOhm.value, machine.nominalV);
    this.#coilBranch = part.coils.map((coil) => branch(coil.a, coil.b, coil.ohm, 0));
    if (variant === 'coils-out' || variant === 'coils-and-diodes-out') for (const coil of this.#coilBranch) solver.setOn(coil, false);
    this.#contactBranch = part.contacts.map((contact) => branch(contact.a, contact.b, contactOhm.value, 0));
    for (const resistor of part.resistors) branch(resistor.a, resistor.b, resistor.ohm, 0);
    if (variant === 'coils-and-diodes-out') return;
    for (const diode of part.diodes) {
      const [from, to] = variant === 'diodes-turned' ? [diode.to, diode.from] : [diode.from, diode.to];
      ends.push(from, to);
      solver.addDiode(from, to);
    }
  }

  lay(nets: Uint8Array, position: SwitchPosition): void {
    const group = this.#group;
    group.set(nets);
    for (let n = nets.length; n < group.length; n++) group[n] = n;
    if (position.returnClosed) joinNets(group, CHASSIS, INTERLOCKED_RETURN);
    const own = this.#part.ownMotor;
    if (own) joinNets(group, STARTER, own.fed);
    this.#solver.tieAs(group);
    this.#solver.setOn(this.#startBranch, position.startLive);
    this.#solver.setOn(this.#feedBranch, position.feedDriven);
  }

  /** Solve with these plungers in (bits). */
  solve(plungers: number): void {
    const { contacts } = this.#part;
    for (let c = 0; c < contacts.length; c++) this.#solver.setOn(this.#contactBranch[c]!, isClosed(contacts[c]!, plungers));
    this.#solver.solve();
  }

  /** Let the plungers move from `start` until they rest or go round. */
  settle(start: number): SettledPlungers {
    return settlePlungers(start, (mask) => this.#move(mask));
  }

  #move(mask: number): number {
    const { plungers, coils } = this.#part;
    this.solve(mask);
    let next = 0;
    for (let p = 0; p < plungers.length; p++) {
      const members = plungers[p]!;
      const isIn = (mask & (1 << p)) !== 0;
      // The common part has one coil a plunger: no arrays then.
      if (members.length === 1) {
        const coil = coils[members[0]!]!;
        const volts = Math.abs(this.coilVolts(members[0]!));
        if (isIn ? volts > coil.dropOutV : volts >= coil.pullInV) next |= 1 << p;
      } else if (staysOrGoesIn(isIn, members.map((c) => coils[c]!), members.map((c) => this.coilVolts(c)))) next |= 1 << p;
    }
    return next;
  }

  /** After a solve: V across a coil, from its first end to its second. */
  coilVolts(coil: number): number {
    const { a, b } = this.#part.coils[coil]!;
    return this.#solver.voltsAt(a) - this.#solver.voltsAt(b);
  }

  /** After a solve: A that leave the battery side through the start switch. */
  controlA(): number {
    return this.#solver.ampsOf(this.#startBranch);
  }

  /** After a solve: A through the starter. */
  starterA(): number {
    return this.#solver.ampsOf(this.#starterBranch);
  }

  /** After a solve: A that each node's elements draw from the wires tied there; what `shareTieCurrents` asks for. */
  drawnA(): Float64Array {
    const drawn = new Float64Array(this.#part.nodeCount);
    const ends = this.#branchEnds;
    for (let k = 0; 2 * k < ends.length; k++) {
      const amps = this.#solver.ampsOf(k);
      drawn[ends[2 * k]!]! += amps;
      drawn[ends[2 * k + 1]!]! -= amps;
    }
    return drawn;
  }

  /** Join everything that wires and closed contacts join; `areJoined` then answers. */
  joinThroughContacts(plungers: number): void {
    this.#joined.set(this.#group);
    for (const contact of this.#part.contacts) if (isClosed(contact, plungers)) joinNets(this.#joined, contact.a, contact.b);
  }

  areJoined(a: number, b: number): boolean {
    return this.#joined[a] === this.#joined[b];
  }

  /** Joined to the battery; a motor inside the part needs its other end on chassis as well. */
  isStarterLive(): boolean {
    const own = this.#part.ownMotor;
    return this.areJoined(STARTER, BATTERY) && (own === undefined || this.areJoined(own.other, CHASSIS));
  }
}

function isClosed(contact: { closedWhenIn: boolean; plunger: number }, plungers: number): boolean {
  const isIn = contact.plunger >= 0 && (plungers & (1 << contact.plunger)) !== 0;
  return isIn === contact.closedWhenIn;
}

/** Make two nets one, under the lower number. */
export function joinNets(nets: Uint8Array, a: number, b: number): void {
  const la = nets[a]!;
  const lb = nets[b]!;
  if (la === lb) return;
  const low = Math.min(la, lb);
  const high = Math.max(la, lb);
  for (let n = 0; n < nets.length; n++) if (nets[n] === high) nets[n] = low;
}

/** Nets of a part that nothing is wired to yet: the machine's points, terminals and case, each for itself. */
export function layNoWires(part: PartSide): Uint8Array {
  return Uint8Array.from({ length: FIRST_PART_NODE + part.terminals.length + 1 }, (_, n) => n);
}
