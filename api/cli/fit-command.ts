import type { Command } from 'commander';
import { benchRecordSchema, pricesSchema, readInput, type Catalogue, type Fit, type FitAnswer, type Verdict } from '../../catalog-schema/index.ts';
import { fit } from '../engine/index.ts';
import { printPlan } from './rewire-command.ts';
import { takeCatalogue, takeJson } from './take-input.ts';
import { printJson, printSection, writeOut } from './tell.ts';

export function addFitCommand(program: Command): void {
  program.command('fit <file>')
    .description('find what fits in the place of a removed part, from its bench record (- for standard input)')
    .option('--catalog <path>', 'a JSON array of parts, JSON Lines, or a folder laid out as demo-catalog/ (the demo if left out)')
    .option('--prices <file>', 'shelf, suppliers and offers, to rank by cost')
    .option('--all', 'also list the parts that will not do, with the reason')
    .option('--json', 'print the answer as JSON')
    .action(async (file: string, options: { catalog?: string; prices?: string; all?: boolean; json?: boolean }) => {
      const record = await takeJson(file, (value) => readInput(benchRecordSchema, value));
      const catalogue = takeCatalogue(options.catalog);
      const prices = options.prices === undefined ? undefined
        : await takeJson(options.prices, (value) => readInput(pricesSchema, value));
      const answer = fit(record, catalogue, { prices, all: options.all === true });
      await writeOut(options.json ? printJson(answer) : printFits(answer, catalogue));
    });
}

const VERDICT_WORDS: Readonly<Record<Verdict, string>> = {
  direct: 'Goes on as it is', adapt: 'Goes on with work', unproven: 'Not shown yet', no: 'Will not do',
};

function printFits(answer: FitAnswer, catalogue: Catalogue): string {
  const titles = new Map(catalogue.map((part) => [part.id, part.title]));
  const count = answer.fits.length;
  return [
    `${answer.considered} parts considered, ${count} ${count === 1 ? 'fit' : 'fits'} listed.\n`,
    ...answer.fits.map((entry, index) => printFit(entry, titles.get(entry.partId) ?? '', index)),
    printSection('\nMeasure next', answer.measureNext.map((m) => `${m.what}: ${m.why}`)),
    printSection('\nTake care', answer.cautions),
    printSection('\nTaken for granted', answer.assumptions),
  ].join('');
}

function printFit(entry: Fit, title: string, index: number): string {
  const open = entry.checks.filter((check) => check.outcome !== 'pass');
  const passed = entry.checks.filter((check) => check.outcome === 'pass').map((check) => check.criterion);
  // The first few are what somebody acts on: those are printed with their wiring.
  const plan = index < 3 && entry.rewire && entry.verdict !== 'no' ? printPlan(entry.rewire, '    ') : '';
  return [
    `\n${VERDICT_WORDS[entry.verdict]}: ${entry.partId}  ${title}\n`,
    entry.expectedCost ? `  expected cost ${entry.expectedCost.total} ${entry.expectedCost.currency}\n` : '',
    ...open.map((check) => `  ${check.outcome.padEnd(7)} ${check.criterion}: ${check.why}\n`),
    entry.verdict === 'no' || passed.length === 0 ? '' : `  pass    ${passed.join(', ')}\n`,
    ...entry.kit.map((item) => `  take    ${item.qty} x ${item.item}: ${item.detail}\n`),
    plan,
  ].join('');
}
