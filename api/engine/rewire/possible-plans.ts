import { JumperSets, type CaseWays, type Jumper } from './jumper-sets.ts';
import { FIRST_COIL_BRANCH, isClosed, LiveNetworks, MOST_LIVE_NODES, type LiveNetwork } from './live-networks.ts';
import {
  BATTERY, CHASSIS, CRANKING_FEED, FIRST_PART_NODE, INTERLOCKED_RETURN, START_SWITCH, STARTER, type JudgedState, type MachineSide, type SwitchPosition,
} from './machine-side.ts';
import { NetKeys } from './net-key.ts';
import { readPart, type PartSide } from './part-side.ts';
import { isCaseLive, isDoomed, Placements, type Placement } from './placements.ts';
import { DEFAULT_CANDIDATES, DEFAULT_EVALUATIONS, MOST_JUMPERS } from './search-limits.ts';
import type { Topology } from './topology.ts';
import { joinNets } from './trial-circuit.ts';
import { findWireAmps, listLimited, type Ties } from './wire-currents.ts';

/** What the numbers of a part have to say, so that some nets are right but for the currents of single wires. Networks by their index. */
export interface Demand {
  /** every coil has its pull-in there */
  readonly goesIn: number;
  /** and there the plunger stays in */
  readonly stays: number;
  /** no coil has more than what it is sure to let go at, and the plunger does not go in */
  readonly quiet: readonly number[];
  /** the plunger does not stay in */
  readonly letsGo: readonly number[];
}

/** Wrong whatever the numbers. */
export const NEVER = -1;

/** Wires and jumpers that are right for some part of the topology, as far as can be told without its numbers. */
export interface PossiblePlan {
  readonly placement: Placement;
  readonly jumpers: readonly Jumper[];
  /** for each way of the case the number of its demand, or NEVER */
  readonly demands: readonly number[];
  /** ways of the case in which it is not wrong whatever the numbers, as bits */
  readonly reach: number;
}

/** What decides whether a wire carries too much, in one way of the case. */
export interface Loads {
  /** coils that the start switch feeds */
  readonly fed: readonly number[];
  /** once all has settled: the networks in which a wire with a limit may carry anything, and for each such wire its share of each branch's current */
  readonly live: readonly { readonly network: number; readonly shares: readonly Float64Array[] }[];
}

/** Steps of one listing: more of them cost more than they are worth, so such a topology is searched part by part. */
const MOST_STEPS = 60_000;

/**
 * All ways to put a record's wires on parts of one topology that are not wrong whatever the numbers of the part. It hangs on the roles of the wires
 * and on where the interlocks act, and on no number of the machine.
 */
export class PossiblePlans {
  readonly part: PartSide;
  readonly positions: readonly SwitchPosition[];
  readonly states: readonly JudgedState[];
  readonly ways: CaseWays;
  readonly networks: LiveNetworks;
  readonly demands: Demand[] = [];
  readonly plans: PossiblePlan[] = [];
  /** those of the plans; for each plan the number of its own, and how many jumpers it has */
  readonly placements: Placement[] = [];
  readonly placementOf: Int32Array;
  readonly jumperCounts: Uint8Array;
  /** false where a search part by part has to be asked: it may be cut off, or the topology has more than one plunger */
  readonly isListed: boolean;
  /** without wires' ends: these tell what a plan costs, not whether it is right */
  readonly #machine: MachineSide;
  readonly #netKeys: NetKeys;
  readonly #known = new Map<number | string, number>();
  readonly #byText = new Map<string, number>();
  readonly #withPanel: Uint8Array;
  readonly #joined: Uint8Array;
  /** the position of the switches in which it is to crank */
  readonly #wantedAt: number | undefined;
  readonly #loads = new Map<PossiblePlan, (Loads | undefined)[]>();
  readonly #reduced = new Map<PossiblePlan, readonly PossiblePlan[]>();

  constructor(machine: MachineSide, { shape }: Topology, ways: CaseWays) {
    this.#machine = { ...machine, wires: machine.wires.map((wire) => ({ ...wire, end: undefined })) };
    const part = readPart({ ...shape, conductive: undefined }, machine, machine.wires.map(() => undefined), () => 1);
    this.part = part;
    this.ways = ways;
    this.positions = machine.positions;
    this.states = machine.states;
    this.networks = new LiveNetworks(part);
    this.#netKeys = new NetKeys(machine, part);
    this.#withPanel = new Uint8Array(FIRST_PART_NODE + part.terminals.length + 1);
    this.#joined = new Uint8Array(part.nodeCount);
    this.#wantedAt = machine.states.find((state) => state.wantedIn)?.position;
    this.isListed = part.plungers.length <= 1 && part.ownMotor?.isSole !== false && part.nodeCount <= MOST_LIVE_NODES && this.#listPlans();
    this.placementOf = Int32Array.from(this.plans, ({ placement }) => (this.placements.at(-1) === placement ? this.placements.length : this.placements.push(placement)) - 1);
    this.jumperCounts = Uint8Array.from(this.plans, ({ jumpers }) => jumpers.length);
  }

