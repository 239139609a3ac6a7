import { parseArgs } from 'node:util';
import type { FitAnswer, Part, Prices } from '../../../catalog-schema/index.ts';
import { evaluatePart } from '../../../api/engine/fit/evaluate-part.ts';
import type { Evaluated } from '../../../api/engine/fit/evaluated.ts';
import { fit, fitSnapshot, indexSnapshot, type IndexedCatalogue } from '../../../api/engine/fit/index.ts';
import { createMachine } from '../../../api/engine/fit/machine.ts';
import { keepListed, orderFits } from '../../../api/engine/fit/order-fits.ts';
import { writeAnswer } from '../../../api/engine/fit/write-answer.ts';
import { createSnapshotWriter, openSnapshot } from '../../../api/engine/snapshot/index.ts';
import { generateParts, type CatalogueFacts } from '../../bench/fit/generate-catalogue.ts';
import { generatePrices } from '../../bench/fit/generate-prices.ts';
import { drawRecord } from './draw-record.ts';
import { compareMemory, drawOptions, findDifference, fitWithoutMemory } from './compare-fits.ts';

// The indexed matcher against the plain one, answer for answer, on catalogues and records of held-out seeds. Any difference is printed and
// makes the exit code 1. `--only` takes one of: memory, small, large, huge.

const { values } = parseArgs({
  options: { only: { type: 'string', default: 'memory,small,large,huge' }, seed: { type: 'string', default: '700' }, first: { type: 'string', default: '0' }, queries: { type: 'string' } },
});
const seed = Number(values.seed);
const first = Number(values.first);
let differences = 0;

const parts = new Set(values.only.split(','));
if (parts.has('memory')) sweepMemory();
if (parts.has('small')) sweepSmall();
if (parts.has('large')) sweepLarge();
if (parts.has('huge')) sweepHuge();
process.exitCode = differences > 0 ? 1 : 0;

/** One part after the other with what was remembered, against each by itself. */
function sweepMemory(): void {
  const cases = Number(values.queries ?? 2000);
  let done = 0;
  for (let world = 0; done < cases; world++) {
    const facts: CatalogueFacts = { count: 400, seed: seed + world, unfriendly: world % 4 === 3 };
    const catalogue = [...generateParts(facts)];
    for (let query = 0; query < 5 && done < cases; query++) {
      for (const { id, difference } of compareMemory(drawRecord(seed * 1000 + world * 5 + query, facts), catalogue, cases - done)) {
        done++;
        report(`memory, world ${world}, query ${query}, part ${id}`, difference);
      }
    }
  }
  say(`${done} parts placed and wired with what was remembered of others, and alone`);
}

/** 1,000 parts, nothing remembered by the plain matcher, every option. */
function sweepSmall(): void {
  const queries = Number(values.queries ?? 200);
  for (const unfriendly of [false, true]) {
    const { catalogue, prices, priced, unpriced, facts } = openWorld({ count: 1000, seed: seed + 1, unfriendly });
    for (let query = first; query < first + queries / 2; query++) {
      const { prices: given, ...options } = drawOptions(query, catalogue, prices);
      const record = drawRecord(seed * 2000 + query, facts);
      report(`1,000 parts, unfriendly ${unfriendly}, query ${query}`, findDifference(fitWithoutMemory(record, catalogue, { ...options, prices: given }), fitSnapshot(record, given ? priced : unpriced, options)));
    }
  }
  say(`${queries} records over 1,000 parts, nothing remembered`);
}

/** 100,000 parts, with memory. */
function sweepLarge(): void {
  const queries = Number(values.queries ?? 200);
  const { catalogue, prices, priced, facts } = openWorld({ count: 100_000, seed: seed + 2 });
  for (let query = first; query < first + queries; query++) {
    const record = drawRecord(seed * 3000 + query, facts);
    report(`100,000 parts, query ${query}`, findDifference(fit(record, catalogue, { prices, most: 20 }), fitSnapshot(record, priced, { most: 20 })));
  }
  say(`${queries} records over 100,000 parts`);
}

/** A million parts: the plain matcher takes them one by one and keeps those that can still be listed. */
function sweepHuge(): void {
  const queries = Number(values.queries ?? 20);
  const facts: CatalogueFacts = { count: 1_000_000, seed: seed + 3 };
  const writer = createSnapshotWriter();
  for (const part of generateParts(facts)) writer.add(part);
  const prices = generatePrices(generateParts(facts), { seed: facts.seed });
  const indexed = openIndexed(writer.finish(), prices);
  for (let query = first; query < first + queries; query++) {
    const record = drawRecord(seed * 4000 + query, facts);
    report(`1,000,000 parts, query ${query}`, findDifference(fitOneByOne(record, indexed, 20), fitSnapshot(record, indexed, { most: 20 })));
  }
  say(`${queries} records over 1,000,000 parts`);
}

/** The plain matcher over parts that do not all fit into memory with what is found out about them: the worst are dropped as better ones come. */
function fitOneByOne(record: Parameters<typeof fit>[0], { snapshot, sample, prices, index }: IndexedCatalogue, most: number): FitAnswer {
  const machine = createMachine(record, sample, { prices, most }, index.supply);
  let kept: Evaluated[] = [];
  const cut = (): void => {
    // Equals of the last that is listed stay: their order is made out at the end.
    const sorted = kept.toSorted((a, b) => a.key - b.key);
    const last = sorted[most - 1];
    kept = last ? sorted.filter((each) => each.key <= last.key) : sorted;
  };
  for (let row = 0; row < snapshot.count; row++) {
    const found = evaluatePart(machine, snapshot.partAt(row));
    if (found) kept.push(found);
    if (kept.length > 5000) cut();
  }
  cut();
  return writeAnswer(machine, sample, keepListed(orderFits(kept, (id) => sample.findPart(id)?.supersededBy ?? []), { most }, machine.cost?.supply));
}

function openWorld(facts: CatalogueFacts): { facts: CatalogueFacts; catalogue: Part[]; prices: Prices; priced: IndexedCatalogue; unpriced: IndexedCatalogue } {
  const catalogue = [...generateParts(facts)];
  const prices = generatePrices(catalogue, { seed: facts.seed, unfriendly: facts.unfriendly === true });
  const writer = createSnapshotWriter();
  for (const part of catalogue) writer.add(part);
  const priced = openIndexed(writer.finish(), prices);
  return { facts, catalogue, prices, priced, unpriced: indexSnapshot(priced.snapshot, undefined, priced) };
}

function openIndexed(bytes: ArrayBuffer, prices: Prices): IndexedCatalogue {
  const opened = openSnapshot(bytes);
  if (!opened.ok) throw new Error('the snapshot does not open');
  return indexSnapshot(opened.value, prices);
}

function report(name: string, difference: string | undefined): void {
  if (difference === undefined) return;
  differences++;
  process.stdout.write(`DIFFERS ${name}: ${difference}\n`);
}

function say(what: string): void {
  process.stdout.write(`sweep:fit seed ${seed}: ${what}; ${differences} differences so far\n`);
}
