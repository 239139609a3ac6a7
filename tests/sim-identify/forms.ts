import { measureForms } from './measure-forms.ts';

// How well the circuit of a part is told from its ohms: forms.ts [count] [seed] [--failures]. Exit 1 when not held.
// With --failures it prints the smallest record of each kind of failure, and the one that took the longest.

const words = process.argv.slice(2);
const [count = 2000, seed = 20262] = words.filter((word) => !word.startsWith('--')).map(Number);
const { lines, held, failures, slowest } = measureForms(count, seed);
if (words.includes('--failures')) {
  const kinds = new Map<string, typeof failures>();
  for (const failure of failures) kinds.set(failure.what, [...(kinds.get(failure.what) ?? []), failure]);
  for (const [what, all] of kinds) {
    const least = all.reduce((a, b) => ((a.record.ohms?.length ?? 0) <= (b.record.ohms?.length ?? 0) ? a : b));
    process.stdout.write(`${all.length} x ${what}; truth ${least.form}, said ${least.said}\n${JSON.stringify(least.record)}\n`);
  }
  process.stdout.write(`slowest answer\n${JSON.stringify(slowest)}\n`);
}
process.stdout.write(`${lines.join('\n')}\n`);
process.exitCode = held ? 0 : 1;
