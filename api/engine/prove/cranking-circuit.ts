import { CRANK_NODES, type CrankNode } from '../../../catalog-schema/index.ts';
import { CIRCUIT_CONSTANTS } from '../circuit/index.ts';
import { CIRCUIT_FIGURES } from './fault-table.ts';
import type { Hypothesis, Place } from './hypotheses.ts';
import type { Machine } from './machine.ts';

/** What the relay does: out, in, or in and out again as its own inrush takes the volts away. */
export type RelayState = 'out' | 'in' | 'chatters';
/** What the starter does: nothing flows; it stands and takes current; it turns the engine slowly or well; it turns without the engine. */
export type Motion = 'dead' | 'stalled' | 'slow' | 'normal' | 'spinning';

/** The circuit once it has settled. Volts are against the minus post. */
export interface CrankState {
  relay: RelayState;
  motion: Motion;
  /** A out of the battery */
  batteryA: number;
  batterySpanA: number;
  readonly volts: Float64Array;
  /** contact closed less contact open, where the relay chatters; else zeroes */
  readonly span: Float64Array;
  /** nodes of one number hang together: a meter between two numbers shows nothing */
  readonly island: Uint8Array;
}

/** How relay and starter are at START. */
export interface Manner { readonly relay: RelayState; readonly motion: Motion }

/** Borders of a manner: pull-in, drop-out, moving current, slow back-EMF, a current that is heard; of a sound machine: moves, and not slowly; and of its battery under load. */
export const BOUNDS = 8;

export const SITUATIONS = ['off', 'on', 'bridged'] as const;
export type Situation = (typeof SITUATIONS)[number];

const NODES = CRANK_NODES.length;
const NODE = new Map(CRANK_NODES.map((node, index) => [node, index]));
export function indexOfNode(node: CrankNode): number { return NODE.get(node)!; }

/** The ring from the minus post through the battery round to it again: nodes in order, and what lies between each and the next. */
const RING = ([
  'battery-', 'battery+', 'battery+clamp', 'relay-battery-stud', 'relay-starter-stud', 'starter-stud', 'starter-case', 'chassis', 'battery-clamp',
] as const).map(indexOfNode);
const RING_PLACES: readonly (Place | undefined)[] = [
  undefined, 'plus-post', 'battery-cable', 'contact', 'start-cable', 'starter', 'engine-ground', 'frame-ground', 'minus-post',
];
const SEGMENTS = RING.length;
const BATTERY = 0;
const CABLE = 2;
const CONTACT = 3;
const STARTER = 5;
const FRAME = 7;
const CLAMP = indexOfNode('battery+clamp');
const STUD = indexOfNode('relay-battery-stud');
const FEED = indexOfNode('coil-feed');
const RETURN = indexOfNode('coil-return');
const CHASSIS = indexOfNode('chassis');

/**
 * The cranking circuit: one ring of battery, posts, cables, the relay's contact, starter with back-EMF and grounds, and the coil's branch
 * across it. Two nodes are all there is to solve, so it is solved in closed form; the tests compare it with the general solver of
 * `circuit` and with ngspice. What is heard and seen follows: the coil goes in at its pull-in volts, the contact closes on a standing
 * starter, and the relay stays in only if that inrush leaves the coil more than its drop-out volts; the engine turns where the current is
 * enough for its torque. States are written into objects of the caller's, so that thousands of machines leave no rubbish.
 */
export class CrankingCircuit {
  #machine!: Machine;
  #hypothesis!: Hypothesis;
  readonly #ohm = new Float64Array(SEGMENTS);
  readonly #open = new Uint8Array(SEGMENTS);
  #coilOpen = false;
  #fed = false;
  #tap = CLAMP;
  // What the last solution came to.
  #ringA = 0;
  #coilA = 0;
  #batteryA = 0;
  /** how the starter's current falls with each volt of back-EMF */
  #perBackV = 0;
  readonly #atRest = createState();

  /** Lays out a machine; the states asked of it afterwards are its own. */
  lay(machine: Machine, hypothesis: Hypothesis): void {
    this.#machine = machine;
    this.#hypothesis = hypothesis;
    const ohm = this.#ohm;
    const m = machine;
    ohm[BATTERY] = m.batteryOhm;
    ohm[1] = m.plusPostOhm;
    ohm[CABLE] = m.batteryCableOhm;
    ohm[4] = m.startCableOhm;
    ohm[STARTER] = m.starterOhm;
    ohm[6] = m.engineGroundOhm;
    ohm[FRAME] = m.frameGroundOhm;
    ohm[8] = m.minusPostOhm;
    const { open, place } = hypothesis;
    this.#open.fill(0);
    this.#coilOpen = false;
    if (open === true && place !== undefined) {
      const at = RING_PLACES.indexOf(place);
      if (at >= 0) this.#open[at] = 1;
      this.#coilOpen = place === 'coil' || place === 'return';
    }
    this.#tap = m.feedFromClamp ? CLAMP : STUD;
  }

