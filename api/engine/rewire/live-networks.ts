import { CIRCUIT_CONSTANTS, NodalSolver } from '../circuit/index.ts';
import { BATTERY, CHASSIS, CRANKING_FEED, INTERLOCKED_RETURN, START_SWITCH, STARTER, type SwitchPosition } from './machine-side.ts';
import type { PartSide } from './part-side.ts';
import { joinNets } from './trial-circuit.ts';

/** Branches in the order of every list of their values: four of the machine, then coils, contacts, resistors and diodes of the part. */
export const BATTERY_BRANCH = 0;
export const STARTER_BRANCH = 1;
export const START_BRANCH = 2;
export const FEED_BRANCH = 3;
export const FIRST_COIL_BRANCH = 4;

/**
 * What of the part and its machine carries current with some nets, some switches and the plunger out or in, as far as that can be told without a
 * number. Networks that join the same branches in the same way are one, whichever way round a branch lies whose sense does not count.
 */
export interface LiveNetwork {
  readonly index: number;
  /** branches that may carry current, rising */
  readonly branches: readonly number[];
  /** for each of them its ends in the network; 0 is chassis */
  readonly ends: readonly (readonly [number, number])[];
}

/** Finds the live networks of one topology on one kind of machine; for parts with one plunger at most. */
export class LiveNetworks {
  readonly list: LiveNetwork[] = [];
  readonly #part: PartSide;
  readonly #from: number[] = [];
  readonly #to: number[] = [];
  readonly #firstContact: number;
  readonly #firstDiode: number;
  readonly #byKey = new Map<string, LiveNetwork>();
  /** for each branch whether its sense counts: a source, a diode, one of several coils that pull together */
  readonly #isDirected: readonly boolean[];
  // Scratch: labels of nets, branches that are left, ends a net has left, what hangs together but for chassis.
  readonly #labels: Uint8Array;
  readonly #left: Uint8Array;
  readonly #degree: Uint8Array;
  readonly #island: Uint8Array;
  readonly #number: Int8Array;

  constructor(part: PartSide) {
    this.#part = part;
    const push = (from: number, to: number): void => {
      this.#from.push(from);
      this.#to.push(to);
    };
    const own = part.ownMotor;
    push(CHASSIS, BATTERY);
    if (own) push(own.fed, own.other);
    else push(STARTER, CHASSIS);
    push(BATTERY, START_SWITCH);
    push(CHASSIS, CRANKING_FEED);
    for (const { a, b } of part.coils) push(a, b);
    this.#firstContact = this.#from.length;
    for (const { a, b } of part.contacts) push(a, b);
    for (const { a, b } of part.resistors) push(a, b);
    this.#firstDiode = this.#from.length;
    for (const { from, to } of part.diodes) push(from, to);
    const together = part.plungers.flatMap((coils) => (coils.length > 1 ? coils.map((coil) => FIRST_COIL_BRANCH + coil) : []));
    this.#isDirected = this.#from.map((_, k) => k === BATTERY_BRANCH || k === FEED_BRANCH || k >= this.#firstDiode || together.includes(k));
    this.#labels = new Uint8Array(part.nodeCount);
    this.#left = new Uint8Array(this.#from.length);
    this.#degree = new Uint8Array(part.nodeCount);
    this.#island = new Uint8Array(part.nodeCount);
    this.#number = new Int8Array(part.nodeCount);
  }

  get branchCount(): number {
    return this.#from.length;
  }

