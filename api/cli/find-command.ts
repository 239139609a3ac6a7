import type { Command } from 'commander';
import { LIMITS, printFault, readReplacements, type FindAnswer, type InputFault, type NumberChange } from '../../catalog-schema/index.ts';
import { Finder } from '../engine/index.ts';
import { takeCatalogueOrSnapshot, takeJson } from './take-input.ts';
import { InputRefused, printJson, printSection, writeOut } from './tell.ts';
import { takeLines } from './take-lines.ts';

export function addFindCommand(program: Command): void {
  program.command('find <text>')
    .description('find a part by a number, as it was read, or by words (-: one look-up a line in, one JSON answer a line out)')
    .option('--catalog <path>', 'a JSON array of parts, JSON Lines, a folder laid out as demo-catalog/, or a .snapshot (the demo if left out)')
    .option('--shop <file>', 'what was found of parts in place of numbers: [{ partId, number?, held, cameBack }]')
    .option('--json', 'print the answer as JSON')
    // A number may begin with a hyphen.
    .allowUnknownOption()
    .action(async (text: string, options: { catalog?: string; shop?: string; json?: boolean }) => {
      const shop = options.shop === undefined ? [] : await takeJson(options.shop, readReplacements);
      const fault = text === '-' ? undefined : findFault(text);
      if (fault) throw new InputRefused([fault]);
      const finder = new Finder(takeCatalogueOrSnapshot(options.catalog));
      if (text === '-') await answerLines((line) => finder.find(line, shop));
      else await writeOut(options.json ? printJson(finder.find(text, shop)) : printHits(finder.find(text, shop)));
    });
}

/** Each line has its answer in its place, a refused one an empty one that says so; the command then ends as refused. */
async function answerLines(find: (line: string) => FindAnswer): Promise<void> {
  const faults: InputFault[] = [];
  let number = 0;
  for await (const line of takeLines(process.stdin, LIMITS.stringCharacters + 1)) {
    number++;
    const fault = findFault(line);
    if (fault && faults.length < LIMITS.faultsListed) faults.push({ ...fault, fileLine: number });
    const answer: FindAnswer = fault ? { hits: [], cautions: [printFault(fault)], assumptions: [] } : find(line);
    await writeOut(`${JSON.stringify(answer)}\n`);
  }
  if (faults.length > 0) throw new InputRefused(faults);
}

function findFault(text: string): InputFault | undefined {
  return text.length > LIMITS.stringCharacters ? { path: '', found: `more than ${LIMITS.stringCharacters} characters`, want: `at most ${LIMITS.stringCharacters} characters` } : undefined;
}

function printHits(answer: FindAnswer): string {
  return [
    answer.hits.length === 0 ? 'Nothing found.\n' : '',
    ...answer.hits.map((hit) => {
      const now = hit.currentIds.length === 1 && hit.currentIds[0] === hit.partId ? '' : hit.currentIds.length > 1 ? `, replaced by the kit ${hit.currentIds.join(' + ')}` : `, replaced by ${hit.currentIds[0]}`;
      return `${hit.partId}${now}  (${[`${hit.issuer} ${hit.number}`.trim(), sayHow(hit), ...sayShop(hit)].join('; ')})\n`;
    }),
    printSection('Take care', answer.cautions),
    printSection('Taken for granted', answer.assumptions),
  ].join('');
}

function sayHow({ how, claim, changes }: FindAnswer['hits'][number]): string {
  const claimed = claim === undefined ? '' : `, claimed${claim.source === undefined ? '' : ` by ${claim.source}`}`;
  switch (how) {
    case 'same': return 'the number as written';
    case 'normalised': return 'the number, written otherwise';
    case 'replaces': return claim === undefined ? 'fitted here in its place' : `said to be replaced by this part${claimed}`;
    case 'likely-misread': return `perhaps misread: ${(changes ?? []).map(sayChange).join(', ')}${claimed}`;
    case 'similar': return `similar${changes === undefined ? '' : `: ${changes.map(sayChange).join(', ')}`}${claimed}`;
    case 'words': return 'by words';
    default: return how satisfies never;
  }
}

function sayChange({ kind, read, is }: NumberChange): string {
  switch (kind) {
    case 'confused': case 'other': case 'swapped': return `${read} for ${is}`;
    case 'lost': return `${is} lost`;
    case 'added': return `${read} too many`;
    default: return kind satisfies never;
  }
}

function sayShop({ shop }: FindAnswer['hits'][number]): string[] {
  return shop === undefined ? [] : [`this shop fitted it${shop.forNumber ? ' for this number' : ''}: ${shop.held} held, ${shop.cameBack} came back`];
}