  /** The number of the demand that some nets make in one way of the case, or NEVER. */
  demandOf(nets: Uint8Array, heavy: number, way: number): number {
    let asStands = nets;
    if (way === 1) {
      if (this.#machine.has.interlockedReturn && nets[INTERLOCKED_RETURN] === nets[this.part.caseNode]) return NEVER;
      asStands = this.#withPanel;
      asStands.set(nets);
      joinNets(asStands, CHASSIS, this.part.caseNode);
    }
    if (isDoomed(this.#machine, this.part, asStands, heavy, this.ways[way] === 'apart') || isCaseLive(this.part, asStands)) return NEVER;
    const key = this.#netKeys.of(asStands);
    let known = this.#known.get(key);
    if (known === undefined) this.#known.set(key, known = this.#findDemand(asStands));
    return known;
  }

  /** Is the starter live with the plunger so? Told by what closed contacts join. */
  isStarterLive(nets: Uint8Array, position: number, isIn: boolean): boolean {
    this.#join(nets, position, isIn);
    return this.#isStarterJoined();
  }

  /** Nets with the panel as it stands in one way of the case. */
  layNets({ placement, jumpers }: PossiblePlan, way: number): Uint8Array {
    const nets = joinJumpers(placement, jumpers);
    if (way === 1) joinNets(nets, CHASSIS, this.part.caseNode);
    return nets;
  }

  loadsOf(plan: PossiblePlan, way: number): Loads {
    let byWay = this.#loads.get(plan);
    if (byWay === undefined) this.#loads.set(plan, byWay = []);
    return byWay[way] ??= this.#findLoads(plan, way);
  }

  /** The plan without each of its jumpers. */
  reduce(plan: PossiblePlan): readonly PossiblePlan[] {
    let reduced = this.#reduced.get(plan);
    if (reduced === undefined) {
      const { placement } = plan;
      this.#reduced.set(plan, reduced = plan.jumpers.map((jumper) => {
        const jumpers = plan.jumpers.filter((other) => other !== jumper);
        const nets = joinJumpers(placement, jumpers);
        const demands = plan.demands.map((_, way) => this.demandOf(nets, placement.heavy, way));
        return { placement, jumpers, demands, reach: reachOf(demands) };
      }));
    }
    return reduced;
  }

