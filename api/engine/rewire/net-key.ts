import { BATTERY, CHASSIS, CRANKING_FEED, FIRST_PART_NODE, INTERLOCKED_RETURN, START_SWITCH, STARTER, type MachineSide } from './machine-side.ts';
import type { PartSide } from './part-side.ts';

/** Nets as a number or text, so that equal ones are solved once: what no element and no wire touches does not matter. */
export class NetKeys {
  readonly #relevant: readonly number[];
  readonly #isShort: boolean;
  readonly #netId: Uint8Array;

  constructor(machine: MachineSide, part: PartSide) {
    this.#relevant = listRelevantNodes(machine, part);
    this.#isShort = this.#relevant.length <= 13;
    this.#netId = new Uint8Array(FIRST_PART_NODE + part.terminals.length + 1);
  }

  of(nets: Uint8Array): number | string {
    const ids = this.#netId.fill(255);
    let next = 0;
    if (this.#isShort) {
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
}

function listRelevantNodes(machine: MachineSide, part: PartSide): number[] {
  const nodes = [CHASSIS, BATTERY, STARTER, START_SWITCH];
  if (machine.has.interlockedReturn) nodes.push(INTERLOCKED_RETURN);
  if (machine.has.crankingFeed) nodes.push(CRANKING_FEED);
  for (let node = FIRST_PART_NODE; node <= part.caseNode; node++) if (part.touched[node]) nodes.push(node);
  return nodes;
}
