import type { BenchRecord, Catalogue, FitAnswer } from '../../../catalog-schema/index.ts';
import { sampleCatalogue } from './catalogue-sample.ts';
import { evaluatePart } from './evaluate-part.ts';
import type { Evaluated } from './evaluated.ts';
import { createMachine, type FitOptions } from './machine.ts';
import { keepListed, orderFits } from './order-fits.ts';
import { writeAnswer } from './write-answer.ts';

/**
 * Compares every part of the catalogue with what the machine asks for, best first.
 * A removed starter motor is compared with starters, anything else with relays: `considered` counts all parts.
 * Without `all` a part is dropped at its first failed check; cheap checks come first, so few parts are ever wired.
 * Cost: about 0.05 ms a part that fails early; one wiring for each distinct circuit that does not.
 * @throws never on a record, a catalogue and options that read
 */
export function fit(record: BenchRecord, catalogue: Catalogue, options: FitOptions = {}): FitAnswer {
  const sample = sampleCatalogue(catalogue);
  const machine = createMachine(record, sample, options);
  const evaluated = catalogue.flatMap((part): Evaluated[] => {
    const found = evaluatePart(machine, part);
    return found ? [found] : [];
  });
  const ordered = orderFits(evaluated, (id) => sample.findPart(id)?.supersededBy ?? []);
  return writeAnswer(machine, sample, keepListed(ordered, options, machine.cost?.supply));
}
