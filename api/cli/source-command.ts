import type { Command } from 'commander';
import { InvalidArgumentError } from 'commander';
import { minorDigitsOf, needSchema, readInput, type OtherPlan, type SourceAnswer } from '../../catalog-schema/index.ts';
import { planOrders } from '../engine/index.ts';
import { takeJson } from './take-input.ts';
import { printJson, printSection, writeOut } from './tell.ts';

export function addSourceCommand(program: Command): void {
  program.command('source <file>')
    .description('plan what comes from the shelf and what is ordered where, for all needs together at the least cost (- for standard input)')
    .option('--seconds <n>', 'how long the answer may take', readSeconds, 15)
    .option('--json', 'print the answer as JSON')
    .action(async (file: string, options: { seconds: number; json?: boolean }) => {
      const need = await takeJson(file, (value) => readInput(needSchema, value));
      // The services bring the database along, which no other part of this command needs.
      const { openSolver } = await import('../services/index.ts');
      const began = performance.now();
      const answer = planOrders(need, await openSolver(), { seconds: options.seconds, elapsed: () => (performance.now() - began) / 1000 });
      await writeOut(options.json ? printJson(answer) : printSource(answer, need.currency));
    });
}

function readSeconds(words: string): number {
  const read = Number(words);
  if (!(read > 0) || read > 3600) throw new InvalidArgumentError('want a number of seconds above 0, at most 3600');
  return read;
}

const STATUS: Record<SourceAnswer['status'], string> = {
  optimal: 'No plan costs less.', feasible: 'A cheaper plan was not ruled out.', infeasible: 'Not everything can be had.',
};

function printSource(answer: SourceAnswer, currency: string): string {
  const late = (days: number): string => (days === 0 ? '' : days === 1 ? ', 1 day late' : `, ${days} days late`);
  return [
    `${STATUS[answer.status]} Total ${answer.total} ${currency}${answer.bound < answer.total ? `, at least ${answer.bound}` : ''}.\n`,
    printSection('Who gets what', answer.fills.map((fill) => (
      `${fill.needId}: ${fill.qty} x ${fill.partId} from ${fill.from === 'shelf' ? 'the shelf' : fill.from}, here ${fill.arrives}${late(fill.daysLate)}`))),
    ...answer.orders.map((order) => printSection(
      `Order from ${order.supplierId}: goods ${order.goods}, freight ${order.freight} ${currency}`,
      order.lines.map((line) => `${line.qty} x ${line.partId} at ${line.unitPrice}`))),
    printSection('Why', (answer.choices ?? []).map(({ needId, why }) => `${needId}: ${why}`)),
    printSection('Other plans', (answer.others ?? []).map((other) => printOther(other, currency))),
    printSection('Stays open', answer.unmet.map(({ needId, why }) => `${needId}: ${why}`)),
    printSection('Take care', answer.cautions),
    printSection('Taken for granted', answer.assumptions),
  ].join('');
}

const OTHER: Record<OtherPlan['which'], string> = { 'shelf-only': 'All from the shelf', fastest: 'As early as can be', 'fewest-orders': 'Fewest orders' };

function printOther({ which, plan, more, proven, why }: OtherPlan, currency: string): string {
  if (plan === null || more === null) return `${OTHER[which]}: none. ${why}`;
  const last = plan.fills.map(({ arrives }) => arrives).toSorted().at(-1);
  const orders = plan.orders.length === 1 ? '1 order' : `${plan.orders.length} orders`;
  const price = more === 0 ? 'the same total' : `${Math.abs(more).toFixed(minorDigitsOf(currency))} ${currency} ${more > 0 ? 'more' : 'less'}`;
  return `${OTHER[which]}: ${price}, ${orders}${last === undefined ? '' : `, all here ${last}`}${proven ? '' : ` (a cheaper one was not ruled out: at least ${plan.bound} ${currency})`}`;
}
