import { measureThreads } from './measure-threads.ts';

// How well the thread of a stud is told, beside an ideal that knows how the studs were drawn: threads.ts [count] [seed]. Exit 1 when not held.

const [count = 2000, seed = 20261] = process.argv.slice(2).map(Number);
const { lines, held } = measureThreads(count, seed);
process.stdout.write(`${lines.join('\n')}\n`);
process.exitCode = held ? 0 : 1;
