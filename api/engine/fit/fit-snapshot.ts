import type { BenchRecord, FitAnswer, Prices } from '../../../catalog-schema/index.ts';
import { compilePrices, createSlotJudge, slotOf, type PriceIndex, type SlotJudge } from '../retrieve/index.ts';
import { WiringMemory } from '../rewire/index.ts';
import type { Snapshot } from '../snapshot/index.ts';
import type { CatalogueSample } from './catalogue-sample.ts';
import { Candidates, type Candidate } from './candidates.ts';
import { evaluatePart } from './evaluate-part.ts';
import type { Evaluated } from './evaluated.ts';
import { gatesOf, type FitGates } from './gates-of.ts';
import { createMachine, type FitMachine, type FitOptions } from './machine.ts';
import { keepListed, orderFits } from './order-fits.ts';
import type { OrderKey } from './order-key.ts';
import { OrderHeap, type Placed } from './order-heap.ts';
import { Prospects } from './prospects.ts';
import { sampleSnapshot } from './snapshot-sample.ts';
import { writeAnswer } from './write-answer.ts';

/** A snapshot made ready for one price list, or for none; asked about many records. */
export interface IndexedCatalogue {
  readonly snapshot: Snapshot;
  readonly sample: CatalogueSample;
  readonly wirings: WiringMemory;
  readonly prices: Prices | undefined;
  readonly index: PriceIndex;
}

/** Makes a snapshot ready. Give what was made ready for other prices: what does not hang on prices is taken over from it. */
export function indexSnapshot(snapshot: Snapshot, prices: Prices | undefined, before?: IndexedCatalogue): IndexedCatalogue {
  const { sample, wirings } = before?.snapshot === snapshot ? before : { sample: sampleSnapshot(snapshot), wirings: new WiringMemory() };
  if (before?.snapshot !== snapshot) snapshot.parseOutsides();
  return { snapshot, sample, wirings, prices, index: compilePrices(snapshot, prices) };
}

/**
 * The answer of `fit` over the catalogue of a snapshot, to the last digit, for a part of its cost where only the first `most` are wanted:
 * a part is evaluated only while it can still be among them. Without `most` every part that no number puts out is evaluated; where parts that
 * will not do are wanted (`all`) and the others do not fill the list, every part.
 * @param options prices are those of `indexed`
 */
export function fitSnapshot(record: BenchRecord, indexed: IndexedCatalogue, options: Omit<FitOptions, 'prices'> = {}): FitAnswer {
  const { sample, wirings, prices, index } = indexed;
  const machine = createMachine(record, sample, { ...options, prices }, index.supply, wirings);
  return writeAnswer(machine, sample, list(machine, indexed));
}

function list(machine: FitMachine, indexed: IndexedCatalogue): Evaluated[] {
  const { most, only } = machine.options;
  if (most === undefined || only?.partIds || only?.verdicts?.includes('no')) return new Search(machine, indexed).listAll();
  // Whoever will not do comes after all others: only where these do not fill the list does anybody look at them.
  const first = new Search({ ...machine, all: false }, indexed).listFirst(most);
  return machine.all && first.length < most ? new Search(machine, indexed).listAll() : first;
}

/** A part at a stage of being looked at; a lower bound of its place until it was evaluated. */
type Contender = (Candidate & { readonly stage: Stage }) | (Settled & { readonly stage: 'evaluated' });
type Stage = 'drawn' | 'ended' | 'formed' | 'wired' | 'placed';
interface Settled extends Placed { readonly row: number; readonly evaluated: Evaluated }

class Search {
  readonly #machine: FitMachine;
  readonly #indexed: IndexedCatalogue;
  readonly #evaluated = new Map<number, Evaluated | undefined>();

  constructor(machine: FitMachine, indexed: IndexedCatalogue) {
    this.#machine = machine;
    this.#indexed = indexed;
  }

