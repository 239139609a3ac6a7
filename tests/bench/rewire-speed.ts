// What a fit pays for the wiring of parts. Parts of forms in processor time of the thread, searches of single parts as the least of some tries: so
// whatever else runs on the machine counts for little.
// npm run bench:rewire -- [machines = 60] [seed = 20001]
// Machines and parts of the generated catalogue (tests/bench/fit) for what forms share; drawn cases and the demo for a part searched by itself.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { fileURLToPath } from 'node:url';
import { createRewirer, findFirstPlan, formKeyOf, WiringMemory } from '../../api/engine/rewire/index.ts';
import type { BenchRecord, Part } from '../../catalog-schema/index.ts';
import { readCataloguePath } from '../../catalog-schema/folder/index.ts';
import { generateCase } from '../differential/rewire/case-generator.ts';
import { generateParts } from './fit/generate-catalogue.ts';
import { generateQuery } from './fit/generate-query.ts';

const demoFolder = fileURLToPath(new URL('../../demo-catalog', import.meta.url));
const machineCount = Number(process.argv[2] ?? 60);
const seed = Number(process.argv[3] ?? 20_001);
/** Parts of one catalogue that each machine is asked about, and cases searched by themselves. */
const PARTS = 2_000;
const CASES = 600;
/** Before the clock runs: the engine of the language compiles what it has seen often. */
const WARM_UP = 200;
/** The processor's time is counted in milliseconds: a single search is timed by the clock, the least of so many tries. */
const TRIES = 5;

let held = 0;
let bounds = 0;

function report(what: string, micros: readonly number[], medianBound: number, p99Bound: number): void {
  const sorted = micros.toSorted((a, b) => a - b);
  const at = (share: number): number => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? 0;
  console.log(`${what.padEnd(58)} ${String(micros.length).padStart(5)}: median ${at(0.5).toFixed(1)} us (bound ${medianBound}), p99 ${at(0.99).toFixed(1)} us (bound ${p99Bound})`);
  bounds += 2;
  held += Number(at(0.5) <= medianBound) + Number(at(0.99) <= p99Bound);
}

function timeMicros(work: () => void): number {
  const before = process.threadCpuUsage();
  work();
  const { user, system } = process.threadCpuUsage(before);
  return user + system;
}

/** A machine all of whose wires are traced, from a number on. */
function* drawMachines(unfriendly: boolean): Generator<BenchRecord> {
  for (let at = seed; ; at++) {
    const record = generateQuery(at, { count: 100_000, seed, unfriendly }, 'full');
    if (record.partClass !== 'starter-motor' && (record.wires ?? []).length > 0) yield record;
  }
}

/** Outlines of parts, told apart by what was known of them before. */
function measureForms(unfriendly: boolean): void {
  const coded = new Map<string, number>();
  const parts = [...generateParts({ count: 2 * PARTS, seed, unfriendly })].filter(({ partClass }) => partClass !== 'starter-motor').slice(0, PARTS)
    .map((part) => ({ part, form: coded.get(formKeyOf(part)) ?? coded.set(formKeyOf(part), coded.size).size - 1 }));
  const memory = new WiringMemory();
  const ofForm: number[] = [];
  const ofMachine: number[] = [];
  const ofKind: number[] = [];
  let at = -20;
  for (const record of drawMachines(unfriendly)) {
    if (at >= machineCount) break;
    const rewirer = createRewirer(record, { memory });
    const seen = new Set<number>();
    const first = parts.filter(({ form }) => !seen.has(form) && seen.add(form));
    const onFirst = timeMicros(() => { for (const { part, form } of first) rewirer.outline(part, form); }) / first.length;
    // The same machine again: its topologies are listed by now, its forms are new to the rewirer.
    const again = createRewirer(record, { memory });
    const onNewForm = timeMicros(() => { for (const { part, form } of first) again.outline(part, form); }) / first.length;
    const onKnown = timeMicros(() => { for (const { part, form } of parts) again.outline(part, form); }) / parts.length;
    if (at++ < 0) continue;
    ofKind.push(onFirst);
    ofMachine.push(onNewForm);
    ofForm.push(onKnown);
  }
  const name = unfriendly ? 'unfriendly' : 'families';
  report(`${name}: a part whose form is known, mean of a machine`, ofForm, 12, 40);
  report(`${name}: the first part of a form on a machine, mean`, ofMachine, 50, 150);
  report(`${name}: the same where its topology may be new as well, mean`, ofKind, 60, 400);
}

/** Plans of parts searched by themselves. */
function measureSearches(what: string, cases: readonly { record: BenchRecord; part: Part }[]): void {
  const took = cases.map(({ record, part }) => {
    let isRefused = false;
    const tries = Array.from({ length: TRIES }, () => {
      const start = performance.now();
      isRefused = findFirstPlan(record, part).plan === null;
      return 1000 * (performance.now() - start);
    });
    return { micros: Math.min(...tries), isRefused };
  });
  for (const isRefused of [false, true]) {
    report(`${what}: searched by itself, ${isRefused ? 'refused' : 'with a plan'}`, took.filter((each) => each.isRefused === isRefused).map(({ micros }) => micros), isRefused ? 500 : 300, 3000);
  }
}

/** Every relay of the demo's catalogue on every job of the demo. */
function listDemo(): { record: BenchRecord; part: Part }[] {
  const read = readCataloguePath(demoFolder);
  if (!read.ok) throw new Error('the demo does not read');
  return readdirSync(join(demoFolder, 'jobs')).toSorted().flatMap((file) => {
    const { record } = JSON.parse(readFileSync(join(demoFolder, 'jobs', file), 'utf8')) as { record: BenchRecord };
    const isStarter = (partClass: string | undefined): boolean => partClass === 'starter-motor';
    return read.value.filter((part) => isStarter(part.partClass) === isStarter(record.partClass)).map((part) => ({ record, part }));
  });
}

for (let index = 0; index < WARM_UP; index++) {
  const { record, part } = generateCase(1 + index);
  findFirstPlan(record, part);
}
measureForms(false);
measureForms(true);
measureSearches('drawn', Array.from({ length: CASES }, (_, index) => generateCase(seed + index)));
measureSearches('demo', listDemo());
console.log(`bench:rewire seed ${seed}, ${machineCount} machines: ${held} of ${bounds} bounds held`);
process.exitCode = held === bounds ? 0 : 1;
