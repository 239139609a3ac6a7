import { CHASSIS, FIRST_PART_NODE, type MachineSide } from './machine-side.ts';
import type { PartSide } from './part-side.ts';
import { isDoomed, type Placement } from './placements.ts';
import { joinNets } from './trial-circuit.ts';

/** A jumper between two nodes, the textwise lower name first; chassis is always second. */
export interface Jumper {
  readonly from: number;
  readonly to: number;
}

/** How the case may stand to battery minus: one entry where it is known, else apart and joined. */
export type CaseWays = readonly ('apart' | 'joined')[];

/** Is the case joined to battery minus through the bracket and the panel? */
export function listCaseWays({ panelGrounded }: Pick<MachineSide, 'panelGrounded'>, { conductive }: Pick<PartSide, 'conductive'>): CaseWays {
  if (conductive === false || panelGrounded === false) return ['apart'];
  return conductive === true && panelGrounded === true ? ['joined'] : ['apart', 'joined'];
}

/** Called with up to two jumpers and the nets they make, which are overwritten afterwards; false stops the walk. */
export type JumperVisit = (first: Jumper | undefined, second: Jumper | undefined, nets: Uint8Array) => boolean;

const MOST_OPEN_BITS = 1 << 29;

/** The jumpers that may mend a placement: sets that cannot make it right, whatever the numbers of the part, are left out. */
export class JumperSets {
  readonly #machine: MachineSide;
  readonly #part: PartSide;
  readonly #ways: CaseWays;
  readonly #jumpers: readonly Jumper[];
  // Scratch nets: with one jumper and with two.
  readonly #withOne: Uint8Array;
  readonly #withTwo: Uint8Array;
  /** how many ends of elements each node has */
  readonly #ends: Uint8Array;
  /** bits of open coil ends by net, of the placement at hand */
  readonly #openBit: Int32Array;

  constructor(machine: MachineSide, part: PartSide, ways: CaseWays) {
    this.#machine = machine;
    this.#part = part;
    this.#ways = ways;
    this.#jumpers = listJumpers(part);
    this.#withOne = new Uint8Array(FIRST_PART_NODE + part.terminals.length + 1);
    this.#withTwo = this.#withOne.slice();
    this.#ends = countEnds(part);
    this.#openBit = new Int32Array(this.#withOne.length);
  }

  /** Every set of exactly `count` jumpers (0 to 2), in order of their text. */
  visit(placement: Placement, count: number, visit: JumperVisit): void {
    const open = this.#listOpenEnds(placement);
    if (count === 0) {
      if (open === 0) visit(undefined, undefined, placement.nets);
      return;
    }
    const jumpers = this.#jumpers;
    const nets = this.#withOne;
    const both = this.#withTwo;
    const base = placement.nets;
    const bitOf = this.#openBit;
    for (let i = 0; i < jumpers.length; i++) {
      const first = jumpers[i]!;
      if (base[first.from] === base[first.to]) continue;
      const left = open & ~(bitOf[base[first.from]!]! | bitOf[base[first.to]!]!);
      if (count === 1 && left !== 0) continue;
      // A jumper to a node that has neither element nor wire does nothing, unless another jumper goes on from there.
      const bare = this.#findBareEnd(placement, first);
      if (bare >= 0 && count === 1) continue;
      nets.set(base);
      joinNets(nets, first.from, first.to);
      if (this.#isDoomed(nets, placement.heavy)) continue;
      if (count === 1) {
        if (!visit(first, undefined, nets)) return;
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
        if (!visit(first, second, both)) return;
      }
    }
  }

  /** Doomed in every way of the case. */
  #isDoomed(nets: Uint8Array, heavy: number): boolean {
    return this.#ways.every((way) => isDoomed(this.#machine, this.#part, nets, heavy, way === 'apart'));
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
}

/** What stands for a terminal, the case or (last) the chassis. */
export function standInOf({ standIns }: Pick<PartSide, 'standIns'>, node: number): string {
  return node === CHASSIS ? standIns.at(-1)! : standIns[node - FIRST_PART_NODE]!;
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
