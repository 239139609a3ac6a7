import { writeFileSync } from 'node:fs';
import type { Command } from 'commander';
import { openSnapshot, writeSnapshot } from '../engine/index.ts';
import { SNAPSHOT_ENDING, takeCatalogue } from './take-input.ts';
import { InputRefused } from './tell.ts';

export function addSnapshotCommand(program: Command): void {
  program.command('snapshot')
    .description('write a catalogue as one binary file from which fit answers at once, however large it is')
    .option('--catalog <path>', 'a JSON array of parts, JSON Lines, or a folder laid out as demo-catalog/ (the demo if left out)')
    .requiredOption('--out <file>', `where to write it; its name ends in ${SNAPSHOT_ENDING}`)
    .action((options: { catalog?: string; out: string }) => {
      if (!options.out.endsWith(SNAPSHOT_ENDING)) throw new InputRefused([{ path: '--out', found: JSON.stringify(options.out), want: `a file name that ends in ${SNAPSHOT_ENDING}` }]);
      const bytes = writeSnapshot(takeCatalogue(options.catalog));
      const opened = openSnapshot(bytes);
      if (!opened.ok) throw new Error('the snapshot just written does not open');
      try {
        writeFileSync(options.out, new Uint8Array(bytes));
      } catch (error) {
        const { code } = error as NodeJS.ErrnoException;
        if (code === undefined || !['ENOENT', 'ENOTDIR', 'EISDIR', 'EACCES', 'EROFS', 'EPERM'].includes(code)) throw error;
        throw new InputRefused([{ path: '--out', found: options.out, want: `a file that can be written (${code})` }]);
      }
      process.stdout.write(`${options.out}: ${opened.value.count} parts, ${bytes.byteLength} bytes, content ${opened.value.hash}\n`);
    });
}
