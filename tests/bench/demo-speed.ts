import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { fit } from '../../api/engine/index.ts';
import type { BenchRecord } from '../../catalog-schema/index.ts';
import { readCataloguePath } from '../../catalog-schema/folder/index.ts';
import { demoFolder, openHttpDoor } from '../doors/open-doors.ts';
import { runCli } from '../doors/run-cli.ts';

// How long a fit over the demo catalogue takes: the function (first call of a process, and after), over HTTP, and the whole command.
// Bounds of the first release: function 150 ms, command 800 ms. Run it on an idle machine.

const BOUNDS = { functionMs: 150, commandMs: 800 };
const ROUNDS = 5;

const read = readCataloguePath(demoFolder);
if (!read.ok) throw new Error('the demo does not read');
const catalogue = read.value;
const jobs = readdirSync(join(demoFolder, 'jobs')).toSorted().map((name) => ({
  name: name.replace('.json', ''), file: join(demoFolder, 'jobs', name),
  record: (JSON.parse(readFileSync(join(demoFolder, 'jobs', name), 'utf8')) as { record: BenchRecord }).record,
}));

const median = (values: readonly number[]): number => values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)]!;
async function time(work: () => unknown): Promise<number> {
  const start = performance.now();
  await work();
  return performance.now() - start;
}
const ms = (value: number): string => value.toFixed(1).padStart(8);

const http = await openHttpDoor();
process.stdout.write(`${catalogue.length} parts, ${jobs.length} jobs, Node ${process.version}\n${'job'.padEnd(44)}   first    then    all    HTTP  command (ms, medians of ${ROUNDS})\n`);
let worstFunction = 0;
let worstCommand = 0;
for (const { name, record } of jobs) {
  const first = await time(() => fit(record, catalogue));
  const then: number[] = [];
  const all: number[] = [];
  const overHttp: number[] = [];
  const command: number[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    then.push(await time(() => fit(record, catalogue)));
    all.push(await time(() => fit(record, catalogue, { all: true })));
    overHttp.push(await time(() => http.post('/api/fit', JSON.stringify({ record }))));
    command.push(await time(() => runCli(['fit', '-', '--json'], JSON.stringify(record))));
  }
  worstFunction = Math.max(worstFunction, first, median(then));
  worstCommand = Math.max(worstCommand, median(command));
  process.stdout.write(`${name.padEnd(44)}${ms(first)}${ms(median(then))}${ms(median(all))}${ms(median(overHttp))}${ms(median(command))}\n`);
}
await http.close();
const held = worstFunction <= BOUNDS.functionMs && worstCommand <= BOUNDS.commandMs;
process.stdout.write(`worst: function ${worstFunction.toFixed(1)} ms (bound ${BOUNDS.functionMs}), command ${worstCommand.toFixed(1)} ms (bound ${BOUNDS.commandMs}): ${held ? 'held' : 'not held'}\n`);
process.exitCode = held ? 0 : 1;