  settle(situation: Situation, into: CrankState): CrankState {
    const { open, place } = this.#hypothesis;
    const on = this.#set(situation);
    if (this.#isClosed(situation)) return this.#run('in', into);
    this.#solve(0);
    if (!on || place === 'coil' || this.#coilVolts() < this.#machine.pullInV) return this.#stand('out', 'dead', into);
    if (open === true && place === 'contact') return this.#stand('in', 'dead', into);
    this.#read(this.#atRest, 0);
    this.#close(true);
    this.#solve(0);
    if (this.#coilVolts() < this.#machine.dropOutV) return this.#chatter(into);
    return this.#run('in', into, true);
  }

  /**
   * The circuit at START in a manner of one's own choosing, so that a fit may go smoothly up to the border of that manner and a little over.
   * @param over takes how far each border is overstepped, as a share of itself: below 0 inside, -Infinity where it does not matter
   */
  settleAs({ relay, motion }: Manner, over: Float64Array, into: CrankState): CrankState {
    const m = this.#machine;
    const { open, place } = this.#hypothesis;
    over.fill(Number.NEGATIVE_INFINITY);
    over[5] = m.soundMoves;
    over[6] = m.soundTurns;
    over[7] = m.loadsWrong;
    this.#set('on');
    if (this.#isClosed('on')) {
      this.#solve(0);
    } else {
      this.#solve(0);
      const pulled = place === 'coil' ? 0 : this.#coilVolts() / m.pullInV;
      if (place !== 'coil') over[0] = relay === 'out' ? pulled - 1 : 1 - pulled;
      if (relay === 'out' || (open === true && place === 'contact')) return this.#stand(relay, 'dead', into);
      if (relay === 'chatters') this.#read(this.#atRest, 0);
      this.#close(true);
      this.#solve(0);
      const held = this.#coilVolts() / m.dropOutV;
      over[1] = relay === 'chatters' ? held - 1 : 1 - held;
      if (relay === 'chatters') return this.#chatter(into);
    }
    const moved = this.#ringA / m.movingA;
    const stands = motion === 'stalled' || motion === 'dead';
    over[2] = stands ? moved - 1 : 1 - moved;
    if (stands) {
      const heard = this.#ringA / CIRCUIT_FIGURES.heardA.value;
      over[4] = motion === 'dead' ? heard - 1 : 1 - heard;
      return this.#stand(relay, motion, into);
    }
    const backV = this.#move();
    if (motion !== 'spinning') over[3] = motion === 'slow' ? backV / m.slowV - 1 : 1 - backV / m.slowV;
    this.#read(into, backV);
    into.relay = relay;
    into.motion = motion;
    return into;
  }

  /** @returns whether the start switch is on */
  #set(situation: Situation): boolean {
    const { open, place } = this.#hypothesis;
    const on = situation === 'on';
    this.#fed = on && !(open === true && place === 'feed');
    this.#close(this.#isClosed(situation));
    if (situation === 'bridged') {
      this.#ohm[CONTACT] = CIRCUIT_CONSTANTS.contactOhm.value;
      this.#open[CONTACT] = 0;
    }
    return on;
  }

  /** Whether the studs are joined whatever the coil does. */
  #isClosed(situation: Situation): boolean {
    return situation === 'bridged' || this.#hypothesis.fault === 'relay-stuck-closed';
  }

  #close(closed: boolean): void {
    this.#ohm[CONTACT] = this.#machine.contactOhm;
    this.#open[CONTACT] = closed ? 0 : 1;
  }

  #run(relay: RelayState, into: CrankState, isSolved = false): CrankState {
    const m = this.#machine;
    if (!isSolved) this.#solve(0);
    if (this.#ringA < m.movingA) return this.#stand(relay, this.#ringA > CIRCUIT_FIGURES.heardA.value ? 'stalled' : 'dead', into);
    const backV = this.#move();
    this.#read(into, backV);
    into.relay = relay;
    into.motion = this.#hypothesis.fault === 'starter-drive' ? 'spinning' : backV < m.slowV ? 'slow' : 'normal';
    return into;
  }