  /** Every part that may be listed, evaluated. */
  listAll(): Evaluated[] {
    const { snapshot, index } = this.#indexed;
    const { options } = this.#machine;
    const found: Evaluated[] = [];
    const add = (row: number): void => {
      const evaluated = this.evaluate(row);
      if (evaluated) found.push(evaluated);
    };
    if (options.only?.partIds) for (const row of this.#withSuccessors(options.only.partIds)) add(row);
    else if (this.#machine.all) for (let row = 0; row < snapshot.count; row++) add(row);
    else {
      const gates = gatesOf(this.#machine, snapshot);
      const judge = createSlotJudge(index, gates);
      const byNumber = new Map(gates.profiles.map((profile) => [profile.profile, profile]));
      for (const { profile, start, count } of index.partitions) {
        const gate = byNumber.get(profile);
        if (!gate) continue;
        for (let slot = start; slot < start + count; slot++) if (judge.judge(slot, gate) !== 'out') add(index.rows[slot]!);
      }
    }
    return keepListed(orderFits(found, (id) => this.#indexed.sample.findPart(id)?.supersededBy ?? []), options, this.#machine.cost?.supply);
  }

  /**
   * The first `most`, best first. The contender at hand is the one with the least bound; while its bound is one, it is looked at closer. Once it
   * was evaluated, its place is its own, and nobody else's bound is before it: so it is the next.
   */
  listFirst(most: number): Evaluated[] {
    const { snapshot, index } = this.#indexed;
    const gates = gatesOf(this.#machine, snapshot);
    const judge = createSlotJudge(index, gates);
    const prospects = new Prospects(this.#machine, index, gates, judge);
    const candidates = new Candidates(index, gates, prospects, this.#machine.cost !== undefined, judge);
    const heap = new OrderHeap<Contender>();
    const queue = new Succession(this, snapshot, heap, this.#createBar(gates, judge, prospects));
    // What the numbers and the shop's history say of a part is not in its columns.
    for (const id of [...this.#machine.numbers.keys(), ...this.#machine.learned.keys()]) {
      const row = snapshot.rowOf(id);
      if (row !== undefined) queue.force(row);
    }
    const listed: Evaluated[] = [];
    while (listed.length < most) {
      const { first } = heap;
      if (first ? candidates.isBefore(first) : !candidates.isAtEnd) {
        const drawn = candidates.draw();
        const ended = drawn && !queue.isForced(drawn.row) && this.#mayBeListed(drawn.row) ? this.#lookCloser({ ...drawn, stage: 'drawn' }, prospects) : undefined;
        if (ended) heap.push(ended);
        continue;
      }
      if (!first) break;
      heap.pop();
      if (first.stage === 'evaluated') {
        for (const next of queue.pass(first)) {
          if (listed.length < most) listed.push(...keepListed([next], { only: this.#machine.options.only }, this.#machine.cost?.supply));
        }
        continue;
      }
      const closer = this.#lookCloser(first, prospects);
      if (closer) heap.push(closer);
    }
    return listed;
  }

  /** Whether a row that was not evaluated may come to a place, as far as its bounds tell: to evaluate it costs ten times as much. */
  #createBar(gates: FitGates, judge: SlotJudge, prospects: Prospects): (row: number, key: OrderKey) => boolean {
    const { snapshot, index } = this.#indexed;
    const byNumber = new Map(gates.profiles.map((profile) => [profile.profile, profile]));
    return (row, key) => {
      if (this.#evaluated.has(row)) return true;
      const profile = byNumber.get(snapshot.profileAt(row));
      if (!profile) return false;
      const slot = slotOf(index, row);
      const fate = judge.judge(slot, profile);
      if (fate === 'out') return false;
      const doubt = fate === 'doubt' || profile.doubt;
      const isUpTo = (bound: OrderKey | undefined): boolean => bound !== undefined && bound <= key;
      return isUpTo(prospects.boundsOf(profile, doubt).keyAt(slot)) && isUpTo(prospects.closerKey(slot, profile, doubt, false))
        && isUpTo(prospects.closerKey(slot, profile, doubt, true)) && isUpTo(prospects.fullKey(slot, profile, false)) && isUpTo(prospects.fullKey(slot, profile, true));
    };
  }

  /** A contender at its next stage; undefined where it turned out not to do. */
  #lookCloser(contender: Exclude<Contender, { stage: 'evaluated' }>, prospects: Prospects): Contender | undefined {
    const { stage, slot, profile, doubt, row, rank } = contender;
    const at = (next: Stage, key: Placed['key'] | undefined): Contender | undefined => (key === undefined ? undefined : { ...contender, key: Math.max(key, contender.key), stage: next });
    switch (stage) {
      case 'drawn': return at('ended', prospects.closerKey(slot, profile, doubt, false));
      case 'ended': return at('formed', prospects.closerKey(slot, profile, doubt, true));
      case 'formed': return at('wired', prospects.fullKey(slot, profile, false));
      case 'wired': return at('placed', prospects.fullKey(slot, profile, true));
      case 'placed': {
        const evaluated = this.evaluate(row);
        return evaluated && { row, rank, key: evaluated.key, stage: 'evaluated', evaluated };
      }
      default: throw new Error(`stage ${String(stage satisfies never)} is not known`);
    }
  }

  evaluate(row: number): Evaluated | undefined {
    const { snapshot } = this.#indexed;
    if (!this.#evaluated.has(row)) this.#evaluated.set(row, evaluatePart(this.#machine, snapshot.partAt(row), snapshot.forms[row]!));
    return this.#evaluated.get(row);
  }

  /** Rows of parts and of all that stand behind them: among equals those have their say in the order. */
  #withSuccessors(ids: readonly string[]): Set<number> {
    const { snapshot } = this.#indexed;
    const rows = new Set<number>();
    const open = ids.flatMap((id) => snapshot.rowOf(id) ?? []);
    for (let row = open.pop(); row !== undefined; row = open.pop()) {
      if (rows.has(row)) continue;
      rows.add(row);
      open.push(...snapshot.successorsOf(row));
    }
    return rows;
  }

  /** Whether the filter lets a part through, as far as its id tells. */
  #mayBeListed(row: number): boolean {
    const { options: { only }, cost } = this.#machine;
    if (only?.onShelf !== true && only?.supplierId === undefined) return true;
    const id = this.#indexed.snapshot.idAt(row);
    return (only.onShelf !== true || (cost?.supply.freeOf(id) ?? 0) > 0) && (only.supplierId === undefined || cost?.supply.offers(id, only.supplierId) === true);
  }
}

/** Among equals a superseded part comes after its successors: it waits for those whose key is its own. */
class Succession {
  readonly #search: Search;
  readonly #snapshot: Snapshot;
  readonly #heap: OrderHeap<Contender>;
  readonly #mayComeTo: (row: number, key: OrderKey) => boolean;
  readonly #forced = new Set<number>();
  readonly #passed = new Set<number>();
  readonly #waiting: { readonly row: number; readonly rank: number; readonly evaluated: Evaluated; readonly successors: readonly number[] }[] = [];

  /** @param mayComeTo whether a row may come to a place, as far as is known without evaluating it */
  constructor(search: Search, snapshot: Snapshot, heap: OrderHeap<Contender>, mayComeTo: (row: number, key: OrderKey) => boolean) {
    this.#search = search;
    this.#mayComeTo = mayComeTo;
    this.#snapshot = snapshot;
    this.#heap = heap;
  }

  /** Evaluates a part at once; it is not to be drawn any more. */
  force(row: number): void {
    if (this.#forced.has(row)) return;
    this.#forced.add(row);
    const evaluated = this.#search.evaluate(row);
    if (evaluated) this.#heap.push({ row, rank: this.#snapshot.ranks[row]!, key: evaluated.key, stage: 'evaluated', evaluated });
  }

  isForced(row: number): boolean {
    return this.#forced.has(row);
  }

  /** Takes the next in order; answers with those that now come, which may be none, or others that waited for it. */
  pass({ row, rank, evaluated }: Settled): Evaluated[] {
    if (this.#passed.has(row) || this.#waiting.some((each) => each.row === row)) return [];
    const successors = this.#equalSuccessors(row, evaluated);
    if (successors.some((each) => !this.#passed.has(each))) {
      // A filter may have kept a successor from the heap: its place counts all the same.
      for (const each of successors) if (!this.#passed.has(each)) this.force(each);
      this.#waiting.push({ row, rank, evaluated, successors });
      return [];
    }
    this.#passed.add(row);
    const come = [evaluated];
    // The one whose id is first among those that wait for nobody any more, again and again.
    for (;;) {
      const free = this.#waiting.filter((each) => each.successors.every((successor) => this.#passed.has(successor))).toSorted((a, b) => a.rank - b.rank)[0];
      if (!free) return come;
      this.#waiting.splice(this.#waiting.indexOf(free), 1);
      this.#passed.add(free.row);
      come.push(free.evaluated);
    }
  }

  /** Successors at whatever distance that come to the same key. */
  #equalSuccessors(row: number, { key }: Evaluated): number[] {
    const found = new Set<number>();
    const open = this.#snapshot.successorsOf(row);
    for (let next = open.pop(); next !== undefined; next = open.pop()) {
      if (found.has(next) || next === row) continue;
      found.add(next);
      open.push(...this.#snapshot.successorsOf(next));
    }
    return [...found].filter((each) => {
      if (!this.#mayComeTo(each, key)) return false;
      const successor = this.#search.evaluate(each);
      return successor !== undefined && successor.key === key;
    });
  }
}
