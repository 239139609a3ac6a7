import type { Command } from 'commander';
import { InvalidArgumentError } from 'commander';
import { needSchema, readInput, type SourceAnswer } from '../../catalog-schema/index.ts';
import { planOrders } from '../engine/index.ts';
import { takeJson } from './take-input.ts';
import { printJson, printSection, writeOut } from './tell.ts';

export function addSourceCommand(program: Command): void {
  program.command('source <file>')
    .description('plan what comes from the shelf and what is ordered where, for all needs together at the least cost (- for standard input)')
    .option('--seconds <n>', 'how long to look for the least cost', readSeconds, 15)
    .option('--json', 'print the answer as JSON')
    .action(async (file: string, options: { seconds: number; json?: boolean }) => {
      const need = await takeJson(file, (value) => readInput(needSchema, value));
      // The services bring the database along, which no other part of this command needs.
      const { openSolver } = await import('../services/index.ts');
      const answer = planOrders(need, await openSolver(), { seconds: options.seconds });
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
    printSection('Stays open', answer.unmet.map(({ needId, why }) => `${needId}: ${why}`)),
    printSection('Take care', answer.cautions),
    printSection('Taken for granted', answer.assumptions),
  ].join('');
}
