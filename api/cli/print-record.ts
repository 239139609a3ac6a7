import type { CustomerRecord } from '../../catalog-schema/index.ts';
import { listSections, RECORD_WORDS as words } from '../engine/record/index.ts';
import { sayMoment } from './print-as-left.ts';

/** The customer's page for a terminal. */
export function printRecord(record: CustomerRecord): string {
  const head = `${words.title}: ${[record.title, record.machine, record.customer].filter((line) => line !== null).join(' · ')}\n`;
  return head + listSections(record, sayMoment).map(({ title, lines, table }) =>
    `${title}\n${lines.map((line) => `  ${line}\n`).join('')}${table.map(({ what, showed }) => `  - ${what}: ${showed}\n`).join('')}`).join('');
}