  /** What the coils of the plunger hang on; undefined where none of them can have a volt. */
  ofPlunger(nets: Uint8Array, position: SwitchPosition, isIn: boolean): LiveNetwork | undefined {
    if (!this.#lay(nets, position, isIn)) return undefined;
    let wanted = 0;
    for (const coil of this.#part.plungers[0] ?? []) {
      const branch = FIRST_COIL_BRANCH + coil;
      if (this.#left[branch]) wanted |= 1 << this.#islandOf(branch);
    }
    return this.#intern(wanted & this.#findDriven());
  }

  /** All that may carry current, with the sense of each branch: -1 where it lies in the network from its end to its beginning. */
  ofAll(nets: Uint8Array, position: SwitchPosition, isIn: boolean): { network: LiveNetwork; senses: readonly number[] } | undefined {
    const network = this.#lay(nets, position, isIn) ? this.#intern(this.#findDriven()) : undefined;
    return network && { network, senses: network.branches.map((k, at) => (this.#number[this.#labels[this.#from[k]!]!] === network.ends[at]![0] ? 1 : -1)) };
  }

  /** A solver for one of the networks, its values still to be set. */
  buildSolver({ branches, ends }: LiveNetwork): NodalSolver {
    const solver = new NodalSolver();
    solver.begin(1 + Math.max(...ends.flat()));
    branches.forEach((branch, at) => {
      const [from, to] = ends[at]!;
      if (this.isDiode(branch)) solver.addDiode(from, to);
      else solver.addBranch(from, to, CIRCUIT_CONSTANTS.contactOhm.value);
    });
    return solver;
  }

  isDiode(branch: number): boolean {
    return branch >= this.#firstDiode;
  }

  /** Ends of a branch as nodes of the part. */
  fromOf(branch: number): number {
    return this.#from[branch]!;
  }

  toOf(branch: number): number {
    return this.#to[branch]!;
  }

  /** Leaves in `#left` the branches that no dead end keeps from carrying current; false where there are none. */
  #lay(nets: Uint8Array, position: SwitchPosition, isIn: boolean): boolean {
    const { ownMotor, contacts } = this.#part;
    const labels = this.#labels;
    labels.set(nets);
    for (let n = nets.length; n < labels.length; n++) labels[n] = n;
    if (position.returnClosed) joinNets(labels, CHASSIS, INTERLOCKED_RETURN);
    if (ownMotor) joinNets(labels, STARTER, ownMotor.fed);
    const from = this.#from;
    const to = this.#to;
    const left = this.#left;
    const degree = this.#degree.fill(0);
    const count = from.length;
    let open = 0;
    for (let k = 0; k < count; k++) {
      const a = labels[from[k]!]!;
      const b = labels[to[k]!]!;
      let isOn = a !== b;
      if (k === START_BRANCH) isOn &&= position.startLive;
      else if (k === FEED_BRANCH) isOn &&= position.feedDriven;
      else if (k >= this.#firstContact && k < this.#firstContact + contacts.length) isOn &&= isClosed(contacts[k - this.#firstContact]!, isIn);
      left[k] = isOn ? 1 : 0;
      if (!isOn) continue;
      open++;
      degree[a]!++;
      degree[b]!++;
    }
    for (let pruned = true; pruned;) {
      pruned = false;
      for (let k = 0; k < count; k++) {
        if (!left[k]) continue;
        const a = labels[from[k]!]!;
        const b = labels[to[k]!]!;
        if (degree[a]! > 1 && degree[b]! > 1) continue;
        left[k] = 0;
        degree[a]!--;
        degree[b]!--;
        open--;
        pruned = true;
      }
    }
    if (open > 0) this.#joinIslands();
    return open > 0;
  }

  /** Gives what hangs together but for chassis one number, from 0. */
  #joinIslands(): void {
    const labels = this.#labels;
    const island = this.#island;
    for (let n = 0; n < island.length; n++) island[n] = n;
    for (let k = 0; k < this.#from.length; k++) {
      if (!this.#left[k]) continue;
      const a = labels[this.#from[k]!]!;
      const b = labels[this.#to[k]!]!;
      if (a !== CHASSIS && b !== CHASSIS) joinNets(island, a, b);
    }
  }

  #islandOf(branch: number): number {
    const a = this.#labels[this.#from[branch]!]!;
    return this.#island[a === CHASSIS ? this.#labels[this.#to[branch]!]! : a]!;
  }

  /** Islands with a source, as bits. */
  #findDriven(): number {
    let driven = 0;
    for (const source of [BATTERY_BRANCH, FEED_BRANCH]) if (this.#left[source]) driven |= 1 << this.#islandOf(source);
    return driven;
  }

  #intern(islands: number): LiveNetwork | undefined {
    if (islands === 0) return undefined;
    const labels = this.#labels;
    const number = this.#number.fill(-1);
    number[CHASSIS] = 0;
    let next = 1;
    let key = '';
    for (let k = 0; k < this.#from.length; k++) {
      if (!this.#left[k] || (islands & (1 << this.#islandOf(k))) === 0) continue;
      const a = labels[this.#from[k]!]!;
      const b = labels[this.#to[k]!]!;
      if (number[a]! < 0) number[a] = next++;
      if (number[b]! < 0) number[b] = next++;
      const isTurned = !this.#isDirected[k] && number[a]! > number[b]!;
      key += isTurned ? String.fromCharCode(k, number[b]!, number[a]!) : String.fromCharCode(k, number[a]!, number[b]!);
    }
    let known = this.#byKey.get(key);
    if (known === undefined) {
      const codes = Array.from(key, (letter) => letter.charCodeAt(0));
      const branches = codes.filter((_, at) => at % 3 === 0);
      const ends = branches.map((_, at): [number, number] => [codes[3 * at + 1]!, codes[3 * at + 2]!]);
      this.#byKey.set(key, known = { index: this.list.length, branches, ends });
      this.list.push(known);
    }
    return known;
  }
}

/** Nodes a live network may have: its islands are kept as bits of one number. */
export const MOST_LIVE_NODES = 31;

export function isClosed({ closedWhenIn, plunger }: PartSide['contacts'][number], isIn: boolean): boolean {
  return (plunger >= 0 && isIn) === closedWhenIn;
}
