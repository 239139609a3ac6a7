import { fit } from '../../api/engine/index.ts';
import type { BenchRecord, Catalogue, Check, Criterion, Fit, Part } from '../../catalog-schema/index.ts';

/** What was asked already, in the record's own words: a trap and its safe twins are asked of one record. */
const answered = new WeakMap<Catalogue, Map<string, readonly Fit[]>>();

/** What `fit` says of one part of a catalogue, refused or not. */
export function judge(record: BenchRecord, catalogue: Catalogue, partId: string): Fit {
  let ofRecords = answered.get(catalogue);
  if (!ofRecords) answered.set(catalogue, ofRecords = new Map());
  const key = JSON.stringify(record);
  let fits = ofRecords.get(key);
  if (!fits) ofRecords.set(key, fits = fit(record, catalogue, { all: true }).fits);
  const found = fits.find((entry) => entry.partId === partId);
  if (!found) throw new Error(`fit left out ${partId}`);
  return found;
}

/** What `fit` says of one part that stands alone in its catalogue. */
export function judgePart(record: BenchRecord, part: Part): Fit {
  return judge(record, [part], part.id);
}

export function checkOf(entry: Fit, criterion: Criterion): Check {
  const found = entry.checks.find((check) => check.criterion === criterion);
  if (!found) throw new Error(`${entry.partId} has no check ${criterion}: ${entry.checks.map((check) => check.criterion).join(', ')}`);
  return found;
}

export function failedOf(entry: Fit): Criterion[] {
  return entry.checks.filter((check) => check.outcome === 'fail').map((check) => check.criterion);
}
