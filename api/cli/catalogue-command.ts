import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Command } from 'commander';
import { writeDataPackage } from '../../catalog-schema/folder/index.ts';
import { takeCatalogue } from './take-input.ts';
import { InputRefused } from './tell.ts';

export function addCatalogueCommand(program: Command): void {
  const catalogue = program.command('catalogue').description('catalogues as files');
  catalogue.command('export')
    .description('write a catalogue as a tabular data package: datapackage.json and a CSV for each table; --catalog of any command reads it again')
    .option('--catalog <path>', 'a JSON array of parts, JSON Lines, a folder, or a .snapshot (the demo if left out)')
    .requiredOption('--out <folder>', 'where to write it; made where it is missing, in a folder that is there')
    .option('--title <words>', 'what the package is called', 'Catalogue of parts')
    .action((options: { catalog?: string; out: string; title: string }) => {
      const parts = takeCatalogue(options.catalog);
      const files = writeDataPackage(parts, options.title);
      try {
        // Its parent has to be there: making a whole path never ends where the system lets none be made.
        if (!existsSync(options.out)) mkdirSync(options.out);
        for (const [name, text] of files) writeFileSync(join(options.out, name), text);
      } catch (error) {
        const { code } = error as NodeJS.ErrnoException;
        if (code === undefined) throw error;
        throw new InputRefused([{ path: '--out', found: options.out, want: `a folder that can be written (${code})` }]);
      }
      process.stdout.write(`${options.out}: ${parts.length} parts, ${[...files.keys()].join(', ')}\n`);
    });
}
