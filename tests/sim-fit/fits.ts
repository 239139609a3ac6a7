import { readFileSync, writeFileSync } from 'node:fs';
import { askFit } from './drive-fit.ts';
import { countFits, startCounts, writeFigures, type FitCounts } from './measure-fits.ts';
import { addStored, storeTally } from './pieces.ts';
import type { Retaken } from './retake-record.ts';
import { Tally } from './tally.ts';
import type { Kind, Level } from './take-record.ts';

// How well the parts that fit are found, on machines whose truth is known: fits.ts [--cases N] [--seed N] [--failures]. Exit 1 when not held.
// With --failures it prints the smallest record of each kind of false answer. A long run in pieces: --keep FILE writes what one counted,
// --pool FILE... prints several as one.

const words = process.argv.slice(2);
const numberAfter = (word: string, otherwise: number): number => (words.includes(word) ? Number(words[words.indexOf(word) + 1]) : otherwise);

type Stored = Parameters<typeof addStored>[1];
type Piece = Pick<FitCounts, 'run'> & { tallies: Record<Level, Stored>; asked: Stored; retaken: Record<Retaken, number>; ablation: Record<Kind | 'none', Stored> };

function poolPieces(files: readonly string[]): FitCounts {
  const { tallies, asked, retaken, ablation } = startCounts();
  const run = { cases: 0, seed: Number.POSITIVE_INFINITY, worlds: 0, parts: 0 };
  for (const file of files) {
    const piece = JSON.parse(readFileSync(file, 'utf8')) as Piece;
    for (const [level, stored] of Object.entries(piece.tallies)) addStored(tallies[level as Level], stored);
    addStored(asked, piece.asked);
    for (const [which, count] of Object.entries(piece.retaken)) retaken.set(which as Retaken, (retaken.get(which as Retaken) ?? 0) + count);
    for (const [kind, stored] of Object.entries(piece.ablation)) {
      if (!ablation.has(kind as Kind)) ablation.set(kind as Kind, new Tally());
      addStored(ablation.get(kind as Kind)!, stored);
    }
    run.cases += piece.run.cases;
    run.seed = Math.min(run.seed, piece.run.seed);
    run.worlds += piece.run.worlds;
    run.parts += piece.run.parts;
  }
  return { tallies, asked, retaken, ablation, run };
}

const counts = words.includes('--pool') ? poolPieces(words.slice(words.indexOf('--pool') + 1)) : countFits(numberAfter('--cases', 2400), numberAfter('--seed', 50_000), askFit);
if (words.includes('--keep')) {
  const store = (all: Iterable<readonly [string, Tally]>): object => Object.fromEntries([...all].map(([key, tally]) => [key, storeTally(tally)]));
  writeFileSync(words[words.indexOf('--keep') + 1]!, JSON.stringify({ run: counts.run, tallies: store(Object.entries(counts.tallies)), asked: storeTally(counts.asked), retaken: Object.fromEntries(counts.retaken), ablation: store(counts.ablation) }));
}
const { lines, held, found } = writeFigures(counts);
if (words.includes('--failures')) {
  for (const what of new Set(found.map((each) => each.what))) {
    const alike = found.filter((each) => each.what === what);
    const least = alike.reduce((a, b) => (JSON.stringify(a.record).length <= JSON.stringify(b.record).length ? a : b));
    process.stdout.write(`${alike.length} x ${what}; world ${least.world}, part ${least.partId}\n${JSON.stringify(least.record)}\n${JSON.stringify(least.answer)}\n`);
  }
}
process.stdout.write(`${lines.join('\n')}\n`);
process.exitCode = held ? 0 : 1;
