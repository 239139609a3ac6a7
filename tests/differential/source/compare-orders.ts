import type { Need, SourceAnswer } from '../../../catalog-schema/index.ts';
import { orderPlainly, type PlainOrders } from './plain-orders.ts';

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
  for (const { which, plan: other, proven } of answer.others ?? []) {
    const wanted = which === 'shelf-only' ? plain.shelfOnly : which === 'fastest' ? plain.fastest.total : plain.fewest.total;
    const found = other === null ? Number.POSITIVE_INFINITY : Math.round(other.total * 10_000);
    if (found !== wanted) differences.push(`${which} ${found / 10_000}, plainly ${wanted / 10_000}`);
    if (!proven && other !== null) differences.push(`${which} not proven`);
  }
  if (answer.choices) differences.push(...compareChoices(need, answer, plain.open, plain.total));
  return differences;
}

/** Each figure of the explanation against the plain totals of two problems: the one asked, and the one that the sentence speaks of. */
function compareChoices(need: Need, answer: SourceAnswer, open: number, total: number): string[] {
  const differences: string[] = [];
  const say = (what: string, found: number, plain: PlainOrders, sign: 1 | -1): void => {
    const wanted = plain.open > open ? undefined : sign * (plain.total - total) / 10_000;
    if (wanted === undefined || Math.abs(found - wanted) > 1e-6) differences.push(`${what} ${found}, plainly ${wanted}`);
  };
  for (const { needId, instead, later, sooner } of answer.choices ?? []) {
    const mine = answer.fills.filter((fill) => fill.needId === needId);
    if (later) {
      const moved = (day: string): string => new Date(Date.parse(day) + later.days * 86_400_000).toISOString().slice(0, 10);
      say(`${needId} later`, later.saves, orderPlainly({ ...need, needs: need.needs.map((each) => (each.id === needId ? { ...each, by: moved(each.by) } : each)) }), -1);
    }
    const elsewhere = (id: string, partId: string, from: string): boolean => id !== needId || !mine.some((fill) => fill.partId === partId && fill.from === from);
    if (instead) say(`${needId} instead`, instead.more, orderPlainly(need, elsewhere), 1);
    const lead = (Date.parse(mine.map((fill) => fill.arrives).toSorted().at(-1)!) - Date.parse(need.today)) / 86_400_000;
    if (sooner) say(`${needId} sooner`, sooner.more, orderPlainly(need, (id, _part, _from, leadDays) => id !== needId || leadDays < lead), 1);
  }
  return differences;
}
