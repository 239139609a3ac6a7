import { runLedger } from './run-ledger.ts';

// Random moves of the shelf over HTTP while the server is killed again and again: the moves add up to the stock, and nothing is taken twice.
// node tests/sim-ledger/ledger.ts [operations] [seed]

const operations = Number(process.argv[2] ?? 10_000);
const seed = Number(process.argv[3] ?? 20261125);
const figures = await runLedger({ operations, seed, kills: Math.max(2, Math.round(operations / 250)) });
for (const line of figures.wrong.slice(0, 20)) process.stdout.write(`wrong: ${line}\n`);
process.stdout.write(`${figures.operations} operations by 6 devices, ${figures.kills} kills amid them, ${figures.resent} sent again: ${figures.moves} moves kept, ${figures.refused} operations refused; `
  + `sums that are not the stock, moves lost, doubled or taken from nothing: ${figures.wrong.length} (seed ${seed})\n`);
process.exitCode = figures.wrong.length === 0 && figures.operations >= operations ? 0 : 1;
