import type { BenchRecord } from '../../../catalog-schema/index.ts';
import type { CatalogueFacts } from '../../bench/fit/generate-catalogue.ts';
import { generateQuery } from '../../bench/fit/generate-query.ts';

/** A record of the bench's, half of them with room read by a tape: then a body can be in doubt on all three sides at once. */
export function drawRecord(seed: number, facts: CatalogueFacts): BenchRecord {
  const record = generateQuery(seed, facts);
  return record.space && seed % 2 === 1 ? { ...record, space: { ...record.space, plusMinusMm: seed % 4 === 1 ? 2 : 6 } } : record;
}
