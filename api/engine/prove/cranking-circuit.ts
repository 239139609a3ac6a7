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

/** How relay and starter are at START. */
export interface Manner { readonly relay: RelayState; readonly motion: Motion }

/** Borders of a manner: pull-in, drop-out, moving current, slow back-EMF, a current that is heard; and of a sound machine: moves, and not slowly. */
export const BOUNDS = 7;

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
    const on = this.#set(situation);
    if (this.#isClosed(situation)) return this.#run('in', this.#solve(0));
    const atRest = this.#solve(0);
    if (!on || hypothesis.place === 'coil' || this.#coilVolts() < this.#machine.pullInV) return this.#rest(atRest, 'out');
    if (hypothesis.open === true && hypothesis.place === 'contact') return this.#rest(atRest, 'in');
    this.#close(true);
    const closed = this.#solve(0);
    if (this.#coilVolts() < this.#machine.dropOutV) return this.#chatter(atRest, closed);
    return this.#run('in', closed);
  }

  /**
   * The circuit at START in a manner of one's own choosing, so that a fit may go smoothly up to the border of that manner and a little over.
   * @param over takes how far each border is overstepped, as a share of itself: below 0 inside, -Infinity where it does not matter
   */
  settleAs({ relay, motion }: Manner, over: Float64Array): CrankState {
    const m = this.#machine;
    const hypothesis = this.#hypothesis;
    over.fill(Number.NEGATIVE_INFINITY);
    over[5] = m.soundMoves;
    over[6] = m.soundTurns;
    this.#set('on');
    const contactOpens = hypothesis.open === true && hypothesis.place === 'contact';
    let still: Solved;
    if (this.#isClosed('on')) {
      still = this.#solve(0);
    } else {
      const atRest = this.#solve(0);
      const pulled = hypothesis.place === 'coil' ? 0 : this.#coilVolts() / m.pullInV;
      if (hypothesis.place !== 'coil') over[0] = relay === 'out' ? pulled - 1 : 1 - pulled;
      if (relay === 'out' || contactOpens) return this.#rest(atRest, relay);
      this.#close(true);
      still = this.#solve(0);
      const held = this.#coilVolts() / m.dropOutV;
      over[1] = relay === 'chatters' ? held - 1 : 1 - held;
      if (relay === 'chatters') return this.#chatter(atRest, still);
    }
    const moved = still.starterA / m.movingA;
    const stands = motion === 'stalled' || motion === 'dead';
    over[2] = stands ? moved - 1 : 1 - moved;
    const heard = still.starterA / CIRCUIT_FIGURES.heardA.value;
    if (stands) over[4] = motion === 'dead' ? heard - 1 : 1 - heard;
    if (stands) return { relay, motion, ...this.#read(still) };
    const { state, backV } = this.#move(relay, still);
    if (motion !== 'spinning') over[3] = motion === 'slow' ? backV / m.slowV - 1 : 1 - backV / m.slowV;
    return { ...state, motion };
  }

  /** @returns whether the start switch is on */
  #set(situation: Situation): boolean {
    const { open, place } = this.#hypothesis;
    const on = situation === 'on';
    const fed = on && !(open === true && place === 'feed');
    this.#turn(FEED_CLAMP, fed && this.#machine.feedFromClamp);
    this.#turn(FEED_STUD, fed && !this.#machine.feedFromClamp);
    this.#close(this.#isClosed(situation));
    if (situation === 'bridged') this.#solver.setBranch(CONTACT, CIRCUIT_CONSTANTS.contactOhm.value, 0);
    return on;
  }

  /** Whether the studs are joined whatever the coil does. */
  #isClosed(situation: Situation): boolean {
    return situation === 'bridged' || this.#hypothesis.fault === 'relay-stuck-closed';
  }

  #run(relay: RelayState, still: Solved): CrankState {
    if (still.starterA >= this.#machine.movingA) return this.#move(relay, still).state;
    return { relay, motion: still.starterA > CIRCUIT_FIGURES.heardA.value ? 'stalled' : 'dead', ...this.#read(still) };
  }

  #move(relay: RelayState, still: Solved): { state: CrankState; backV: number } {
    const m = this.#machine;
    const moving = this.#solve(1);
    // All is linear in the back-EMF: the current is the one that the torque asks for.
    const backV = (still.starterA - m.turningA) / (still.starterA - moving.starterA);
    for (let i = 0; i < NODES; i++) moving.volts[i] = still.volts[i]! + (moving.volts[i]! - still.volts[i]!) * backV;
    moving.batteryA = still.batteryA + (moving.batteryA - still.batteryA) * backV;
    const motion = this.#hypothesis.fault === 'starter-drive' ? 'spinning' : backV < m.slowV ? 'slow' : 'normal';
    return { state: { relay, motion, ...this.#read(moving) }, backV };
  }

  #rest(solved: Solved, relay: RelayState): CrankState {
    return { relay, motion: 'dead', ...this.#read(solved) };
  }

  #chatter(open: Solved, closed: Solved): CrankState {
    const span = new Float64Array(NODES);
    const volts = new Float64Array(NODES);
    for (let i = 0; i < NODES; i++) {
      span[i] = closed.volts[i]! - open.volts[i]!;
      volts[i] = open.volts[i]! + span[i]! / 2;
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
