import { createWriteStream, existsSync } from 'node:fs';
import { pipeline } from 'node:stream/promises';
import { Option, type Command } from 'commander';
import type { AsLeftAnswer } from '../../catalog-schema/index.ts';
import type { PaperName } from '../../catalog-schema/gauge-sheet/index.ts';
import { readAsLeftOfFile } from './as-left-of-file.ts';
import { findNamedJob } from './find-named-job.ts';
import { printAsLeft } from './print-as-left.ts';
import { passToStandardOutput, sayUnwritable } from './write-file.ts';
import { printJson, writeOut } from './tell.ts';
import { takeOutcome, useShop } from './use-shop.ts';

interface AsLeftOptions { readonly db?: string; readonly pdf?: string; readonly paper: PaperName; readonly unit: 'mm' | 'inch'; readonly json?: boolean }

export function addAsLeftCommand(program: Command): void {
  program.command('as-left <job>')
    .description('the reinstall checklist of a job, named by its id or title or as a job file: old and new wiring, each step with its tick, and what is open before sign-off')
    .option('--pdf <file>', 'write it as one sheet to print (-: standard output)')
    .addOption(new Option('--paper <name>', 'the paper in the printer').choices(['a4', 'letter']).default('a4'))
    .addOption(new Option('--unit <name>', 'lengths in').choices(['mm', 'inch']).default('mm'))
    .option('--db <file>', 'the database of the shop (else LUGWRIGHT_DB, else the demo’s)')
    .option('--json', 'print the answer as JSON')
    .action(async (job: string, options: AsLeftOptions) => {
      const answer = existsSync(job) ? readAsLeftOfFile(job, options.unit)
        : await useShop(options.db, async (services) => takeOutcome(await services.asLeft.read((await findNamedJob(services, job)).id, options.unit), 'job', job));
      if (options.pdf !== undefined) await writePdf(answer, options.paper, options.pdf);
      if (options.json) await writeOut(printJson(answer));
      else if (options.pdf === undefined) await writeOut(printAsLeft(answer));
    });
}

export function addSignOffCommand(program: Command): void {
  program.command('sign-off <job>')
    .description('sign a job off as left; refused with a line for each step that is open')
    .requiredOption('--by <name>', 'who signs')
    .option('--db <file>', 'the database of the shop (else LUGWRIGHT_DB, else the demo’s)')
    .option('--json', 'print the job as JSON')
    .action(async (job: string, options: { by: string; db?: string; json?: boolean }) => {
      const state = await useShop(options.db, async (services) => takeOutcome(await services.asLeft.signOff((await findNamedJob(services, job)).id, options.by), 'job', job));
      await writeOut(options.json ? printJson(state) : `Signed off by ${options.by}: ${state.document.title}\n`);
    });
}

async function writePdf(answer: AsLeftAnswer, paper: PaperName, file: string): Promise<void> {
  // The drawing library takes longer to load than most commands to run, so only this one loads it.
  const { drawAsLeftPdf } = await import('./as-left-pdf.ts');
  const toScreen = file === '-';
  try {
    await pipeline(drawAsLeftPdf(answer, paper), toScreen ? passToStandardOutput() : createWriteStream(file));
  } catch (error) {
    throw toScreen ? error : sayUnwritable('--pdf', file, error);
  }
}
