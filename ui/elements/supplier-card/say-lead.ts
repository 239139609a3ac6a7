import type { SupplierState } from '../../../catalog-schema/index.ts';
import { formatNumber } from '../../format.ts';
import { supplierWords } from '../../words/suppliers.ts';

/** What a supplier's deliveries taught, in one line. */
export function sayLead({ days, meanDays, sdDays }: SupplierState['lead']): string {
  const say = supplierWords;
  if (meanDays === null) return say.nothingKnown;
  return days.length === 0 ? say.notLearned(formatNumber(meanDays, 1)) : say.learned(days.length, formatNumber(meanDays, 1), formatNumber(sdDays ?? 0, 1));
}
