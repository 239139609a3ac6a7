import type { FitAnswer, Part } from '../../../catalog-schema/index.ts';
import type { CatalogueSample } from './catalogue-sample.ts';
import { listCautions } from './cautions.ts';
import { evaluatePart } from './evaluate-part.ts';
import type { Evaluated } from './evaluated.ts';
import { noteCost } from './expected-cost.ts';
import { Notes } from './finding.ts';
import type { FitMachine } from './machine.ts';
import { describeMarkedNumbers } from './marked-number.ts';
import { rankReadings } from './measure-next.ts';

/** Puts what was found into the answer's words; readings, cautions and assumptions speak of the listed fits. */
export function writeAnswer(machine: FitMachine, sample: CatalogueSample, listed: readonly Evaluated[]): FitAnswer {
  const { record, cost } = machine;
  const notes = new Notes();
  for (const each of listed) {
    for (const line of each.notes.assumptions) notes.assume(line);
    // What there is to beware of in a refused part stands in its checks; here it would drown what applies.
    if (each.fit.verdict !== 'no') for (const line of each.notes.cautions) notes.caution(line);
  }
  noteWork(notes, listed);
  if (cost && listed.length > 0) noteCost(cost, notes);
  noteFilter(machine, notes);
  const everyCheck: FitMachine = { ...machine, all: true };
  describeMarkedNumbers(record, sample, (part: Part) => evaluatePart(everyCheck, part)!.fit, notes);
  const { readings, unit } = rankReadings(machine, listed, notes);
  return {
    considered: sample.count,
    fits: listed.map(({ fit }) => fit),
    measureNext: readings,
    worthUnit: unit,
    cautions: [...new Set([...notes.cautions, ...listCautions(record, listed)])],
    assumptions: [...notes.assumptions],
  };
}

function noteWork(notes: Notes, listed: readonly Evaluated[]): void {
  if (!listed.some(({ fit }) => (fit.minutes ?? 0) > 0)) return;
  for (const name of ['moveWireMinutes', 'newEndMinutes', 'jumperMinutes', 'leaveOffMinutes', 'newHoleMinutes', 'turnOverMinutes'] as const) notes.use(name);
}

/** A filter that asks for prices finds nothing without them: that is said, so that an empty list is not taken for an answer. */
function noteFilter({ options: { only }, cost }: FitMachine, notes: Notes): void {
  if (!cost && (only?.onShelf === true || only?.supplierId !== undefined)) {
    notes.assume('no prices are given, so no part is known to be on the shelf or offered by a supplier');
  }
}
