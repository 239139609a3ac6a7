import { fit } from '../../api/engine/fit/index.ts';
import type { BenchRecord, FitAnswer } from '../../catalog-schema/index.ts';
import type { World } from './truth.ts';

/** The one place where the product is asked. */
export function askFit(record: BenchRecord, { catalogue, prices }: World, all = false): FitAnswer {
  return fit(record, catalogue, { prices, ...(all && { all: true }) });
}