  /** Lets the starter turn as fast as its torque allows: all is linear in the back-EMF. */
  #move(): number {
    const backV = this.#perBackV === 0 ? 0 : (this.#ringA - this.#machine.turningA) / this.#perBackV;
    this.#solve(backV);
    return backV;
  }

  #stand(relay: RelayState, motion: Motion, into: CrankState): CrankState {
    this.#read(into, 0);
    into.relay = relay;
    into.motion = motion;
    return into;
  }

  /** Half way between the contact open, read before, and closed, solved last. */
  #chatter(into: CrankState): CrankState {
    const open = this.#atRest;
    this.#read(into, 0);
    for (let i = 0; i < NODES; i++) {
      const span = into.volts[i]! - open.volts[i]!;
      into.span[i] = span;
      into.volts[i] = open.volts[i]! + span / 2;
    }
    into.batterySpanA = into.batteryA - open.batteryA;
    into.batteryA = (into.batteryA + open.batteryA) / 2;
    into.relay = 'chatters';
    into.motion = 'dead';
    return into;
  }

  /** Two nodes, tap and chassis: the volts between them by their three branches. */
  #solve(backV: number): void {
    const ohm = this.#ohm;
    const open = this.#open;
    const m = this.#machine;
    const fromClamp = this.#tap === CLAMP;
    const sourceOpen = open[1]! + open[FRAME]! + open[8]! + (fromClamp ? 0 : open[CABLE]!) > 0;
    const ringOpen = open[CONTACT]! + open[4]! + open[STARTER]! + open[6]! + (fromClamp ? open[CABLE]! : 0) > 0;
    const coilOpen = this.#coilOpen || !this.#fed;
    const source = sourceOpen ? 0 : 1 / (ohm[BATTERY]! + ohm[1]! + ohm[FRAME]! + ohm[8]! + (fromClamp ? 0 : ohm[CABLE]!));
    const ring = ringOpen ? 0 : 1 / (ohm[CONTACT]! + ohm[4]! + ohm[STARTER]! + ohm[6]! + (fromClamp ? ohm[CABLE]! : 0));
    const coil = coilOpen ? 0 : 1 / (m.switchOhm + m.coilOhm + m.returnOhm);
    const all = source + ring + coil;
    const volts = all === 0 ? 0 : (m.batteryV * source + backV * ring) / all;
    this.#ringA = (volts - backV) * ring;
    this.#coilA = volts * coil;
    this.#batteryA = this.#ringA + this.#coilA;
    this.#perBackV = all === 0 ? 0 : (1 - ring / all) * ring;
  }

  #coilVolts(): number { return this.#coilA * this.#machine.coilOhm; }

  /** Writes volts and islands of the last solution: round the ring, then the coil's two ends. */
  #read(into: CrankState, backV: number): void {
    const { volts, island } = into;
    const ohm = this.#ohm;
    const open = this.#open;
    const m = this.#machine;
    into.batteryA = this.#batteryA;
    into.batterySpanA = 0;
    into.span.fill(0);
    let label = 0;
    let at = 0;
    volts[RING[0]!] = 0;
    island[RING[0]!] = 0;
    for (let segment = 0; segment < SEGMENTS - 1; segment++) {
      const next = RING[segment + 1]!;
      if (open[segment] === 1) {
        label++;
        at = 0;
      } else {
        // The source's current flows from chassis through the battery to the tap, the ring's from there on.
        const amps = segment < CABLE || segment >= FRAME || (segment === CABLE && this.#tap === STUD) ? this.#batteryA : this.#ringA;
        at -= amps * ohm[segment]!;
        if (segment === BATTERY) at += m.batteryV;
        if (segment === STARTER) at -= backV;
      }
      volts[next] = at;
      island[next] = label;
    }
    if (label > 0 && open[SEGMENTS - 1] === 0) this.#join(into, label, 0, this.#batteryA * ohm[SEGMENTS - 1]! - at);
    const hypothesis = this.#hypothesis;
    const returnOpen = hypothesis.open === true && hypothesis.place === 'return';
    const hasCoil = !(hypothesis.open === true && hypothesis.place === 'coil');
    const fallV = this.#coilA * m.coilOhm;
    if (this.#fed) {
      volts[FEED] = volts[this.#tap]! - this.#coilA * m.switchOhm;
      island[FEED] = island[this.#tap]!;
    }
    if (!returnOpen) {
      volts[RETURN] = volts[CHASSIS]! + this.#coilA * m.returnOhm;
      island[RETURN] = island[CHASSIS]!;
    }
    if (this.#fed && !returnOpen) {
      const [kept, moved] = island[FEED]! < island[RETURN]! ? [FEED, RETURN] : [RETURN, FEED];
      if (hasCoil && island[kept] !== island[moved]) this.#join(into, island[moved]!, island[kept]!, volts[kept]! - volts[moved]!);
    } else if (this.#fed) {
      volts[RETURN] = hasCoil ? volts[FEED]! - fallV : 0;
      island[RETURN] = hasCoil ? island[FEED]! : RETURN_ALONE;
    } else if (returnOpen) {
      volts[FEED] = 0;
      volts[RETURN] = 0;
      island[FEED] = FEED_ALONE;
      island[RETURN] = hasCoil ? FEED_ALONE : RETURN_ALONE;
    } else {
      volts[FEED] = hasCoil ? volts[RETURN]! + fallV : 0;
      island[FEED] = hasCoil ? island[RETURN]! : FEED_ALONE;
    }
  }

  /** Makes one island part of another, its volts raised by so much. */
  #join({ volts, island }: CrankState, moved: number, kept: number, byV: number): void {
    for (let i = 0; i < NODES; i++) {
      if (island[i] !== moved) continue;
      island[i] = kept;
      volts[i]! += byV;
    }
  }
}

const FEED_ALONE = 100;
const RETURN_ALONE = 101;

export function createState(): CrankState {
  return { relay: 'out', motion: 'dead', batteryA: 0, batterySpanA: 0, volts: new Float64Array(NODES), span: new Float64Array(NODES), island: new Uint8Array(NODES).fill(FEED_ALONE + 10) };
}
