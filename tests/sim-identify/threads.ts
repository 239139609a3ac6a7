import { measureThreads } from './measure-threads.ts';

// How well the thread of a stud is told, beside an ideal that knows how the studs were drawn: threads.ts [count] [seed] [--failures].
// Exit 1 when not held. With --failures it prints what the ideal tells and the answer does not.

const words = process.argv.slice(2);
const [count = 2000, seed = 20261] = words.filter((word) => !word.startsWith('--')).map(Number);
const { lines, held, missed } = measureThreads(count, seed);
if (words.includes('--failures')) {
  for (const { truth, answered, record } of missed) process.stdout.write(`truth ${truth}, said ${answered}: ${JSON.stringify(record.terminals)}\n`);
}
process.stdout.write(`${lines.join('\n')}\n`);
process.exitCode = held ? 0 : 1;
