import { CRANK_NODES, type CrankNode } from '../../../catalog-schema/index.ts';
import { CIRCUIT_CONSTANTS, NodalSolver } from '../circuit/index.ts';
import { CIRCUIT_FIGURES } from './fault-table.ts';
import type { Hypothesis } from './hypotheses.ts';
import type { Machine } from './machine.ts';

/** What the relay does: out, in, or in and out again as its own inrush takes the volts away. */
export type RelayState = 'out' | 'in' | 'chatters';
/** What the starter does: nothing flows; it stands and takes current; it turns the engine slowly or well; it turns without the engine. */
export type Motion = 'dead' | 'stalled' | 'slow' | 'normal' | 'spinning';

/** The circuit once it has settled. Volts are against the minus post. */
export interface CrankState {
  readonly relay: RelayState;
  readonly motion: Motion;
  /** A out of the battery */
  readonly batteryA: number;
  readonly batterySpanA: number;
  readonly volts: Float64Array;
  /** contact closed less contact open, where the relay chatters; else zeroes */
  readonly span: Float64Array;
  /** nodes of one number hang together: a meter between two numbers shows nothing */
  readonly island: Uint8Array;
}

export type Situation = 'off' | 'on' | 'bridged';

const NODE = new Map(CRANK_NODES.map((node, index) => [node, index]));
const NODES = CRANK_NODES.length;
/** The solver's ground is node 0. */
const solverNode = (node: CrankNode): number => {
  const index = NODE.get(node)!;
  const ground = NODE.get('battery-')!;
  return index === ground ? 0 : index < ground ? index + 1 : index;
};
const AT = CRANK_NODES.map(solverNode);

export function indexOfNode(node: CrankNode): number { return NODE.get(node)!; }

interface Branch { from: number; to: number; on: boolean }

/**
 * The cranking circuit on the circuit solver: battery, posts, cables, the relay's contact and coil, starter with back-EMF, grounds. What is
 * heard and seen follows from it: the coil goes in at its pull-in volts, the contact closes on a standing starter, and the relay stays in
 * only if that inrush leaves the coil more than its drop-out volts; the engine turns where the current is enough for its torque.
 */
export class CrankingCircuit {
  readonly #solver = new NodalSolver();
  readonly #branches: Branch[] = [];
  #machine!: Machine;
  #hypothesis!: Hypothesis;

  /** Lays out a machine; the states asked of it afterwards are its own. */
  lay(machine: Machine, hypothesis: Hypothesis): void {
    this.#machine = machine;
    this.#hypothesis = hypothesis;
    this.#solver.begin(NODES);
    this.#branches.length = 0;
    const m = machine;
    const open = (place: Hypothesis['place']): boolean => hypothesis.open === true && hypothesis.place === place;
    this.#add('battery-', 'battery+', m.batteryOhm, true, m.batteryV);
    this.#add('relay-battery-stud', 'relay-starter-stud', m.contactOhm, false);
    this.#add('starter-stud', 'starter-case', m.starterOhm, !open('starter'));
    this.#add('battery+clamp', 'coil-feed', m.switchOhm, false);
    this.#add('relay-battery-stud', 'coil-feed', m.switchOhm, false);
    this.#add('battery+', 'battery+clamp', m.plusPostOhm, !open('plus-post'));
    this.#add('battery+clamp', 'relay-battery-stud', m.batteryCableOhm, !open('battery-cable'));
    this.#add('relay-starter-stud', 'starter-stud', m.startCableOhm, !open('start-cable'));
    this.#add('starter-case', 'chassis', m.engineGroundOhm, !open('engine-ground'));
    this.#add('chassis', 'battery-clamp', m.frameGroundOhm, !open('frame-ground'));
    this.#add('battery-clamp', 'battery-', m.minusPostOhm, !open('minus-post'));
    this.#add('coil-feed', 'coil-return', m.coilOhm, !open('coil'));
    this.#add('coil-return', 'chassis', m.returnOhm, !open('return'));
  }

