import { createWriteStream } from 'node:fs';
import { pipeline } from 'node:stream/promises';
import { Option, type Command } from 'commander';
import type { CustomerRecord } from '../../catalog-schema/index.ts';
import type { PaperName } from '../../catalog-schema/gauge-sheet/index.ts';
import { findNamedJob } from './find-named-job.ts';
import { printRecord } from './print-record.ts';
import { printJson, writeOut } from './tell.ts';
import { takeOutcome, useShop } from './use-shop.ts';
import { passToStandardOutput, sayUnwritable } from './write-file.ts';

interface RecordOptions { readonly db?: string; readonly pdf?: string; readonly paper: PaperName; readonly unit: 'mm' | 'inch'; readonly json?: boolean }

export function addRecordCommand(program: Command): void {
  program.command('record <job>')
    .description('the customer’s page of a job, named by its id or title: what was measured, what it proved, what was replaced and what was not needed')
    .option('--pdf <file>', 'write it as one sheet to print (-: standard output)')
    .addOption(new Option('--paper <name>', 'the paper in the printer').choices(['a4', 'letter']).default('a4'))
    .addOption(new Option('--unit <name>', 'lengths in').choices(['mm', 'inch']).default('mm'))
    .option('--db <file>', 'the database of the shop (else LUGWRIGHT_DB, else the demo’s)')
    .option('--json', 'print the page as JSON')
    .action(async (job: string, options: RecordOptions) => {
      const record = await useShop(options.db, async (services) => takeOutcome(await services.record.read((await findNamedJob(services, job)).id, options.unit), 'job', job));
      if (options.pdf !== undefined) await writePdf(record, options.paper, options.pdf);
      if (options.json) await writeOut(printJson(record));
      else if (options.pdf === undefined) await writeOut(printRecord(record));
    });
}

async function writePdf(record: CustomerRecord, paper: PaperName, file: string): Promise<void> {
  // The drawing library takes longer to load than most commands to run, so only this one loads it.
  const { drawRecordPdf } = await import('./record-pdf.ts');
  const toScreen = file === '-';
  try {
    await pipeline(drawRecordPdf(record, paper), toScreen ? passToStandardOutput() : createWriteStream(file));
  } catch (error) {
    throw toScreen ? error : sayUnwritable('--pdf', file, error);
  }
}
