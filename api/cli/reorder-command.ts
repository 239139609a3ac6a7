import type { Command } from 'commander';
import { readReorder, type ReorderAnswer, type ReorderRow } from '../../catalog-schema/index.ts';
import { planReorder } from '../engine/index.ts';
import { takeJson } from './take-input.ts';
import { printJson, printSection, writeOut } from './tell.ts';

export function addReorderCommand(program: Command): void {
  program.command('reorder <file>')
    .description('when each part of the shelf is to be ordered again and how many, from what was wanted of it; which orders are worth topping up (- for standard input)')
    .option('--json', 'print the answer as JSON')
    .action(async (file: string, options: { json?: boolean }) => {
      const ask = await takeJson(file, readReorder);
      // The services bring the database along, which no other part of this command needs.
      const { openSolver } = await import('../services/index.ts');
      const answer = planReorder(ask, await openSolver());
      await writeOut(options.json ? printJson(answer) : printReorder(answer, ask.currency));
    });
}

function printReorder(answer: ReorderAnswer, currency: string): string {
  const line = (row: ReorderRow): string => `${row.partId}: ${row.order > 0 ? `order ${row.order}; ` : ''}${row.position} free or on order, again at ${row.reorderAt}, up to ${row.orderUpTo}; `
    + `${row.perYear.toFixed(1)} a year (${row.model === 'poisson' ? 'Poisson' : `negative binomial, dispersion ${row.dispersion.toFixed(2)}`}), lead ${row.lead.meanDays.toFixed(1)} +/- ${row.lead.sdDays.toFixed(1)} days, `
    + `${(100 * row.service).toFixed(1)} % served at once${row.pooled.length === 0 ? '' : `; stands for ${row.pooled.map((other) => other.partId).join(', ')}`}`;
  return [
    printSection('To order', answer.rows.filter((row) => row.order > 0).map(line)),
    printSection('Enough there', answer.rows.filter((row) => row.order === 0).map(line)),
    printSection('Worth topping up to free freight', answer.topUps.map((top) => (
      `${top.supplierId}: add ${top.add.map(({ qty, partId }) => `${qty} x ${partId}`).join(', ')}; saves ${top.freight} freight for ${top.holding} of keeping: ${top.saves} ${currency} less`))),
    printSection('Not worth it', answer.notToppedUp.map(({ supplierId, why }) => `${supplierId}: ${why}`)),
    printSection('Take care', answer.cautions),
    printSection('Taken for granted', answer.assumptions),
  ].join('');
}
