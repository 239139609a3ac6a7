import { shareTieCurrents } from '../circuit/index.ts';
import {
  BATTERY, CHASSIS, CRANKING_FEED, FIRST_PART_NODE, INTERLOCKED_RETURN, START_SWITCH, STARTER, type MachineSide,
} from './machine-side.ts';
import { NetsJudge, type NetsVerdict } from './nets-judge.ts';
import type { PartNames } from './circuit-shape.ts';
import { nameNode, type PartSide } from './part-side.ts';
import { isDoomed, Placements, type Placement } from './placements.ts';
import type { RewireOptions } from './rewire-options.ts';
import { joinNets, type TrialCircuit } from './trial-circuit.ts';
import { LEFT_OFF } from './wire-places.ts';

/** A jumper between two nodes, the textwise lower name first; chassis is always second. */
export interface Jumper {
  readonly from: number;
  readonly to: number;
}

/** How the case may stand to battery minus: one entry where it is known, else apart and joined. */
export type CaseWays = readonly ('apart' | 'joined')[];

export interface Candidate {
  readonly placement: Placement;
  readonly jumpers: readonly Jumper[];
}

export interface FoundPlan extends Candidate {
  /** in which of the ways it is right, as bits */
  readonly ways: number;
  readonly changes: number;
  /** of the first way it is right in */
  readonly verdict: NetsVerdict;
  readonly text: string;
}

/** A wiring that cranks and yet is not right, in one way of the case. */
export interface NearMiss extends Candidate {
  readonly way: number;
  readonly wrongStates: number;
  readonly changes: number;
}

export interface SearchResult {
  readonly plans: readonly FoundPlan[];
  readonly complete: boolean;
  readonly nearMisses: readonly NearMiss[];
  /** the cheapest way to hang the wires at all, right or not */
  readonly first: Candidate | undefined;
}

const DEFAULT_EVALUATIONS = 20_000;
const DEFAULT_CANDIDATES = 2_000_000;
const MOST_JUMPERS = 2;
const MOST_NEAR_MISSES = 4;
const MOST_OPEN_BITS = 1 << 29;

/** Is the case joined to battery minus through the bracket and the panel? */
export function listCaseWays(machine: MachineSide, part: PartSide): CaseWays {
  const { conductive } = part;
  if (conductive === false || machine.panelGrounded === false) return ['apart'];
  return conductive === true && machine.panelGrounded === true ? ['joined'] : ['apart', 'joined'];
}

/**
 * Best-first search by number of changes. Every placement and every set of jumpers of one number of changes is looked at before the next,
 * so the plans found are exactly the first ones in order. What a set of nets does is solved once and remembered.
 */
export class Search {
  readonly #machine: MachineSide;
  readonly #part: PartSide;
  readonly #ways: CaseWays;
  readonly #judge: NetsJudge;
  readonly #known = new Map<number, Map<number | string, NetsVerdict>>();
  readonly #jumpers: readonly Jumper[];
  readonly #relevant: readonly number[];
  /** wires in order of their tags */
  readonly #byTag: readonly number[];
  readonly #shortKey: boolean;
  readonly #netId: Uint8Array;
  // Scratch nets: with one jumper, with two, and with the panel on top.
  readonly #withOne: Uint8Array;
  readonly #withTwo: Uint8Array;
  readonly #withPanel: Uint8Array;
  /** how many ends of elements each node has */
  readonly #ends: Uint8Array;
  /** bits of open coil ends by net, of the placement at hand */
  readonly #openBit: Int32Array;
  readonly #mostEvaluations: number;
  readonly #mostCandidates: number;
  #evaluations = 0;
  #candidates = 0;
  #cutOff = false;
  #level: FoundPlan[] = [];
  #misses: NearMiss[] = [];

