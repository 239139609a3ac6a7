import type { BenchRecord, Catalogue, FitAnswer, Prices } from '../../../catalog-schema/index.ts';
import { createRewirer } from '../../../api/engine/rewire/index.ts';
import { sampleCatalogue } from '../../../api/engine/fit/catalogue-sample.ts';
import { createCoilMedian } from '../../../api/engine/fit/coil-median.ts';
import { evaluatePart } from '../../../api/engine/fit/evaluate-part.ts';
import type { Evaluated } from '../../../api/engine/fit/evaluated.ts';
import { createMachine, type FitOptions } from '../../../api/engine/fit/machine.ts';
import { PlacementFinder } from '../../../api/engine/fit/mounting.ts';
import { Notes } from '../../../api/engine/fit/finding.ts';
import { keepListed, orderFits } from '../../../api/engine/fit/order-fits.ts';
import { plainChecksFor } from '../../../api/engine/fit/plain-checks.ts';
import { writeAnswer } from '../../../api/engine/fit/write-answer.ts';
import { factsOf } from '../../../api/engine/part-facts.ts';

/** `fit` with nothing remembered from one part to the next: every part placed and wired by itself. */
export function fitWithoutMemory(record: BenchRecord, catalogue: Catalogue, options: FitOptions): FitAnswer {
  const sample = sampleCatalogue(catalogue);
  const machine = createMachine(record, sample, options);
  const findCoilOhm = createCoilMedian(() => sample.coilMedians);
  const evaluated = catalogue.flatMap((part): Evaluated[] => {
    const found = evaluatePart({ ...machine, placements: new PlacementFinder(record.mounting), rewirer: createRewirer(record, { findCoilOhm }) }, part);
    return found ? [found] : [];
  });
  const ordered = orderFits(evaluated, (id) => sample.findPart(id)?.supersededBy ?? []);
  return writeAnswer(machine, sample, keepListed(ordered, options, machine.cost?.supply));
}

/** Where two answers first differ, in words; undefined where they are the same to the last digit. */
export function findDifference(expected: FitAnswer, found: FitAnswer): string | undefined {
  if (JSON.stringify(expected) === JSON.stringify(found)) return undefined;
  const at = expected.fits.findIndex((fit, index) => JSON.stringify(fit) !== JSON.stringify(found.fits[index]));
  const place = at < 0 ? expected.fits.length : at;
  const [wanted, got] = [expected.fits[place], found.fits[place]];
  if (!wanted && !got) return `besides the fits: ${JSON.stringify({ ...expected, fits: [] })} against ${JSON.stringify({ ...found, fits: [] })}`;
  return `fit ${place}: ${describe(wanted)} against ${describe(got)}`;
}

function describe(fit: FitAnswer['fits'][number] | undefined): string {
  return fit ? `${fit.partId} ${fit.verdict} ${fit.fitProbability} ${fit.expectedCost?.total ?? 'unpriced'} ${fit.minutes} min` : 'nothing';
}

/** Options a case is asked with, by its seed: with and without prices, filters, history, few and many wanted. */
export function drawOptions(seed: number, catalogue: Catalogue, prices: Prices): FitOptions {
  const some = catalogue.filter((_, index) => index % 97 === seed % 97);
  return {
    most: [20, 20, 5, 1, 50][seed % 5]!,
    ...(seed % 4 === 3 ? {} : { prices }),
    ...(seed % 7 === 2 ? { only: { onShelf: true } } : seed % 7 === 4 ? { only: { supplierId: prices.suppliers[seed % prices.suppliers.length]!.id } }
      : seed % 7 === 6 ? { only: { verdicts: seed % 2 === 0 ? ['unproven' as const] : ['direct' as const] } } : {}),
    ...(seed % 6 === 1 ? { machineKind: 'ride-on', history: some.map(({ id }, index) => ({ partId: id, held: index % 5, cameBack: (index + 1) % 3, ...(index % 2 === 0 ? { machineKind: 'ride-on' } : {}) })) } : {}),
  };
}

/** Parts that come as far as their placement and wiring, evaluated by a machine that remembers others and by one that knows none; `most` of them. */
export function* compareMemory(record: BenchRecord, catalogue: Catalogue, most: number): Generator<{ id: string; difference: string | undefined }> {
  const sample = sampleCatalogue(catalogue);
  const machine = createMachine(record, sample, {});
  const findCoilOhm = createCoilMedian(() => sample.coilMedians);
  let given = 0;
  for (const part of catalogue) {
    const facts = factsOf(part);
    if (given >= most || plainChecksFor(machine.starter).some((check) => check(record, part, facts, new Notes())?.outcome === 'fail')) continue;
    given++;
    const remembering = evaluatePart(machine, part);
    const alone = evaluatePart({ ...machine, placements: new PlacementFinder(record.mounting), rewirer: createRewirer(record, { findCoilOhm }) }, part);
    const [expected, found] = [alone, remembering].map((each) => each && JSON.stringify([each.fit, each.key, [...each.notes.assumptions], [...each.notes.cautions]]));
    yield { id: part.id, difference: expected === found ? undefined : `${expected} against ${found}` };
  }
}
