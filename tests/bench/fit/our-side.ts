import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { indexSnapshot, type IndexedCatalogue } from '../../../api/engine/fit/index.ts';
import { createSnapshotWriter, openSnapshot, type Snapshot } from '../../../api/engine/snapshot/index.ts';
import { createSupply } from '../../../api/engine/source/index.ts';
import type { Part } from '../../../catalog-schema/index.ts';
import { generateParts, type CatalogueFacts } from './generate-catalogue.ts';
import { generatePrices } from './generate-prices.ts';
import { ScoreRowWriter, type ScoreRows } from './score-rows.ts';

/** A catalogue of the generator as the product holds it, with what it took to get there. */
export interface OurSide {
  readonly facts: CatalogueFacts;
  readonly indexed: IndexedCatalogue;
  readonly offers: number;
  /** the same parts as plain rows, for the others */
  readonly rows: ScoreRows;
  readonly buildMs: number;
  /** from the file to a snapshot that answers */
  readonly loadMs: number;
  readonly compileMs: number;
}

const folder = fileURLToPath(new URL('../../../.local/bench', import.meta.url));

/** Writes the catalogue into a snapshot part by part, reads the file back, compiles a price list over it. */
export function buildOurSide(facts: CatalogueFacts): OurSide {
  const writer = createSnapshotWriter();
  const rowWriter = new ScoreRowWriter(facts.count);
  let buildMs = 0;
  /** Each part is drawn once, and taken in by everybody as it passes. */
  function* takeIn(): Generator<Part> {
    for (const part of generateParts(facts)) {
      const start = performance.now();
      writer.add(part);
      buildMs += performance.now() - start;
      rowWriter.add(part);
      yield part;
    }
  }
  const prices = generatePrices(takeIn(), { seed: facts.seed, unfriendly: facts.unfriendly === true });
  const finish = performance.now();
  const bytes = writer.finish();
  buildMs += performance.now() - finish;

  mkdirSync(folder, { recursive: true });
  const file = join(folder, `${facts.count}-${facts.seed}${facts.unfriendly ? '-unfriendly' : ''}.snapshot`);
  writeFileSync(file, new Uint8Array(bytes));
  const { snapshot, loadMs } = loadSnapshot(file);
  rmSync(file);

  const compile = performance.now();
  const indexed = indexSnapshot(snapshot, prices);
  const compileMs = performance.now() - compile;
  const supply = createSupply(prices);
  const rows = rowWriter.finish((id) => {
    const unit = supply.unitOf(id);
    return unit && unit.partMinor + unit.waitMinor;
  });
  return { facts, indexed, offers: prices.offers.length, rows, buildMs, loadMs, compileMs };
}

/** Load as a server does: the whole file into memory, then opened. The file was written just now, so the disk's cache is warm. */
function loadSnapshot(file: string): { snapshot: Snapshot; loadMs: number } {
  const start = performance.now();
  const { buffer, byteOffset, byteLength } = readFileSync(file);
  const whole = byteOffset === 0 && byteLength === buffer.byteLength ? buffer : buffer.slice(byteOffset, byteOffset + byteLength);
  const opened = openSnapshot(whole as ArrayBuffer);
  if (!opened.ok) throw new Error('the snapshot just written does not open');
  const { value: snapshot } = opened;
  snapshot.partAt(snapshot.count - 1);
  return { snapshot, loadMs: performance.now() - start };
}
