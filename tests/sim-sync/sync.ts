import 'fake-indexeddb/auto';
import { measureSync, printSync } from './measure-sync.ts';

// Two to four devices on one job over a network that fails: all converge, nothing is lost, nothing is decided silently.
// node tests/sim-sync/sync.ts [runs] [seed]

const runs = Number(process.argv[2] ?? 500);
const seed = Number(process.argv[3] ?? 20261125);

const figures = await measureSync(runs, seed, (line) => process.stdout.write(`${line}\n`));
process.stdout.write(`${printSync(figures, seed)}\n`);
process.exitCode = figures.wrong.length === 0 ? 0 : 1;
