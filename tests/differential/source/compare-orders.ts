import type { Need, SourceAnswer } from '../../../catalog-schema/index.ts';
import { orderPlainly } from './plain-orders.ts';

/** Where the answer and the plain search differ, and where the answer's own lines do not add up to its total; none when all is well. */
export function compareOrders(need: Need, answer: SourceAnswer): string[] {
  const plain = orderPlainly(need);
  const units = need.needs.reduce((sum, { qty }) => sum + qty, 0);
  const open = units - answer.fills.reduce((sum, { qty }) => sum + qty, 0);
  const differences: string[] = [];
  if (open !== plain.open) differences.push(`${open} units stay open, plainly ${plain.open}`);
  if (Math.round(answer.total * 10_000) !== plain.total) differences.push(`total ${answer.total}, plainly ${plain.total / 10_000}`);
  if (answer.status !== (plain.open > 0 ? 'infeasible' : 'optimal')) differences.push(`status ${answer.status} with ${plain.open} open`);
  if (answer.bound !== answer.total) differences.push(`bound ${answer.bound} beside total ${answer.total}`);
  return differences;
}
