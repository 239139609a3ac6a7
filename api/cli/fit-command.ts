import type { Command } from 'commander';
import {
  benchRecordSchema, machineKindOf, pricesSchema, readHistory, readInput, type Fit, type FitAnswer, type Verdict,
} from '../../catalog-schema/index.ts';
import { SnapshotFitter, type Snapshot } from '../engine/index.ts';
import { printPlan } from './rewire-command.ts';
import { takeJson, takeSnapshot } from './take-input.ts';
import { InputRefused, printJson, printSection, writeOut } from './tell.ts';

export function addFitCommand(program: Command): void {
  program.command('fit <file>')
    .description('find what fits in the place of a removed part, from its bench record (- for standard input)')
    .option('--catalog <path>', 'a JSON array of parts, JSON Lines, a folder laid out as demo-catalog/, or a .snapshot (the demo if left out)')
    .option('--prices <file>', 'shelf, suppliers and offers, to rank by cost')
    .option('--history <file>', 'what was learned of parts: how often each held and came back')
    .option('--machine <words>', 'the machine at hand: what was learned on its kind counts in full')
    .option('--most <number>', 'list at most so many')
    .option('--all', 'also list the parts that will not do, with the reason')
    .option('--json', 'print the answer as JSON')
    .action(async (file: string, options: FitFlags) => {
      const most = readMost(options.most);
      const record = await takeJson(file, (value) => readInput(benchRecordSchema, value));
      const snapshot = takeSnapshot(options.catalog);
      const prices = options.prices === undefined ? undefined
        : await takeJson(options.prices, (value) => readInput(pricesSchema, value));
      const history = options.history === undefined ? undefined : await takeJson(options.history, readHistory);
      const answer = new SnapshotFitter(snapshot).fit(record, { prices, history, most, machineKind: machineKindOf(options.machine), all: options.all === true });
      await writeOut(options.json ? printJson(answer) : printFits(answer, snapshot));
    });
}

interface FitFlags { catalog?: string; prices?: string; history?: string; machine?: string; most?: string; all?: boolean; json?: boolean }

function readMost(written: string | undefined): number | undefined {
  if (written === undefined) return undefined;
  const most = Number(written);
  if (!/^\d+$/.test(written) || most < 1 || !Number.isSafeInteger(most)) throw new InputRefused([{ path: '--most', found: JSON.stringify(written), want: 'a whole number above 0' }]);
  return most;
}

const VERDICT_WORDS: Readonly<Record<Verdict, string>> = {
  direct: 'Goes on as it is', adapt: 'Goes on with work', unproven: 'Not shown yet', no: 'Will not do',
};

function printFits(answer: FitAnswer, snapshot: Snapshot): string {
  const titleOf = (id: string): string => snapshot.partAt(snapshot.rowOf(id)!).title;
  const count = answer.fits.length;
  return [
    `${answer.considered} parts considered, ${count} ${count === 1 ? 'fit' : 'fits'} listed.\n`,
    ...answer.fits.map((entry, index) => printFit(entry, titleOf(entry.partId), index)),
    printSection('\nMeasure next', answer.measureNext.map((m) => `${m.what}: ${m.why}${answer.worthUnit === 'bit' ? '' : `; expected saving ${m.worth} ${answer.worthUnit}`}`)),
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
    printCost(entry),
    entry.fitProbability === null || entry.verdict === 'no' ? '' : `  works here with a probability of ${percent(entry.fitProbability)}${printLearned(entry)}\n`,
    ...open.map((check) => `  ${check.outcome.padEnd(7)} ${check.criterion}: ${check.why}\n`),
    entry.verdict === 'no' || passed.length === 0 ? '' : `  pass    ${passed.join(', ')}\n`,
    ...entry.kit.map((item) => `  take    ${item.qty} x ${item.item}: ${item.detail}\n`),
    plan,
  ].join('');
}

/** The five parts of the expected cost, and where the part comes from. */
function printCost({ expectedCost, source }: Fit): string {
  if (!expectedCost) return '';
  const { currency, total, part, kit, labour, misfit, wait } = expectedCost;
  const from = source === undefined ? '' : source.from === 'shelf' ? ' from the shelf' : ` from ${source.from}${source.qty > 1 ? `, ${source.qty} bought` : ''}, here ${source.arrives}`;
  return `  expected cost ${total} ${currency}: part ${part}${from}, kit ${kit}, labour ${labour}, risk of a misfit ${misfit}, wait ${wait}\n`;
}

function printLearned({ learned }: Fit): string {
  if (!learned) return '';
  const { held, cameBack, low, high, machineKind } = learned;
  return `; fitted before${machineKind === undefined ? '' : ` on ${machineKind}`}: ${held} held, ${cameBack} came back (${percent(low)} to ${percent(high)} hold, 95 % interval)`;
}

function percent(share: number): string {
  return `${Math.round(share * 1000) / 10} %`;
}
