import type { PartNames } from './circuit-shape.ts';
import { JumperSets, listCaseWays, standInOf, type CaseWays, type Jumper } from './jumper-sets.ts';
import { CHASSIS, FIRST_PART_NODE, INTERLOCKED_RETURN, type MachineSide } from './machine-side.ts';
import { NetKeys } from './net-key.ts';
import { NetsJudge, type NetsVerdict } from './nets-judge.ts';
import { nameNode, type PartSide } from './part-side.ts';
import { isCaseLive, isDoomed, Placements, type Placement } from './placements.ts';
import type { RewireOptions } from './rewire-options.ts';
import { DEFAULT_CANDIDATES, DEFAULT_EVALUATIONS, MOST_JUMPERS } from './search-limits.ts';
import { joinNets, type TrialCircuit } from './trial-circuit.ts';
import { findWireAmps, isOverLimit, listLimited } from './wire-currents.ts';
import { LEFT_OFF } from './wire-places.ts';

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

const MOST_NEAR_MISSES = 4;

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
  readonly #jumpers: JumperSets;
  readonly #keys: NetKeys;
  /** wires in order of their tags */
  readonly #byTag: readonly number[];
  /** scratch nets, with the panel on top */
  readonly #withPanel: Uint8Array;
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
    this.#jumpers = new JumperSets(machine, part, this.#ways);
    this.#keys = new NetKeys(machine, part);
    this.#byTag = orderByTag(machine);
    this.#withPanel = new Uint8Array(FIRST_PART_NODE + part.terminals.length + 1);
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
      [none, one!, two!].forEach((list, count) => {
        for (const placement of list) this.#jumpers.visit(placement, count, (first, second, nets) => this.#consider(placement, first, second, nets, changes));
      });
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

  #consider(placement: Placement, first: Jumper | undefined, second: Jumper | undefined, nets: Uint8Array, changes: number): boolean {
    if (!this.#countCandidate()) return false;
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
    if (right === undefined || jumpers === undefined) return !this.#cutOff;
    for (const jumper of jumpers) {
      const without = this.findRightWays({ placement, jumpers: jumpers.filter((other) => other !== jumper) });
      if ((without & ways) === ways) return !this.#cutOff;
    }
    this.#level.push({ placement, jumpers, ways, changes, verdict: right, text: writePlanText(this.#machine, this.#byTag, this.#part, placement.to, jumpers) });
    return !this.#cutOff;
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
    const key = this.#keys.of(asStands);
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
}

/** Wires by number in order of their tags. */
export function orderByTag({ wires }: Pick<MachineSide, 'wires'>): number[] {
  return [...wires.keys()].sort((a, b) => (wires[a]!.tag < wires[b]!.tag ? -1 : 1));
}

/** What orders equal plans: their text, with the stand-ins, which sort as the names do. */
export function writePlanText(
  { wires }: Pick<MachineSide, 'wires'>, byTag: readonly number[], part: Pick<PartSide, 'standIns'>, to: ArrayLike<number>, jumpers: readonly Jumper[],
): string {
  const hung: string[] = [];
  const leftOff: string[] = [];
  for (const w of byTag) {
    const { tag } = wires[w]!;
    const place = to[w]!;
    if (place === LEFT_OFF) leftOff.push(tag);
    else hung.push(`${tag}>${part.standIns[place]!}`);
  }
  return JSON.stringify([hung, jumpers.map((jumper) => ({ from: standInOf(part, jumper.from), to: standInOf(part, jumper.to) })), leftOff]);
}

/** A jumper as the answer writes it. */
export function nameJumper(names: Pick<PartNames, 'nodes'>, jumper: Jumper): { from: string; to: string } {
  return { from: nameNode(names, jumper.from), to: jumper.to === CHASSIS ? 'chassis' : nameNode(names, jumper.to) };
}
