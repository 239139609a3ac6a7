import { askFit } from './drive-fit.ts';
import { measureFits } from './measure-fits.ts';

// How well the parts that fit are found, on machines whose truth is known: fits.ts [--cases N] [--seed N] [--failures]. Exit 1 when not held.
// With --failures it prints the smallest record of each kind of false answer.

const words = process.argv.slice(2);
const numberAfter = (word: string, otherwise: number): number => (words.includes(word) ? Number(words[words.indexOf(word) + 1]) : otherwise);
const { lines, held, found } = measureFits(numberAfter('--cases', 2400), numberAfter('--seed', 50_000), askFit);
if (words.includes('--failures')) {
  for (const what of new Set(found.map((each) => each.what))) {
    const alike = found.filter((each) => each.what === what);
    const least = alike.reduce((a, b) => (JSON.stringify(a.record).length <= JSON.stringify(b.record).length ? a : b));
    process.stdout.write(`${alike.length} x ${what}; world ${least.world}, part ${least.partId}\n${JSON.stringify(least.record)}\n${JSON.stringify(least.answer)}\n`);
  }
}
process.stdout.write(`${lines.join('\n')}\n`);
process.exitCode = held ? 0 : 1;
