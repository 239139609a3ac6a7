import { CIRCUIT_CONSTANTS } from './constants.ts';
import { solveDense } from './dense-solve.ts';

const LINEAR = 0;
const DIODE = 1;
/** A diode changes state when it is out of place by more than this, V: far above rounding, far below anything that matters. */
const DIODE_SLACK_V = 1e-9;
const MOST_DIODE_ROUNDS = 100_000;

/**
 * Nodal analysis of a small network, numbers only. Build it (`begin`, `tie`, `addBranch`, `addDiode`), `solve`, read. One solver is
 * used over and over: it keeps its arrays. Where the branches stay and only the ties change, `tieAs` lays all ties at once.
 *
 * Node 0 is ground. A branch is a resistance in series with an EMF, so a battery, a motor with back-EMF and a diode that conducts
 * are all one kind of row. Ties join two nodes into one net without resistance. Every part of the network that does not reach
 * ground is grounded at its lowest node: it floats, and nothing flows there that a real one would not let flow.
 * Diodes are piecewise linear (open below their forward drop, a slope above it), their states found by iteration.
 * Source: Ho, Ruehli and Brennan, The modified nodal approach to network analysis, 1975 (from memory); diode states by the
 * least-index rule, which ends on every positive definite network (Murty 1974, from memory).
 */
export class NodalSolver {
  #nodes = 0;
  #branches = 0;
  #parent = new Int32Array(16);
  #net = new Int32Array(16);
  #volts = new Float64Array(16);
  #island = new Int32Array(16);
  #from = new Int32Array(32);
  #to = new Int32Array(32);
  #kind = new Uint8Array(32);
  #on = new Uint8Array(32);
  #siemens = new Float64Array(32);
  #emf = new Float64Array(32);
  #matrix = new Float64Array(256);
  #right = new Float64Array(16);
  #diodes = 0;
  #nets = -1;

