import { judgeFinding } from './evaluate-part.ts';
import { kitPriceOf } from './expected-cost.ts';
import { UNHEARD, type Finding, type Judged } from './finding.ts';
import { LeastEnds, leastJumpers } from './least-work.ts';
import type { FitMachine } from './machine.ts';
import { checkStud } from './stud.ts';
import { checkTab } from './tab.ts';
import { checkInterlock, checkPolarity, checkWiring } from './wiring.ts';
import { factsOf } from '../part-facts.ts';
import type { Snapshot } from '../snapshot/index.ts';

/** Work that a part asks for at least, and the price of what it takes. */
export interface LeastWork {
  readonly minutes: number;
  readonly kitPrice: number;
  /** false where a part may be listed in doubt without it, since the search for its wiring was cut off */
  readonly isSure: boolean;
}

/** What follows from the wiring of parts that are alike in it. */
export interface Wired {
  readonly findings: readonly Judged[];
}

const NO_WORK: LeastWork = { minutes: 0, kitPrice: 0, isSure: true };

/** Wiring, interlock, polarity, studs and tabs of a catalogue's parts on one machine, each found once for all parts that are alike in it. */
export class WiringProspects {
  readonly #machine: FitMachine;
  readonly #snapshot: Snapshot;
  readonly #isTraced: boolean;
  readonly #leastEnds: LeastEnds;
  readonly #priceOf: (item: string) => number;
  readonly #least = new Map<number, LeastWork | null>();
  readonly #wired = new Map<number, Wired | null>();

  constructor(machine: FitMachine, snapshot: Snapshot, isTraced: boolean) {
    this.#machine = machine;
    this.#snapshot = snapshot;
    this.#isTraced = isTraced;
    const { cost } = machine;
    this.#priceOf = (item) => (cost ? kitPriceOf(cost, item) : 0);
    this.#leastEnds = new LeastEnds(machine.record, (items) => items.reduce((least, item) => (this.#priceOf(item) < this.#priceOf(least) ? item : least)));
  }

  /** The least work of the row's form of wiring, where it was found out before; null where no wiring of that form does. */
  knownLeast(row: number): LeastWork | null | undefined {
    return this.#isTraced ? this.#least.get(this.#formOf(row)) : NO_WORK;
  }

  leastOf(row: number, profile: number): LeastWork | null {
    if (!this.#isTraced) return NO_WORK;
    const form = this.#formOf(row);
    let least = this.#least.get(form);
    if (least === undefined) this.#least.set(form, least = this.#findLeast(row, profile));
    return least;
  }

  /** What follows from the wiring of a row; null where it fails. */
  wire(row: number): Wired | null {
    const { circuits, terminals, terminalLists } = this.#snapshot;
    const alike = circuits[row]! * terminalLists + terminals[row]!;
    let known = this.#wired.get(alike);
    if (known === undefined) this.#wired.set(alike, known = this.#findWired(row));
    return known;
  }

  /** The form on the row's terminals: what a plan for it asks for hangs on nothing else. */
  #formOf(row: number): number {
    const { forms, terminals, terminalLists } = this.#snapshot;
    return forms[row]! * terminalLists + terminals[row]!;
  }

  #findLeast(row: number, profile: number): LeastWork {
    const jumpers = leastJumpers(this.#machine.record, this.#snapshot.exampleOf(profile).part);
    const ends = this.#leastEnds.of(this.#snapshot.terminalsAt(row));
    return {
      minutes: jumpers.minutes + ends.minutes, isSure: false,
      kitPrice: [...jumpers.kit, ...ends.kit].reduce((sum, { item, qty }) => sum + qty * this.#priceOf(item), 0),
    };
  }

  #findWired(row: number): Wired | null {
    const machine = this.#machine;
    const { record } = machine;
    const part = this.#snapshot.outerAt(row);
    const facts = factsOf(part);
    const found: (Finding | null)[] = [];
    const isWired = !machine.starter || (facts.coils.length > 0 && part.partClass === 'starter-motor');
    const hasWires = (record.wires ?? []).length > 0;
    if (isWired && hasWires && machine.rewirer.isRefused(part)) return null;
    const first = isWired && hasWires ? machine.rewirer.findFirstPlan(part) : null;
    if (isWired) found.push(checkWiring(record, part, first), checkInterlock(record, first), facts.hasDiode ? checkPolarity(record, first) : null);
    if (found.some((finding) => finding?.outcome === 'fail')) return null;
    found.push(checkStud(record, part, first?.plan ?? null, UNHEARD), checkTab(record, part, first?.plan ?? null, UNHEARD));
    if (found.some((finding) => finding?.outcome === 'fail')) return null;
    // None of these is counted over a class: they follow from the wiring.
    return { findings: found.flatMap((finding) => (finding ? [judgeFinding(machine, part, finding, neverAsked, UNHEARD)] : [])) };
  }
}

function neverAsked(): never {
  throw new Error('what follows from the wiring is not counted over a class');
}
