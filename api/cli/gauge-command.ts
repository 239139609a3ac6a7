import { createWriteStream } from 'node:fs';
import { pipeline } from 'node:stream/promises';
import { Option, type Command } from 'commander';
import type { PaperName } from '../../catalog-schema/gauge-sheet/index.ts';
import { passToStandardOutput, sayUnwritable } from './write-file.ts';

export function addGaugeCommand(program: Command): void {
  program.command('gauge')
    .description('write the bench gauge sheet as a PDF to print at true size: holes, studs, tabs, hexagons, thread combs')
    .addOption(new Option('--paper <name>', 'the paper in the printer').choices(['a4', 'letter']).default('a4'))
    .option('--out <file>', 'where to write it (-: standard output)', 'gauge-sheet.pdf')
    .action(async (options: { paper: PaperName; out: string }) => {
      // The drawing library takes longer to load than most commands to run, so only this one loads it.
      const { drawGaugePdf } = await import('./gauge-pdf.ts');
      const toScreen = options.out === '-';
      try {
        await pipeline(drawGaugePdf(options.paper), toScreen ? passToStandardOutput() : createWriteStream(options.out));
      } catch (error) {
        throw toScreen ? error : sayUnwritable('--out', options.out, error);
      }
      if (!toScreen) process.stdout.write(`${options.out}: print at 100 %, then measure both check bars before using a gauge.\n`);
    });
}