  #findLoads(plan: PossiblePlan, way: number): Loads {
    const { part, networks } = this;
    const nets = this.layNets(plan, way);
    const ties: Ties = { to: plan.placement.to, jumpers: plan.jumpers, panelTied: this.ways[way] === 'joined' };
    const limited = listLimited(this.#machine, part, ties);
    const start = nets[START_SWITCH]!;
    const drawnA = new Float64Array(part.nodeCount);
    return {
      fed: part.coils.flatMap(({ a, b }, coil) => ([a, b].some((node) => node < nets.length && nets[node] === start) ? [coil] : [])),
      live: this.positions.flatMap((switches, position) => {
        const all = networks.ofAll(nets, switches, position === this.#wantedAt);
        if (!all) return [];
        const { network, senses } = all;
        // The currents of ties are linear in what the branches draw: one ampere through each branch by itself tells all.
        const shares = network.branches.map((branch, at) => {
          drawnA.fill(0);
          drawnA[networks.fromOf(branch)]! += senses[at]!;
          drawnA[networks.toOf(branch)]! -= senses[at]!;
          const amps = findWireAmps(this.#machine, part, ties, position, drawnA);
          return limited.map((tie) => amps[tie]!);
        });
        const rows = limited.map((_, tie) => Float64Array.from(shares, (share) => share[tie]!)).filter((row) => row.some((share) => share !== 0));
        return rows.length === 0 ? [] : [{ network: network.index, shares: rows }];
      }),
    };
  }

  /** @returns false where it was broken off */
  #listPlans(): boolean {
    const { wires } = this.#machine;
    let visits = 0;
    let considered = 0;
    const goesOn = (): boolean => visits + considered <= MOST_STEPS;
    const placements = new Placements(this.#machine, this.part, this.ways[0] === 'joined', () => {
      visits++;
      return goesOn();
    });
    const sets = new JumperSets(this.#machine, this.part, this.ways);
    // No wire has an end here and none has a place of its own, so each placement makes one change a wire.
    for (const placement of placements.list(wires.length)) {
      for (let count = 0; count <= MOST_JUMPERS && goesOn(); count++) {
        sets.visit(placement, count, (first, second, nets) => {
          considered++;
          // Nearly all come to nothing: nothing is made for these.
          const one = this.demandOf(nets, placement.heavy, 0);
          const other = this.ways.length > 1 ? this.demandOf(nets, placement.heavy, 1) : NEVER;
          if (one === NEVER && other === NEVER) return goesOn();
          const demands = this.ways.length > 1 ? [one, other] : [one];
          this.plans.push({ placement, jumpers: [first, second].filter((jumper) => jumper !== undefined), demands, reach: reachOf(demands) });
          return goesOn();
        });
      }
    }
    // The search walks the placements once for each number of changes.
    const levels = placements.mostChanges + wires.length + MOST_JUMPERS + 1;
    return goesOn() && levels * visits + considered <= DEFAULT_CANDIDATES && this.#known.size <= DEFAULT_EVALUATIONS;
  }

  #findDemand(nets: Uint8Array): number {
    const { positions, states, has } = this.#machine;
    const wantedAt = this.#wantedAt;
    // Where an open interlock changes nothing, what cranks does so all the same.
    if (wantedAt === undefined || states.some((state) => !state.wantedIn && state.position === wantedAt)) return NEVER;
    this.#join(nets, wantedAt, true);
    if (!this.#isStarterJoined() || (has.crankingFeed && !this.#areJoined(CRANKING_FEED, BATTERY))) return NEVER;
    for (const state of states) {
      if (state.wantedIn) continue;
      this.#join(nets, state.position, false);
      if (this.#isStarterJoined()) return NEVER;
      if (state.engineRuns ? this.#areJoined(STARTER, CRANKING_FEED) : has.crankingFeed && this.#areJoined(CRANKING_FEED, BATTERY)) return NEVER;
    }
    const goesIn = this.networks.ofPlunger(nets, positions[wantedAt]!, false);
    if (goesIn === undefined || !this.#reachesEveryCoil(goesIn)) return NEVER;
    const stays = this.networks.ofPlunger(nets, positions[wantedAt]!, true);
    if (stays === undefined) return NEVER;
    const quiet = new Set<number>();
    const letsGo = new Set<number>();
    for (const [index, position] of positions.entries()) {
      if (index === wantedAt) continue;
      const out = this.networks.ofPlunger(nets, position, false);
      if (out === goesIn) return NEVER;
      if (out) quiet.add(out.index);
      const held = this.networks.ofPlunger(nets, position, true);
      if (held === stays) return NEVER;
      if (held) letsGo.add(held.index);
    }
    return this.#intern({ goesIn: goesIn.index, stays: stays.index, quiet: sortNumbers(quiet), letsGo: sortNumbers(letsGo) });
  }

  #intern(demand: Demand): number {
    const text = `${demand.goesIn} ${demand.stays} ${demand.quiet.join()} ${demand.letsGo.join()}`;
    let known = this.#byText.get(text);
    if (known === undefined) this.#byText.set(text, known = this.demands.push(demand) - 1);
    return known;
  }

  #reachesEveryCoil({ branches }: LiveNetwork): boolean {
    return this.part.plungers[0]!.every((coil) => branches.includes(FIRST_COIL_BRANCH + coil));
  }

  #join(nets: Uint8Array, position: number, isIn: boolean): void {
    const joined = this.#joined;
    joined.set(nets);
    for (let n = nets.length; n < joined.length; n++) joined[n] = n;
    if (this.#machine.positions[position]!.returnClosed) joinNets(joined, CHASSIS, INTERLOCKED_RETURN);
    if (this.part.ownMotor) joinNets(joined, STARTER, this.part.ownMotor.fed);
    for (const contact of this.part.contacts) if (isClosed(contact, isIn)) joinNets(joined, contact.a, contact.b);
  }

  #areJoined(a: number, b: number): boolean {
    return this.#joined[a] === this.#joined[b];
  }

  #isStarterJoined(): boolean {
    const own = this.part.ownMotor;
    return this.#areJoined(STARTER, BATTERY) && (own === undefined || this.#areJoined(own.other, CHASSIS));
  }
}

function reachOf(demands: readonly number[]): number {
  return demands.reduce((bits, demand, way) => (demand === NEVER ? bits : bits | (1 << way)), 0);
}

function joinJumpers(placement: Placement, jumpers: readonly Jumper[]): Uint8Array {
  const nets = placement.nets.slice();
  for (const jumper of jumpers) joinNets(nets, jumper.from, jumper.to);
  return nets;
}

function sortNumbers(numbers: Iterable<number>): number[] {
  return [...numbers].sort((a, b) => a - b);
}