  constructor(machine: MachineSide, part: PartSide, trial: TrialCircuit, limits: RewireOptions['limits']) {
    this.#machine = machine;
    this.#part = part;
    this.#ways = listCaseWays(machine, part);
    this.#judge = new NetsJudge(machine, part, trial);
    this.#jumpers = listJumpers(part);
    this.#relevant = listRelevantNodes(machine, part);
    this.#byTag = [...machine.wires.keys()].sort((a, b) => (machine.wires[a]!.tag < machine.wires[b]!.tag ? -1 : 1));
    this.#shortKey = this.#relevant.length <= 13;
    this.#netId = new Uint8Array(FIRST_PART_NODE + part.terminals.length + 1);
    this.#withOne = this.#netId.slice();
    this.#withTwo = this.#netId.slice();
    this.#withPanel = this.#netId.slice();
    this.#ends = countEnds(part);
    this.#openBit = new Int32Array(this.#netId.length);
    this.#mostEvaluations = limits?.evaluations ?? DEFAULT_EVALUATIONS;
    this.#mostCandidates = limits?.candidates ?? DEFAULT_CANDIDATES;
  }

  /** @param isEnough asked after each number of changes with the plans so far, in order */
  run(isEnough: (plans: readonly FoundPlan[]) => boolean): SearchResult {
    const placements = new Placements(this.#machine, this.#part, this.#ways[0] === 'joined', () => this.#countCandidate());
    const plans: FoundPlan[] = [];
    let [one, two]: Placement[][] = [[], []];
    for (let changes = 0; changes <= placements.mostChanges + MOST_JUMPERS && !this.#cutOff; changes++) {
      this.#level = [];
      const none = changes <= placements.mostChanges ? placements.list(changes) : [];
      for (const placement of none) if (this.#listOpenEnds(placement) === 0) this.#consider(placement, undefined, undefined, placement.nets, changes);
      for (const placement of one!) this.#addJumpers(placement, 1, changes);
      for (const placement of two!) this.#addJumpers(placement, 2, changes);
      // A level that was not walked to its end may lack its best plan: what it did find is kept, the answer says it is not complete.
      this.#level.sort((a, b) => a.placement.moved - b.placement.moved || (a.text < b.text ? -1 : a.text > b.text ? 1 : 0));
      plans.push(...this.#level);
      if (isEnough(plans)) break;
      [one, two] = [none, one!];
    }
    return {
      plans, complete: !this.#cutOff, nearMisses: this.#misses,
      first: placements.first && { placement: placements.first, jumpers: [] },
    };
  }

  /** In which ways of the case a wiring is right, as bits. */
  findRightWays({ placement, jumpers }: Candidate): number {
    const nets = placement.nets.slice();
    for (const jumper of jumpers) joinNets(nets, jumper.from, jumper.to);
    let ways = 0;
    this.#ways.forEach((_, way) => {
      const verdict = this.#judgeWay(nets, placement.heavy, way);
      if (verdict !== undefined && verdict.cranks && verdict.wrongStates === 0
        && this.#countOverloaded(placement, jumpers, way, verdict) === 0) ways |= 1 << way;
    });
    return ways;
  }

  #addJumpers(placement: Placement, count: number, changes: number): void {
    const jumpers = this.#jumpers;
    const nets = this.#withOne;
    const both = this.#withTwo;
    const base = placement.nets;
    const open = this.#listOpenEnds(placement);
    const bitOf = this.#openBit;
    for (let i = 0; i < jumpers.length && !this.#cutOff; i++) {
      const first = jumpers[i]!;
      if (base[first.from] === base[first.to]) continue;
      const left = open & ~(bitOf[base[first.from]!]! | bitOf[base[first.to]!]!);
      if (count === 1 && left !== 0) continue;
      // A jumper to a node that has neither element nor wire does nothing, unless another jumper goes on from there.
      const bare = this.#findBareEnd(placement, first);
      if (bare >= 0 && count === 1) continue;
      nets.set(base);
      joinNets(nets, first.from, first.to);
      if (this.#isDoomed(nets, placement.heavy, 0) && (this.#ways.length === 1 || this.#isDoomed(nets, placement.heavy, 1))) continue;
      if (count === 1) {
        this.#consider(placement, first, undefined, nets, changes);
        continue;
      }
      for (let j = i + 1; j < jumpers.length; j++) {
        const second = jumpers[j]!;
        if (nets[second.from] === nets[second.to]) continue;
        if ((left & ~(bitOf[base[second.from]!]! | bitOf[base[second.to]!]!)) !== 0) continue;
        if (bare >= 0 && second.from !== bare && second.to !== bare) continue;
        const secondBare = this.#findBareEnd(placement, second);
        if (secondBare >= 0 && first.from !== secondBare && first.to !== secondBare) continue;
        both.set(nets);
        joinNets(both, second.from, second.to);
        this.#consider(placement, first, second, both, changes);
      }
    }
  }

  /**
   * Nets on which a coil of the heavy contact ends and nothing else: no current flows there, so the relay stays out unless a jumper goes on
   * from each of them. One bit a net, left in `#openBit` by label; 0 where there is none.
   */
  #listOpenEnds({ nets, heavy }: Placement): number {
    const { plungers, coils, caseNode } = this.#part;
    const bitOf = this.#openBit.fill(0);
    const caseMayBeGrounded = this.#ways.includes('joined');
    let open = 0;
    let next = 1;
    for (let p = 0; p < plungers.length; p++) {
      if ((heavy & (1 << p)) === 0) continue;
      for (const index of plungers[p]!) {
        const { a, b } = coils[index]!;
        for (const node of [a, b]) {
          // An inner joint has no wire and no jumper: what ends there ends in the part.
          if (node >= nets.length) continue;
          const net = nets[node]!;
          if (net < FIRST_PART_NODE || bitOf[net] !== 0 || (caseMayBeGrounded && net === nets[caseNode])) continue;
          let ends = 0;
          for (let n = FIRST_PART_NODE; n < nets.length; n++) if (nets[n] === net) ends += this.#ends[n]!;
          if (ends > 1 || next > MOST_OPEN_BITS) continue;
          bitOf[net] = next;
          open |= next;
          next *= 2;
        }
      }
    }
    return open;
  }

  #findBareEnd(placement: Placement, jumper: Jumper): number {
    for (const node of [jumper.from, jumper.to]) {
      if (node === CHASSIS || this.#part.touched[node] || placement.nets[node] !== node) continue;
      if (node !== this.#part.caseNode || this.#ways.length === 1) return node;
    }
    return -1;
  }

  #consider(placement: Placement, first: Jumper | undefined, second: Jumper | undefined, nets: Uint8Array, changes: number): void {
    if (!this.#countCandidate()) return;
    let ways = 0;
    let right: NetsVerdict | undefined;
    let jumpers: readonly Jumper[] | undefined;
    for (let way = 0; way < this.#ways.length; way++) {
      const verdict = this.#judgeWay(nets, placement.heavy, way);
      if (verdict === undefined || !verdict.cranks) continue;
      jumpers ??= first === undefined ? [] : second === undefined ? [first] : [first, second];
      const wrongStates = verdict.wrongStates || this.#countOverloaded(placement, jumpers, way, verdict);
      if (wrongStates === 0) {
        ways |= 1 << way;
        right ??= verdict;
      } else this.#noteMiss({ placement, jumpers, way, wrongStates, changes });
    }
    if (right === undefined || jumpers === undefined) return;
    for (const jumper of jumpers) {
      const without = this.findRightWays({ placement, jumpers: jumpers.filter((other) => other !== jumper) });
      if ((without & ways) === ways) return;
    }
    this.#level.push({ placement, jumpers, ways, changes, verdict: right, text: this.#writeText(placement, jumpers) });
  }

  #noteMiss(miss: NearMiss): void {
    const best = this.#misses[0];
    if (best !== undefined) {
      if (miss.wrongStates > best.wrongStates || (miss.wrongStates === best.wrongStates && miss.changes > best.changes)) return;
      if (miss.wrongStates < best.wrongStates) this.#misses = [];
    }
    if (this.#misses.length < MOST_NEAR_MISSES) this.#misses.push(miss);
  }

  #isDoomed(nets: Uint8Array, heavy: number, way: number): boolean {
    return isDoomed(this.#machine, this.#part, nets, heavy, this.#ways[way] === 'apart');
  }

  /** @returns undefined where the nets are doomed or the search was cut off */
  #judgeWay(nets: Uint8Array, heavy: number, way: number): NetsVerdict | undefined {
    let asStands = nets;
    // Known ties of the panel are in the nets already; the second of two ways adds it. An interlocked return on the case is
    // refused in both.
    if (way === 1) {
      if (this.#machine.has.interlockedReturn && nets[INTERLOCKED_RETURN] === nets[this.#part.caseNode]) return undefined;
      asStands = this.#withPanel;
      asStands.set(nets);
      joinNets(asStands, CHASSIS, this.#part.caseNode);
    }
    if (this.#isDoomed(asStands, heavy, way) || isCaseLive(this.#part, asStands)) return undefined;
    let verdicts = this.#known.get(heavy);
    if (verdicts === undefined) this.#known.set(heavy, verdicts = new Map());
    const key = this.#writeKey(asStands);
    let verdict = verdicts.get(key);
    if (verdict === undefined) {
      if (this.#evaluations >= this.#mostEvaluations) {
        this.#cutOff = true;
        return undefined;
      }
      this.#evaluations++;
      verdict = this.#judge.judge(asStands, heavy);
      verdicts.set(key, verdict);
    }
    return verdict;
  }

  /** In how many judged states a wire other than battery and starter carries too much. */
  #countOverloaded(placement: Placement, jumpers: readonly Jumper[], way: number, verdict: NetsVerdict): number {
    const over = new Set<number>();
    for (const { position, drawnA } of verdict.settled) {
      const wiring = { to: placement.to, jumpers, panelTied: this.#ways[way] === 'joined' };
      const amps = findWireAmps(this.#machine, this.#part, wiring, position, drawnA.slice());
      if (listLimited(this.#machine, this.#part, wiring).some((tie) => isOverLimit(amps[tie]!, verdict.limitA))) over.add(position);
    }
    return over.size === 0 ? 0 : this.#machine.states.filter((state) => over.has(state.position)).length;
  }

  #countCandidate(): boolean {
    if (++this.#candidates > this.#mostCandidates) this.#cutOff = true;
    return !this.#cutOff;
  }

  /** Nets as a number, so that equal ones are solved once: what no element and no wire touches does not matter. */
  #writeKey(nets: Uint8Array): number | string {
    const ids = this.#netId.fill(255);
    let next = 0;
    if (this.#shortKey) {
      let key = 0;
      for (const node of this.#relevant) {
        const net = nets[node]!;
        if (ids[net] === 255) ids[net] = next++;
        key = key * 16 + ids[net]!;
      }
      return key;
    }
    let key = '';
    for (const node of this.#relevant) {
      const net = nets[node]!;
      if (ids[net] === 255) ids[net] = next++;
      key += String.fromCharCode(48 + ids[net]!);
    }
    return key;
  }

  /** What orders equal plans: their text, with the stand-ins, which sort as the names do. */
  #writeText(placement: Placement, jumpers: readonly Jumper[]): string {
    const wires: string[] = [];
    const leftOff: string[] = [];
    for (const w of this.#byTag) {
      const { tag } = this.#machine.wires[w]!;
      const to = placement.to[w]!;
      if (to === LEFT_OFF) leftOff.push(tag);
      else wires.push(`${tag}>${this.#part.standIns[to]!}`);
    }
    return JSON.stringify([wires, jumpers.map((jumper) => ({ from: standInOf(this.#part, jumper.from), to: standInOf(this.#part, jumper.to) })), leftOff]);
  }
}

/** A live body is a short as soon as it touches metal, and a shock hazard at 48 V: no jumper may make one, whatever it would mend. */
function isCaseLive(part: PartSide, nets: Uint8Array): boolean {
  const point = nets[part.caseNode]!;
  return point === BATTERY || point === STARTER || point === START_SWITCH || point === CRANKING_FEED;
}

/** Where everything without resistance sits. */
export interface Ties {
  /** for each wire terminal index, the number of terminals for the case, or LEFT_OFF */
  readonly to: ArrayLike<number>;
  readonly jumpers: readonly Jumper[];
  /** the case is joined to chassis by the panel */
  readonly panelTied: boolean;
}

/** A current equal to its limit but for rounding is within it. */
export function isOverLimit(amps: number, limitA: number): boolean {
  return Math.abs(amps) > limitA * (1 + 1e-9);
}

/**
 * Wires (by index) and jumpers (after the wires) whose current is limited: all but battery and starter, and but what takes the place of the
 * starter's cable, the lead from an own motor's other end to chassis.
 */
export function listLimited(machine: MachineSide, part: PartSide, { to, jumpers }: Ties): number[] {
  const other = part.ownMotor?.other;
  const wires = machine.wires.flatMap((wire, w) => {
    if (wire.role === 'battery' || wire.role === 'starter' || to[w] === LEFT_OFF) return [];
    const at = FIRST_PART_NODE + to[w]!;
    return wire.role === 'chassis' && at === other ? [] : [w];
  });
  return wires.concat(jumpers.flatMap((jumper, j) => (
    other !== undefined && (jumper.from === other || jumper.to === other) ? [] : [machine.wires.length + j])));
}

/** What each wire of the record and then each jumper carries (a wire: towards the part), A. `drawnA` is overwritten. */
export function findWireAmps(
  machine: MachineSide, part: PartSide, { to, jumpers, panelTied }: Ties, position: number, drawnA: Float64Array,
): Float64Array {
  const from: number[] = [];
  const end: number[] = [];
  for (let w = 0; w < machine.wires.length; w++) {
    const leadsTo = machine.wires[w]!.leadsTo;
    from.push(leadsTo);
    // A tie from its point to itself carries nothing: a wire left off, and a take-off beside the battery wire, which has no load here.
    const idle = to[w] === LEFT_OFF || (machine.wires[w]!.role === 'tap' && machine.wires.some((wire, b) => wire.role === 'battery' && to[b] === to[w]));
    end.push(idle ? leadsTo : FIRST_PART_NODE + to[w]!);
  }
  for (const jumper of jumpers) {
    from.push(jumper.from);
    end.push(jumper.to);
  }
  if (panelTied) {
    from.push(CHASSIS);
    end.push(part.caseNode);
  }
  if (machine.positions[position]!.returnClosed) {
    from.push(CHASSIS);
    end.push(INTERLOCKED_RETURN);
  }
  return shareTieCurrents(from, end, from.length, drawnA);
}

/** A jumper as the answer writes it. */
export function nameJumper(names: PartNames, jumper: Jumper): { from: string; to: string } {
  return { from: nameNode(names, jumper.from), to: jumper.to === CHASSIS ? 'chassis' : nameNode(names, jumper.to) };
}

/** What stands for a terminal, the case or (last) the chassis. */
function standInOf(part: PartSide, node: number): string {
  return node === CHASSIS ? part.standIns.at(-1)! : part.standIns[node - FIRST_PART_NODE]!;
}

function listJumpers(part: PartSide): Jumper[] {
  const ends = [...part.terminals.keys()].map((t) => FIRST_PART_NODE + t).concat(part.caseNode)
    .map((node) => ({ node, name: standInOf(part, node) }))
    .sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0));
  // Sorted by both names, so that a set of jumpers taken in this order is written in order.
  return ends.flatMap((from, i) => [...ends.slice(i + 1), { node: CHASSIS, name: standInOf(part, CHASSIS) }]
    .sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0))
    .map((to) => ({ from: from.node, to: to.node })));
}

function countEnds(part: PartSide): Uint8Array {
  const ends = new Uint8Array(part.nodeCount);
  for (const { a, b } of [...part.coils, ...part.contacts, ...part.resistors]) {
    ends[a]!++;
    ends[b]!++;
  }
  for (const { from, to } of part.diodes) {
    ends[from]!++;
    ends[to]!++;
  }
  if (part.ownMotor) {
    ends[part.ownMotor.fed]!++;
    ends[part.ownMotor.other]!++;
  }
  return ends;
}

function listRelevantNodes(machine: MachineSide, part: PartSide): number[] {
  const nodes = [CHASSIS, BATTERY, STARTER, START_SWITCH];
  if (machine.has.interlockedReturn) nodes.push(INTERLOCKED_RETURN);
  if (machine.has.crankingFeed) nodes.push(CRANKING_FEED);
  for (let node = FIRST_PART_NODE; node <= part.caseNode; node++) if (part.touched[node]) nodes.push(node);
  return nodes;
}