  /** Start a network of `nodes` nodes, numbered from 0 (ground). */
  begin(nodes: number): void {
    if (nodes > this.#parent.length) {
      const size = Math.max(nodes, this.#parent.length * 2);
      this.#parent = new Int32Array(size);
      this.#net = new Int32Array(size);
      this.#volts = new Float64Array(size);
      this.#island = new Int32Array(size);
      this.#right = new Float64Array(size);
      this.#matrix = new Float64Array(size * size);
    }
    this.#nodes = nodes;
    this.#branches = 0;
    this.#diodes = 0;
    this.#nets = -1;
    for (let i = 0; i < nodes; i++) this.#parent[i] = i;
  }

  /** Join two nodes without resistance. */
  tie(a: number, b: number): void {
    this.#nets = -1;
    const ra = findRoot(this.#parent, a);
    const rb = findRoot(this.#parent, b);
    // The lower number stays the root, so that ground remains node 0.
    if (ra < rb) this.#parent[rb] = ra;
    else this.#parent[ra] = rb;
  }

  /** Take all ties from labels, in place of those there were: nodes of one label are one net, and the label is the lowest of them. */
  tieAs(labels: ArrayLike<number>): void {
    const net = this.#net;
    let nets = 0;
    for (let i = 0; i < this.#nodes; i++) {
      const root = labels[i]!;
      this.#parent[i] = root;
      if (root === 0) net[i] = -1;
      else net[i] = root === i ? nets++ : net[root]!;
    }
    this.#nets = nets;
  }

  areTied(a: number, b: number): boolean {
    return findRoot(this.#parent, a) === findRoot(this.#parent, b);
  }

  /**
   * @param ohm above 0
   * @param emfV raises `to` above `from`; the branch's current counts from `from` to `to`
   * @returns the branch's number
   */
  addBranch(from: number, to: number, ohm: number, emfV = 0): number {
    if (!(ohm > 0)) throw new RangeError(`addBranch: ohm is ${ohm}, want a number above 0 (join nodes without resistance by tie)`);
    return this.#push(from, to, LINEAR, 1, 1 / ohm, emfV);
  }

  addDiode(from: number, to: number, forwardV: number = CIRCUIT_CONSTANTS.diodeV.value, ohm: number = CIRCUIT_CONSTANTS.diodeOhm.value): number {
    this.#diodes++;
    return this.#push(from, to, DIODE, 0, 1 / ohm, -forwardV);
  }

  /** Switch a linear branch on or off without building the network again. */
  setOn(branch: number, on: boolean): void {
    this.#on[branch] = on ? 1 : 0;
  }

  /** Give a linear branch other values without building the network again. */
  setBranch(branch: number, ohm: number, emfV = 0): void {
    this.#siemens[branch] = 1 / ohm;
    this.#emf[branch] = emfV;
  }

  solve(): void {
    if (this.#diodes > 0) for (let b = 0; b < this.#branches; b++) if (this.#kind[b] === DIODE) this.#on[b] = 0;
    const nets = this.#nets < 0 ? this.#numberNets() : this.#nets;
    this.#solveLinear(nets);
    if (this.#diodes === 0) return;
    for (let round = 0; round < MOST_DIODE_ROUNDS; round++) {
      // A few rounds turn every diode that is out of place; if that does not settle, one at a time is sure to.
      if (this.#turnDiodes(round > 4 + this.#diodes) === 0) return;
      this.#solveLinear(nets);
    }
    throw new Error(`solve: ${this.#diodes} diodes did not settle in ${MOST_DIODE_ROUNDS} rounds`);
  }

  /** V against ground; 0 in a part of the network that floats. */
  voltsAt(node: number): number {
    const net = this.#net[node]!;
    return net < 0 ? 0 : this.#volts[net]!;
  }

  /** A from the branch's `from` to its `to`. */
  ampsOf(branch: number): number {
    if (!this.#on[branch]) return 0;
    return (this.voltsAt(this.#from[branch]!) - this.voltsAt(this.#to[branch]!) + this.#emf[branch]!) * this.#siemens[branch]!;
  }

  /** Whether a linear branch is switched on, or a diode conducts. */
  isOn(branch: number): boolean {
    return this.#on[branch] === 1;
  }

  #push(from: number, to: number, kind: number, on: number, siemens: number, emfV: number): number {
    const branch = this.#branches++;
    if (branch === this.#from.length) {
      this.#from = extend(this.#from);
      this.#to = extend(this.#to);
      this.#kind = extend(this.#kind);
      this.#on = extend(this.#on);
      this.#siemens = extend(this.#siemens);
      this.#emf = extend(this.#emf);
    }
    this.#from[branch] = from;
    this.#to[branch] = to;
    this.#kind[branch] = kind;
    this.#on[branch] = on;
    this.#siemens[branch] = siemens;
    this.#emf[branch] = emfV;
    return branch;
  }

  /** Number the nets that are not ground from 0; ground is -1. */
  #numberNets(): number {
    let nets = 0;
    for (let i = 0; i < this.#nodes; i++) {
      const root = findRoot(this.#parent, i);
      if (root === 0) this.#net[i] = -1;
      else if (root === i) this.#net[i] = nets++;
      else this.#net[i] = this.#net[root]!;
    }
    this.#nets = nets;
    return nets;
  }

  #solveLinear(nets: number): void {
    const a = this.#matrix;
    const b = this.#right;
    const island = this.#island;
    for (let i = 0; i < nets; i++) {
      b[i] = 0;
      island[i] = i;
      for (let j = 0; j <= i; j++) a[i * nets + j] = 0;
    }
    // `island` joins what hangs together; -1 is what reaches ground.
    for (let k = 0; k < this.#branches; k++) {
      if (!this.#on[k]) continue;
      const i = this.#net[this.#from[k]!]!;
      const j = this.#net[this.#to[k]!]!;
      if (i === j) continue;
      const g = this.#siemens[k]!;
      const source = this.#emf[k]! * g;
      if (i >= 0) {
        a[i * nets + i]! += g;
        b[i]! -= source;
      }
      if (j >= 0) {
        a[j * nets + j]! += g;
        b[j]! += source;
      }
      if (i >= 0 && j >= 0) a[i > j ? i * nets + j : j * nets + i]! -= g;
      const ri = i < 0 ? -1 : findIsland(island, i);
      const rj = j < 0 ? -1 : findIsland(island, j);
      if (ri === rj) continue;
      if (ri < rj) island[rj] = ri;
      else island[ri] = rj;
    }
    for (let i = 0; i < nets; i++) if (island[i] === i) a[i * nets + i]! += 1;
    if (!solveDense(a, b, nets, nets)) throw new Error('solve: a net lost its ground');
    for (let i = 0; i < nets; i++) this.#volts[i] = b[i]!;
  }

  #turnDiodes(onlyFirst: boolean): number {
    let turned = 0;
    for (let k = 0; k < this.#branches; k++) {
      if (this.#kind[k] !== DIODE) continue;
      const overV = this.voltsAt(this.#from[k]!) - this.voltsAt(this.#to[k]!) + this.#emf[k]!;
      if (this.#on[k] ? overV < -DIODE_SLACK_V : overV > DIODE_SLACK_V) {
        this.#on[k] = this.#on[k] ? 0 : 1;
        turned++;
        if (onlyFirst) return turned;
      }
    }
    return turned;
  }
}

function findRoot(parent: Int32Array, node: number): number {
  let root = node;
  while (parent[root] !== root) root = parent[root]!;
  while (parent[node] !== root) {
    const next = parent[node]!;
    parent[node] = root;
    node = next;
  }
  return root;
}

function findIsland(island: Int32Array, net: number): number {
  let root = net;
  while (root >= 0 && island[root] !== root) root = island[root]!;
  return root;
}

function extend<T extends Int32Array | Uint8Array | Float64Array>(array: T): T {
  const longer = new (array.constructor as new (size: number) => T)(array.length * 2);
  longer.set(array);
  return longer;
}
