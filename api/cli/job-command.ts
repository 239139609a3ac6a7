import { createReadStream, renameSync, rmSync } from 'node:fs';
import { open } from 'node:fs/promises';
import type { Command } from 'commander';
import { findNamedJob } from './find-named-job.ts';
import { InputRefused, printJson, writeOut } from './tell.ts';
import { takeOutcome, useShop } from './use-shop.ts';

export function addJobCommand(program: Command): void {
  const job = program.command('job').description('a job as one file, out of this shop and into it');
  job.command('export <job>')
    .description('write a job whole into one file: its edits, photographs, outcomes and the chosen part as it was')
    .requiredOption('--out <file>', 'where to write it; - is standard output')
    .option('--db <path>', 'the shop’s database (LUGWRIGHT_DB, else that of npm start)')
    .action((words: string, options: { out: string; db?: string }) => useShop(options.db, async (services) => {
      const { id, document } = await findNamedJob(services, words);
      const { pieces } = takeOutcome(await services.jobFiles.export(id), 'job', words);
      if (options.out === '-') {
        for await (const piece of pieces) await writeOut(piece);
        return;
      }
      const bytes = await writeWhole(options.out, pieces);
      await writeOut(`${options.out}: ${JSON.stringify(document.title)}, ${bytes} bytes\n`);
    }));
  job.command('import <file>')
    .description('take a job file in (- for standard input): all of it, or a line for each thing wrong and nothing')
    .option('--db <path>', 'the shop’s database (LUGWRIGHT_DB, else that of npm start)')
    .option('--json', 'print what came of it as JSON')
    .action((file: string, options: { db?: string; json?: boolean }) => useShop(options.db, async (services) => {
      const taken = takeOutcome(await services.jobFiles.import(readPieces(file)), 'file', file);
      const { id, document, conflicts } = taken.job;
      await writeOut(options.json ? printJson(taken) : [
        `${taken.created ? 'New here' : 'Was here'}: ${JSON.stringify(document.title)}, ${id}\n`,
        `${taken.editsAdded} edits and ${taken.photographsAdded} photographs came in\n`,
        ...(conflicts.length === 0 ? [] : [`${conflicts.length} ${conflicts.length === 1 ? 'field has' : 'fields have'} two values: choose on the job’s screens\n`]),
      ].join(''));
    }));
  for (const command of job.commands) command.exitOverride();
}

/** Writes beside the file and puts it in its place when it is whole. */
async function writeWhole(file: string, pieces: AsyncIterable<string>): Promise<number> {
  const beside = `${file}.part`;
  try {
    const handle = await open(beside, 'w');
    let bytes = 0;
    try {
      for await (const piece of pieces) bytes += (await handle.write(piece)).bytesWritten;
    } finally {
      await handle.close();
    }
    renameSync(beside, file);
    return bytes;
  } catch (error) {
    rmSync(beside, { force: true });
    const { code } = error as NodeJS.ErrnoException;
    if (code === undefined || !['ENOENT', 'ENOTDIR', 'EISDIR', 'EACCES', 'EROFS', 'EPERM', 'ENOSPC'].includes(code)) throw error;
    throw new InputRefused([{ path: '--out', found: file, want: `a file that can be written (${code})` }]);
  }
}

async function* readPieces(file: string): AsyncGenerator<Uint8Array> {
  try {
    for await (const piece of file === '-' ? process.stdin : createReadStream(file)) yield piece as Uint8Array;
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === undefined || !['ENOENT', 'ENOTDIR', 'EISDIR', 'EACCES', 'EPERM'].includes(code)) throw error;
    throw new InputRefused([{ path: '', found: `no file ${JSON.stringify(file)}`, want: 'a job file, or - for standard input' }]);
  }
}
