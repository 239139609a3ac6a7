import type { NodalSolver } from '../circuit/index.ts';
import { settingOf } from '../settings.ts';
import { BATTERY_BRANCH, FEED_BRANCH, FIRST_COIL_BRANCH, START_BRANCH, STARTER_BRANCH, type LiveNetwork } from './live-networks.ts';
import type { MachineSide } from './machine-side.ts';
import { PartValues } from './part-values.ts';
import { NEVER, type PossiblePlan, type PossiblePlans } from './possible-plans.ts';
import { isOverLimit } from './wire-currents.ts';

/** Nearer to its limit than this share of the system's voltage, a voltage is not judged here: rounding might tell. */
const CLOSE_V = 1e-7;
/** The same for the current of a wire, as a share of its limit, and A. */
const CLOSE_A = 1e-6;

/** What a network says of the plunger's coils, as bits; each of the three may be too close to call. */
const GOES_IN = 1;
const IS_QUIET = 2;
const STAYS = 4;
const IN_IS_CLOSE = 8;
const QUIET_IS_CLOSE = 16;
const STAYS_IS_CLOSE = 32;

/** A live network with a solver, and what it said of the part at hand. */
interface Solved {
  readonly network: LiveNetwork;
  readonly solver: NodalSolver;
  /** for each coil of the plunger its two nodes, or -1 where it has no volt */
  readonly coilNodes: readonly number[];
  /** branches of the part by their place in the network: the others are the machine's */
  readonly ofPart: readonly { readonly at: number; readonly branch: number }[];
  /** the machine whose branches are set */
  machine: number;
  /** the question it was last solved and read for */
  solvedFor: number;
  readFor: number;
  bits: number;
}

/** Plans of one topology judged by the numbers of one part after another, on one machine after another of their kind. */
export class PlanJudge {
  readonly possible: PossiblePlans;
  /** those of the part at hand */
  readonly values: PartValues;
  readonly #solved: Solved[] = [];
  readonly #metFor: Int32Array;
  readonly #isMet: Uint8Array;
  /** counts machines, as far as a network hangs on them */
  #machine = 0;
  #nominalV = 0;
  #controlOhm = 0;
  #controlFuseA: number | undefined;
  #question = 0;
  #isClose = false;

  constructor(possible: PossiblePlans) {
    this.possible = possible;
    this.values = new PartValues(possible.part, possible.networks.branchCount);
    this.#metFor = new Int32Array(possible.demands.length);
    this.#isMet = new Uint8Array(possible.demands.length);
  }

