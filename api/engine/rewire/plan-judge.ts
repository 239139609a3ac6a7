import type { NodalSolver } from '../circuit/index.ts';
import { settingOf } from '../settings.ts';
import type { Jumper } from './jumper-sets.ts';
import { BATTERY_BRANCH, FEED_BRANCH, FIRST_COIL_BRANCH, type LiveNetwork } from './live-networks.ts';
import { CHASSIS, START_SWITCH, type MachineSide } from './machine-side.ts';
import type { PartValues } from './part-values.ts';
import type { Placement } from './placements.ts';
import { NEVER, type PossiblePlan, type PossiblePlans } from './possible-plans.ts';
import { joinNets } from './trial-circuit.ts';
import { findWireAmps, isOverLimit, listLimited, type Ties } from './wire-currents.ts';

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
  /** the question it was last solved and read for */
  solvedFor: number;
  readFor: number;
  bits: number;
}

/** What decides whether a wire carries too much, in one way of the case. */
interface Loads {
  readonly ties: Ties;
  readonly limited: readonly number[];
  /** coils that the start switch feeds */
  readonly fed: readonly number[];
  /** positions of the switches in which anything flows once all has settled */
  readonly live: readonly { readonly position: number; readonly network: number }[];
}

/** Plans of one topology judged by the numbers of one part after another. */
export class PlanJudge {
  readonly #machine: MachineSide;
  readonly #possible: PossiblePlans;
  readonly #values: PartValues;
  readonly #solved: Solved[] = [];
  readonly #met: { question: number; isMet: boolean }[] = [];
  readonly #loads = new Map<PossiblePlan, (Loads | undefined)[]>();
  readonly #reduced = new Map<PossiblePlan, readonly PossiblePlan[]>();
  readonly #drawnA: Float64Array;
  readonly #wantedAt: number;
  #question = 0;
  #isClose = false;

  /** @param values filled before each `begin` */
  constructor(machine: MachineSide, possible: PossiblePlans, values: PartValues) {
    this.#machine = machine;
    this.#possible = possible;
    this.#values = values;
    this.#drawnA = new Float64Array(possible.part.nodeCount);
    this.#wantedAt = machine.states.find((state) => state.wantedIn)?.position ?? -1;
  }

  /** The values are other ones now. */
  begin(): void {
    this.#question++;
    // What should have no volt has some from rounding: whoever lets go at 0 V only is not judged here.
    this.#isClose = this.#values.dropOutV.some((volts) => volts <= CLOSE_V * this.#machine.nominalV);
  }

  /** Something since `begin` was too close to its limit to be called: what was said does not count. */
  get isClose(): boolean {
    return this.#isClose;
  }

