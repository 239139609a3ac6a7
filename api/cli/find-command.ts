import { createInterface } from 'node:readline';
import type { Command } from 'commander';
import { LIMITS, type FindAnswer } from '../../catalog-schema/index.ts';
import { find } from '../engine/index.ts';
import { takeCatalogue } from './take-input.ts';
import { InputRefused, printJson, printSection, writeOut } from './tell.ts';

export function addFindCommand(program: Command): void {
  program.command('find <text>')
    .description('find a part by a number or words (-: one look-up a line in, one JSON answer a line out)')
    .option('--catalog <path>', 'a JSON array of parts, JSON Lines, a folder laid out as demo-catalog/, or a .snapshot (the demo if left out)')
    .option('--json', 'print the answer as JSON')
    .action(async (words: string, options: { catalog?: string; json?: boolean }) => {
      const catalogue = takeCatalogue(options.catalog);
      if (words === '-') {
        for await (const line of createInterface({ input: process.stdin })) {
          await writeOut(`${JSON.stringify(find(checkLength(line), catalogue))}\n`);
        }
        return;
      }
      const answer = find(checkLength(words), catalogue);
      await writeOut(options.json ? printJson(answer) : printHits(answer));
    });
}

function checkLength(words: string): string {
  if (words.length > LIMITS.stringCharacters) {
    throw new InputRefused([{ path: '', found: `${words.length} characters`, want: `at most ${LIMITS.stringCharacters} characters` }]);
  }
  return words;
}

function printHits(answer: FindAnswer): string {
  if (answer.hits.length === 0) return 'Nothing found.\n';
  return [
    ...answer.hits.map((hit) => {
      const now = hit.currentIds.length === 1 && hit.currentIds[0] === hit.partId ? '' : `, now ${hit.currentIds.join(' + ')}`;
      return `${hit.partId}${now}  (${hit.how}${hit.number === '' ? '' : `: ${hit.issuer} ${hit.number}`})\n`;
    }),
    printSection('Take care', answer.cautions),
    printSection('Taken for granted', answer.assumptions),
  ].join('');
}
