import type { Command } from 'commander';
import { proveCaseSchema, readFaultShares, readInput, type ProveAnswer } from '../../catalog-schema/index.ts';
import { prove } from '../engine/index.ts';
import { takeJson } from './take-input.ts';
import { printJson, printSection, writeOut } from './tell.ts';

/** So many faults and tests are printed for a person; `--json` has them all. */
const FEW = 5;

export function addProveCommand(program: Command): void {
  program.command('prove <file>')
    .description('say which part of a cranking circuit failed, from what was seen and measured (- for standard input)')
    .option('--shares <file>', "how often each fault is found: numbers by fault, or the shop's as /api/prove/shares has them")
    .option('--json', 'print the answer as JSON')
    .action(async (file: string, options: { json?: boolean; shares?: string }) => {
      const crankCase = await takeJson(file, (value) => readInput(proveCaseSchema, value));
      const shares = options.shares === undefined ? undefined : await takeJson(options.shares, readFaultShares);
      const answer = prove(crankCase, shares && { shares });
      await writeOut(options.json ? printJson(answer) : printProof(answer));
    });
}

function printProof(answer: ProveAnswer): string {
  const verdict = answer.proven === null ? 'Nothing is proven yet.' : `Proven: ${answer.proven}.`;
  const pays = answer.orderable === null ? 'The evidence pays for no part.' : `The evidence pays for: ${answer.orderable}.`;
  const shares = answer.faults.slice(0, FEW).filter(({ probability }) => probability >= 0.001).map(({ fault, probability }) => `${(100 * probability).toFixed(1)} % ${fault}`);
  return [
    `${verdict} ${pays}\n`,
    printSection('How likely', shares),
    printSection('It hangs on', answer.carriedBy.map(({ path, why }) => `${path}: ${why}`)),
    printSection('Shown good', answer.cleared.length === 0 ? [] : [answer.cleared.join(', ')]),
    printSection('Does not agree', answer.conflicts.map(({ paths, why }) => `${paths.join(', ')}: ${why}`)),
    printSection('Test next', answer.nextTest.slice(0, FEW).map(({ test, why, risk }) => `${test}: ${why}${risk === 'high' ? '; RISKY' : ''}`)),
    printSection('How the first is done', answer.nextTest[0]?.how ?? []),
    printSection('What it would mean', (answer.nextTest[0]?.outcomes ?? []).map(sayOutcome)),
    printSection('Take care', [...answer.nextTest[0]?.cautions.filter((caution) => !answer.cautions.includes(caution)) ?? [], ...answer.cautions]),
    printSection('Taken for granted', answer.assumptions),
  ].join('');
}

function sayOutcome({ reads, chance, leaves }: ProveAnswer['nextTest'][number]['outcomes'][number]): string {
  return `${reads} (${Math.round(100 * chance)} % likely): ${leaves.filter(({ probability }) => probability >= 0.01).map(({ fault, probability }) => `${fault} ${Math.round(100 * probability)} %`).join(', ')}`;
}