  /**
   * The values are other ones now.
   * @param isClose something before was too close to call, and still counts
   */
  begin({ nominalV, controlFuseA }: MachineSide, isClose = false): void {
    const controlOhm = this.values.ohms[START_BRANCH]!;
    if (nominalV !== this.#nominalV || controlOhm !== this.#controlOhm) this.#machine++;
    this.#nominalV = nominalV;
    this.#controlOhm = controlOhm;
    this.#controlFuseA = controlFuseA;
    this.#question++;
    this.#isClose = isClose;
    // What should have no volt has some from rounding: whoever lets go at 0 V only is not judged here.
    for (const volts of this.values.dropOutV) if (volts <= CLOSE_V * nominalV) this.#isClose = true;
  }

  /** Something since `begin` was too close to its limit to be called: what was said does not count. */
  get isClose(): boolean {
    return this.#isClose;
  }

  /** In which ways of the case the relay and the starter do right, the currents of wires apart, as bits. */
  findWorkingWays({ demands }: PossiblePlan): number {
    let ways = 0;
    for (let way = 0; way < demands.length; way++) if (demands[way] !== NEVER && this.#meets(demands[way]!)) ways |= 1 << way;
    return ways;
  }

  /** Those of some ways in which no wire carries too much. */
  keepWithinLimits(plan: PossiblePlan, ways: number): number {
    let kept = 0;
    for (let way = 0; way < plan.demands.length; way++) if ((ways & (1 << way)) !== 0 && !this.#isOverloaded(plan, way)) kept |= 1 << way;
    return kept;
  }

  /** Would it be right in some ways without one of its jumpers as well? Then it is no plan. */
  hasIdleJumper(plan: PossiblePlan, ways: number): boolean {
    if (plan.jumpers.length === 0) return false;
    return this.possible.reduce(plan).some((less) => {
      const working = this.findWorkingWays(less) & ways;
      return working === ways && this.keepWithinLimits(less, working) === ways;
    });
  }

  /** With the interlocks open and the start switch on, does the starter run, or the plunger stay, or is it held by half? */
  defeatsInterlock(plan: PossiblePlan, way: number): boolean {
    const { networks, positions, states } = this.possible;
    const nets = this.possible.layNets(plan, way);
    return states.some((state) => {
      if (!state.startSwitch || state.wantedIn || state.engineRuns) return false;
      const held = networks.ofPlunger(nets, positions[state.position]!, true);
      if (held !== undefined && this.#says(held.index, STAYS, STAYS_IS_CLOSE)) return true;
      // Let go, it rests only where it does not go in again.
      const out = networks.ofPlunger(nets, positions[state.position]!, false);
      if (out !== undefined && this.#says(out.index, GOES_IN, IN_IS_CLOSE)) return false;
      return this.possible.isStarterLive(nets, state.position, false) || (out !== undefined && !this.#says(out.index, IS_QUIET, QUIET_IS_CLOSE));
    });
  }

  #meets(number: number): boolean {
    if (this.#metFor[number] === this.#question) return this.#isMet[number] === 1;
    const { goesIn, stays, quiet, letsGo } = this.possible.demands[number]!;
    const isMet = this.#says(goesIn, GOES_IN, IN_IS_CLOSE) && this.#says(stays, STAYS, STAYS_IS_CLOSE)
      && this.#sayAll(quiet, IS_QUIET, IS_QUIET, QUIET_IS_CLOSE) && this.#sayAll(letsGo, STAYS, 0, STAYS_IS_CLOSE);
    // A plan without one of its jumpers may bring a demand that no listed plan has.
    if (number < this.#metFor.length) {
      this.#metFor[number] = this.#question;
      this.#isMet[number] = isMet ? 1 : 0;
    }
    return isMet;
  }

  #sayAll(networks: readonly number[], bit: number, wanted: number, close: number): boolean {
    for (const network of networks) if (this.#says(network, bit, close) !== (wanted !== 0)) return false;
    return true;
  }

  #says(network: number, bit: number, close: number): boolean {
    const solved = this.#solve(network);
    if (solved.readFor !== this.#question) {
      solved.readFor = this.#question;
      solved.bits = this.#read(solved);
    }
    if ((solved.bits & close) !== 0) this.#isClose = true;
    return (solved.bits & bit) !== 0;
  }

  #solve(index: number): Solved {
    const solved = this.#solved[index] ??= this.#prepare(this.possible.networks.list[index]!);
    if (solved.solvedFor === this.#question) return solved;
    solved.solvedFor = this.#question;
    const { solver, ofPart } = solved;
    if (solved.machine !== this.#machine) this.#setMachine(solved);
    for (const { at, branch } of ofPart) solver.setBranch(at, this.values.ohms[branch]!);
    solver.solve();
    return solved;
  }

  #setMachine(solved: Solved): void {
    solved.machine = this.#machine;
    solved.network.branches.forEach((branch, at) => {
      if (this.#isOfPart(branch) || this.possible.networks.isDiode(branch)) return;
      solved.solver.setBranch(at, this.values.ohms[branch]!, branch === BATTERY_BRANCH || branch === FEED_BRANCH ? this.#nominalV : 0);
    });
  }

  /** A contact has the same resistance in every part. */
  #isOfPart(branch: number): boolean {
    const { part, networks } = this.possible;
    if (branch === STARTER_BRANCH) return part.ownMotor !== undefined;
    const afterCoils = FIRST_COIL_BRANCH + part.coils.length;
    return branch >= FIRST_COIL_BRANCH && !networks.isDiode(branch) && (branch < afterCoils || branch >= afterCoils + part.contacts.length);
  }

  #prepare(network: LiveNetwork): Solved {
    const { networks, part } = this.possible;
    const coilNodes = (part.plungers[0] ?? []).flatMap((coil) => {
      const at = network.branches.indexOf(FIRST_COIL_BRANCH + coil);
      return at < 0 ? [-1, -1] : network.ends[at]!;
    });
    const ofPart = network.branches.flatMap((branch, at) => (this.#isOfPart(branch) ? [{ at, branch }] : []));
    return { network, solver: networks.buildSolver(network), coilNodes, ofPart, machine: -1, solvedFor: -1, readFor: -1, bits: 0 };
  }

  #read({ solver, coilNodes }: Solved): number {
    const { pullInV, dropOutV, ohms } = this.values;
    const members = this.possible.part.plungers[0]!;
    const closeV = CLOSE_V * this.#nominalV;
    let bits = GOES_IN | IS_QUIET;
    let sumA = 0;
    let leastA = Infinity;
    let closeA = 0;
    for (let m = 0; m < members.length; m++) {
      const coil = members[m]!;
      const from = coilNodes[2 * m]!;
      const volts = from < 0 ? 0 : solver.voltsAt(from) - solver.voltsAt(coilNodes[2 * m + 1]!);
      const ohm = ohms[FIRST_COIL_BRANCH + coil]!;
      const size = Math.abs(volts);
      if (size < pullInV[coil]!) bits &= ~GOES_IN;
      if (Math.abs(size - pullInV[coil]!) <= closeV) bits |= IN_IS_CLOSE;
      if (size > dropOutV[coil]!) bits &= ~IS_QUIET;
      if (Math.abs(size - dropOutV[coil]!) <= closeV) bits |= QUIET_IS_CLOSE;
      sumA += volts / ohm;
      leastA = Math.min(leastA, dropOutV[coil]! / ohm);
      closeA += closeV / ohm;
    }
    // What goes in is not quiet, wherever a coil lets go above its pull-in.
    if ((bits & GOES_IN) !== 0) bits &= ~IS_QUIET;
    if ((bits & IN_IS_CLOSE) !== 0) bits |= QUIET_IS_CLOSE;
    if (Math.abs(sumA) > leastA) bits |= STAYS;
    if (Math.abs(Math.abs(sumA) - leastA) <= closeA) bits |= STAYS_IS_CLOSE;
    return bits;
  }

  #isOverloaded(plan: PossiblePlan, way: number): boolean {
    const { fed, live } = this.possible.loadsOf(plan, way);
    const limitA = this.#limitOf(fed);
    for (const { network, shares } of live) {
      const { solver } = this.#solve(network);
      for (const share of shares) {
        let amps = 0;
        for (let at = 0; at < share.length; at++) if (share[at] !== 0) amps += share[at]! * solver.ampsOf(at);
        if (Math.abs(Math.abs(amps) - limitA) <= CLOSE_A * (1 + limitA)) this.#isClose = true;
        if (isOverLimit(amps, limitA)) return true;
      }
    }
    return false;
  }

  /** As `limitOf` of the search. */
  #limitOf(fed: readonly number[]): number {
    if (this.#controlFuseA !== undefined) return this.#controlFuseA;
    let coilA = 0;
    for (const coil of fed) coilA += this.#nominalV / this.values.ohms[FIRST_COIL_BRANCH + coil]!;
    return Math.max(settingOf('leastWireLimitA'), settingOf('wireLimitOfCoilCurrent') * coilA);
  }
}
