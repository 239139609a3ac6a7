import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import {
  benchRecordSchema, catalogueSchema, pricesOfShop, readInput, readShopFile, type BenchRecord, type Catalogue, type Part, type Prices,
} from '../../catalog-schema/index.ts';

const FOLDER = join(import.meta.dirname, '..', '..', 'demo-catalog');

export interface DemoJob {
  readonly id: string; readonly title: string; readonly machine?: string; readonly customer?: string;
  readonly expect?: string; readonly at: string; readonly record: BenchRecord;
}

function readJson(...path: string[]): unknown {
  return JSON.parse(readFileSync(join(FOLDER, ...path), 'utf8'));
}

function namesIn(folder: string): string[] {
  return readdirSync(join(FOLDER, folder)).filter((name) => name.endsWith('.json')).sort();
}

/** The demo catalogue, checked; throws with every fault where it does not read. */
export function readDemoCatalogue(): Catalogue {
  const parts = namesIn('parts').flatMap((name) => readJson('parts', name) as unknown[]);
  const read = readInput(catalogueSchema, parts);
  if (!read.ok) throw new Error(JSON.stringify(read.faults, null, 1));
  return read.value;
}

/** The demo shop as prices on one day. */
export function readDemoPrices(today: string): Prices {
  const read = readShopFile(readJson('shop.json'));
  if (!read.ok) throw new Error(JSON.stringify(read.faults, null, 1));
  return pricesOfShop(read.value, today);
}

/** The bins by part id, as written. */
export function readDemoBins(): { partId: string; bin: string }[] {
  return (readJson('shop.json') as { shelf: { partId: string; bin: string }[] }).shelf;
}

export function namesOfDemoJobs(): string[] {
  return namesIn('jobs').map((name) => name.slice(0, -'.json'.length));
}

/** One demo job by its file name without `.json`; its record checked. A fresh copy each time. */
export function readDemoJob(name: string): DemoJob {
  const job = readJson('jobs', `${name}.json`) as DemoJob;
  const read = readInput(benchRecordSchema, job.record);
  if (!read.ok) throw new Error(`${name}: ${JSON.stringify(read.faults, null, 1)}`);
  return { ...job, record: read.value };
}

export function partOf(catalogue: Catalogue, id: string): Part {
  const part = catalogue.find((candidate) => candidate.id === id);
  if (!part) throw new Error(`no part ${id} in the demo catalogue`);
  return part;
}

/** A copy of a record or part with what `change` does to it; the original stays. */
export function changed<T>(original: T, change: (copy: T) => void): T {
  const copy = structuredClone(original);
  change(copy);
  return copy;
}