  settle(situation: Situation): CrankState {
    const hypothesis = this.#hypothesis;
    const on = situation === 'on';
    const fed = on && !(hypothesis.open === true && hypothesis.place === 'feed');
    this.#turn(FEED_CLAMP, fed && this.#machine.feedFromClamp);
    this.#turn(FEED_STUD, fed && !this.#machine.feedFromClamp);
    const stuck = hypothesis.fault === 'relay-stuck-closed';
    this.#close(stuck && situation !== 'bridged');
    if (stuck || situation === 'bridged') {
      if (situation === 'bridged') this.#bridge();
      return this.#run('in', this.#solve(0));
    }
    const atRest = this.#solve(0);
    if (!on || hypothesis.place === 'coil' || this.#coilVolts() < this.#machine.pullInV) return this.#rest(atRest, 'out');
    const motorOff = atRest.volts;
    this.#close(!(hypothesis.open === true && hypothesis.place === 'contact'));
    if (hypothesis.open === true && hypothesis.place === 'contact') return this.#rest(atRest, 'in');
    const closed = this.#solve(0);
    if (this.#coilVolts() < this.#machine.dropOutV) return this.#chatter(atRest, closed, motorOff);
    return this.#run('in', closed);
  }

  #run(relay: RelayState, still: Solved): CrankState {
    const m = this.#machine;
    const { fault } = this.#hypothesis;
    if (still.starterA < m.turningA * CIRCUIT_FIGURES.breakaway.value) {
      return { relay, motion: still.starterA > CIRCUIT_FIGURES.heardA.value ? 'stalled' : 'dead', ...this.#read(still) };
    }
    const moving = this.#solve(1);
    const backV = (still.starterA - m.turningA) / (still.starterA - moving.starterA);
    for (let i = 0; i < NODES; i++) moving.volts[i] = still.volts[i]! + (moving.volts[i]! - still.volts[i]!) * backV;
    moving.batteryA = still.batteryA + (moving.batteryA - still.batteryA) * backV;
    const motion = fault === 'starter-drive' ? 'spinning' : backV < m.slowV ? 'slow' : 'normal';
    return { relay, motion, ...this.#read(moving) };
  }

  #rest(solved: Solved, relay: RelayState): CrankState {
    return { relay, motion: 'dead', ...this.#read(solved) };
  }

  #chatter(open: Solved, closed: Solved, openVolts: Float64Array): CrankState {
    const span = new Float64Array(NODES);
    const volts = new Float64Array(NODES);
    for (let i = 0; i < NODES; i++) {
      span[i] = closed.volts[i]! - openVolts[i]!;
      volts[i] = openVolts[i]! + span[i]! / 2;
    }
    return {
      relay: 'chatters', motion: 'dead', volts, span, island: this.#islands(),
      batteryA: (open.batteryA + closed.batteryA) / 2, batterySpanA: closed.batteryA - open.batteryA,
    };
  }

  #read(solved: Solved): Omit<CrankState, 'relay' | 'motion'> {
    return { batteryA: solved.batteryA, batterySpanA: 0, volts: solved.volts, span: NO_SPAN, island: this.#islands() };
  }

  #solve(backV: number): Solved {
    this.#solver.setBranch(STARTER, this.#machine.starterOhm, -backV);
    this.#solver.solve();
    const volts = new Float64Array(NODES);
    for (let i = 0; i < NODES; i++) volts[i] = this.#solver.voltsAt(AT[i]!);
    return { volts, batteryA: this.#solver.ampsOf(BATTERY), starterA: this.#solver.ampsOf(STARTER) };
  }

  #coilVolts(): number {
    return this.#solver.voltsAt(COIL_FEED) - this.#solver.voltsAt(COIL_RETURN);
  }

  #close(closed: boolean): void {
    this.#solver.setBranch(CONTACT, this.#machine.contactOhm, 0);
    this.#turn(CONTACT, closed);
  }

  #bridge(): void {
    this.#solver.setBranch(CONTACT, CIRCUIT_CONSTANTS.contactOhm.value, 0);
    this.#turn(CONTACT, true);
  }

  #turn(branch: number, on: boolean): void {
    this.#solver.setOn(branch, on);
    this.#branches[branch]!.on = on;
  }

  #add(from: CrankNode, to: CrankNode, ohm: number, on: boolean, emfV = 0): void {
    const branch = this.#solver.addBranch(solverNode(from), solverNode(to), ohm, emfV);
    this.#branches.push({ from: indexOfNode(from), to: indexOfNode(to), on });
    this.#solver.setOn(branch, on);
  }

  #islands(): Uint8Array {
    const island = new Uint8Array(NODES);
    for (let i = 0; i < NODES; i++) island[i] = i;
    for (const { from, to, on } of this.#branches) {
      const a = island[from]!;
      const b = island[to]!;
      if (!on || a === b) continue;
      for (let i = 0; i < NODES; i++) if (island[i] === b) island[i] = a;
    }
    return island;
  }
}

interface Solved { readonly volts: Float64Array; batteryA: number; starterA: number }

const NO_SPAN = new Float64Array(NODES);
/** Branches in the order in which `lay` adds them. */
const BATTERY = 0;
const CONTACT = 1;
const STARTER = 2;
const FEED_CLAMP = 3;
const FEED_STUD = 4;
const COIL_FEED = solverNode('coil-feed');
const COIL_RETURN = solverNode('coil-return');