  /** In which ways of the case the relay and the starter do right, the currents of wires apart, as bits. */
  findWorkingWays({ demands }: PossiblePlan): number {
    let ways = 0;
    for (let way = 0; way < demands.length; way++) if (demands[way] !== NEVER && this.#isMet(demands[way]!)) ways |= 1 << way;
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
    return this.#reduce(plan).some((less) => {
      const working = this.findWorkingWays(less) & ways;
      return working === ways && this.keepWithinLimits(less, working) === ways;
    });
  }

  /** With the interlocks open and the start switch on, does the starter run, or the plunger stay, or is it held by half? */
  defeatsInterlock(plan: PossiblePlan, way: number): boolean {
    const nets = this.#layNets(plan, way);
    const { positions } = this.#machine;
    const { networks } = this.#possible;
    return this.#machine.states.some((state) => {
      if (!state.startSwitch || state.wantedIn || state.engineRuns) return false;
      const out = networks.ofPlunger(nets, positions[state.position]!, false);
      const held = networks.ofPlunger(nets, positions[state.position]!, true);
      const goesIn = out !== undefined && this.#says(out.index, GOES_IN, IN_IS_CLOSE);
      if (held !== undefined && this.#says(held.index, STAYS, STAYS_IS_CLOSE)) return true;
      // Let go, it rests only where it does not go in again.
      if (goesIn) return false;
      return this.#possible.isStarterLive(nets, state.position, false) || (out !== undefined && !this.#says(out.index, IS_QUIET, QUIET_IS_CLOSE));
    });
  }

  #isMet(number: number): boolean {
    const known = this.#met[number] ??= { question: -1, isMet: false };
    if (known.question === this.#question) return known.isMet;
    known.question = this.#question;
    const { goesIn, stays, quiet, letsGo } = this.#possible.demands[number]!;
    return known.isMet = this.#says(goesIn, GOES_IN, IN_IS_CLOSE) && this.#says(stays, STAYS, STAYS_IS_CLOSE)
      && quiet.every((network) => this.#says(network, IS_QUIET, QUIET_IS_CLOSE))
      && letsGo.every((network) => !this.#says(network, STAYS, STAYS_IS_CLOSE));
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
    const solved = this.#solved[index] ??= this.#prepare(this.#possible.networks.list[index]!);
    if (solved.solvedFor === this.#question) return solved;
    solved.solvedFor = this.#question;
    const { solver, network: { branches } } = solved;
    const { ohms } = this.#values;
    const { networks } = this.#possible;
    for (let at = 0; at < branches.length; at++) {
      const branch = branches[at]!;
      if (networks.isDiode(branch)) continue;
      solver.setBranch(at, ohms[branch]!, branch === BATTERY_BRANCH || branch === FEED_BRANCH ? this.#machine.nominalV : 0);
    }
    solver.solve();
    return solved;
  }

  #prepare(network: LiveNetwork): Solved {
    const { networks, part } = this.#possible;
    const coilNodes = (part.plungers[0] ?? []).flatMap((coil) => {
      const at = network.branches.indexOf(FIRST_COIL_BRANCH + coil);
      return at < 0 ? [-1, -1] : network.ends[at]!;
    });
    return { network, solver: networks.buildSolver(network), coilNodes, solvedFor: -1, readFor: -1, bits: 0 };
  }

  #read({ solver, coilNodes }: Solved): number {
    const { pullInV, dropOutV, ohms } = this.#values;
    const members = this.#possible.part.plungers[0]!;
    const closeV = CLOSE_V * this.#machine.nominalV;
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
    let ways = this.#loads.get(plan);
    if (ways === undefined) this.#loads.set(plan, ways = []);
    const { ties, limited, fed, live } = ways[way] ??= this.#findLoads(plan, way);
    const limitA = this.#limitOf(fed);
    let isOver = false;
    for (const { position, network } of live) {
      const amps = findWireAmps(this.#machine, this.#possible.part, ties, position, this.#drawFrom(this.#solve(network)));
      for (const tie of limited) {
        if (Math.abs(Math.abs(amps[tie]!) - limitA) <= CLOSE_A * (1 + limitA)) this.#isClose = true;
        isOver ||= isOverLimit(amps[tie]!, limitA);
      }
      if (isOver) return true;
    }
    return false;
  }

  /** As `limitOf` of the search. */
  #limitOf(fed: readonly number[]): number {
    const { controlFuseA, nominalV } = this.#machine;
    if (controlFuseA !== undefined) return controlFuseA;
    let coilA = 0;
    for (const coil of fed) coilA += nominalV / this.#values.ohms[FIRST_COIL_BRANCH + coil]!;
    return Math.max(settingOf('leastWireLimitA'), settingOf('wireLimitOfCoilCurrent') * coilA);
  }

  #drawFrom({ solver, network: { branches } }: Solved): Float64Array {
    const { networks } = this.#possible;
    const drawnA = this.#drawnA.fill(0);
    for (let at = 0; at < branches.length; at++) {
      const amps = solver.ampsOf(at);
      drawnA[networks.fromOf(branches[at]!)]! += amps;
      drawnA[networks.toOf(branches[at]!)]! -= amps;
    }
    return drawnA;
  }

  #findLoads(plan: PossiblePlan, way: number): Loads {
    const { part, ways, networks } = this.#possible;
    const nets = this.#layNets(plan, way);
    const ties: Ties = { to: plan.placement.to, jumpers: plan.jumpers, panelTied: ways[way] === 'joined' };
    const start = nets[START_SWITCH]!;
    return {
      ties, limited: listLimited(this.#machine, part, ties),
      fed: part.coils.flatMap(({ a, b }, coil) => ([a, b].some((node) => node < nets.length && nets[node] === start) ? [coil] : [])),
      live: this.#machine.positions.flatMap((switches, position) => {
        const network = networks.ofAll(nets, switches, position === this.#wantedAt);
        return network ? [{ position, network: network.index }] : [];
      }),
    };
  }

  /** The plan without each of its jumpers. */
  #reduce(plan: PossiblePlan): readonly PossiblePlan[] {
    let reduced = this.#reduced.get(plan);
    if (reduced === undefined) {
      const { placement } = plan;
      this.#reduced.set(plan, reduced = plan.jumpers.map((jumper) => {
        const jumpers = plan.jumpers.filter((other) => other !== jumper);
        const nets = joinJumpers(placement, jumpers);
        return { placement, jumpers, demands: plan.demands.map((_, way) => this.#possible.demandOf(nets, placement.heavy, way)) };
      }));
    }
    return reduced;
  }

  /** Nets with the panel as it stands in one way of the case. */
  #layNets({ placement, jumpers }: PossiblePlan, way: number): Uint8Array {
    const nets = joinJumpers(placement, jumpers);
    if (way === 1) joinNets(nets, CHASSIS, this.#possible.part.caseNode);
    return nets;
  }
}

function joinJumpers(placement: Placement, jumpers: readonly Jumper[]): Uint8Array {
  const nets = placement.nets.slice();
  for (const jumper of jumpers) joinNets(nets, jumper.from, jumper.to);
  return nets;
}
