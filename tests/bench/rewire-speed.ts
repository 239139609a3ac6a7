// How long the first plan of a circuit not seen before takes: what a fit pays for each distinct circuit.
// npm run bench:rewire -- [cases = 1000] [seed = 20001]
// Each case is asked in a rewirer of its own, so nothing is remembered. Parts with a plan and refused ones apart. Idle machine.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { fileURLToPath } from 'node:url';
import { createRewirer } from '../../api/engine/rewire/index.ts';
import type { BenchRecord, Part } from '../../catalog-schema/index.ts';
import { readCataloguePath } from '../../catalog-schema/folder/index.ts';
import { generateCase } from '../differential/rewire/case-generator.ts';

const demoFolder = fileURLToPath(new URL('../../demo-catalog', import.meta.url));
const BOUNDS = { medianMs: 0.3, p99Ms: 3 };
/** Cases before the clock runs: the engine of the language compiles what it has seen often. */
const WARM_UP = 300;

const count = Number(process.argv[2] ?? 1000);
const seed = Number(process.argv[3] ?? 20_001);

interface Case { name: string; record: BenchRecord; part: Part }

function listDrawn(): Case[] {
  return Array.from({ length: count }, (_, index) => {
    const { record, part, form } = generateCase(seed + index);
    return { name: `seed ${seed + index} (${form})`, record, part };
  });
}

/** Every relay of the demo's catalogue on every job of the demo. */
function listDemo(): Case[] {
  const read = readCataloguePath(demoFolder);
  if (!read.ok) throw new Error('the demo does not read');
  return readdirSync(join(demoFolder, 'jobs')).toSorted().flatMap((file) => {
    const { record } = JSON.parse(readFileSync(join(demoFolder, 'jobs', file), 'utf8')) as { record: BenchRecord };
    const isStarter = (partClass: string | undefined): boolean => partClass === 'starter-motor';
    return read.value.filter((part) => isStarter(part.partClass) === isStarter(record.partClass))
      .map((part) => ({ name: `${file.replace('.json', '')} onto ${part.id}`, record, part }));
  });
}

function measure(title: string, cases: readonly Case[]): boolean {
  const took: { ms: number; name: string; refused: boolean }[] = cases.map(({ name, record, part }) => {
    const start = performance.now();
    const { plan } = createRewirer(record).findFirstPlan(part);
    return { ms: performance.now() - start, name, refused: plan === null };
  });
  let held = true;
  for (const [kind, rows] of [['all', took], ['with a plan', took.filter(({ refused }) => !refused)], ['refused', took.filter(({ refused }) => refused)]] as const) {
    const sorted = rows.toSorted((a, b) => a.ms - b.ms);
    const at = (share: number): number => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]?.ms ?? 0;
    console.log(`${title.padEnd(16)} ${kind.padEnd(12)} ${String(rows.length).padStart(5)} cases: median ${at(0.5).toFixed(3)} ms, p99 ${at(0.99).toFixed(3)} ms, `
      + `most ${(sorted.at(-1)?.ms ?? 0).toFixed(2)} ms (${sorted.at(-1)?.name ?? 'none'})`);
    if (at(0.5) > BOUNDS.medianMs || at(0.99) > BOUNDS.p99Ms) held = false;
  }
  return held;
}

for (let index = 0; index < WARM_UP; index++) {
  const { record, part } = generateCase(1 + index);
  createRewirer(record).findFirstPlan(part);
}
const held = [measure(`drawn, seed ${seed}`, listDrawn()), measure('demo', listDemo())].every(Boolean);
console.log(`bounds: median ${BOUNDS.medianMs} ms, p99 ${BOUNDS.p99Ms} ms, each kind: ${held ? 'held' : 'not held'}`);
process.exitCode = held ? 0 : 1;
