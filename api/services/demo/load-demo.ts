import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { printFault, readInput, readJsonText, LIMITS, newJob, pastDemand, type InputFault, type NewJob, type Read, type ShopFile } from '../../../catalog-schema/index.ts';
import { readPartsPath } from '../../../catalog-schema/folder/index.ts';
import {
  findShop, insertOffers, insertSuppliers, listJobs, listParts, putShop, type Store, type Tx,
} from '../../store/index.ts';
import type { CatalogueService } from '../catalogue/catalogue-service.ts';
import type { Clock } from '../clock.ts';
import type { JobService } from '../jobs/job-service.ts';
import { openShelf } from '../shelf/index.ts';
import { storable, writeCard, writeOffer } from '../suppliers/index.ts';
import { storeDemand } from './load-demand.ts';
import { readShopOfParts } from './shop-file.ts';

export interface DemoLoading {
  readonly store: Store;
  readonly catalogue: CatalogueService;
  readonly jobs: JobService;
  readonly clock: Clock;
  /** told, one line each, what was left out */
  readonly report: (line: string) => void;
}

/**
 * Loads a folder laid out as demo-catalog/ into a database that holds nothing yet, all in one transaction;
 * does nothing in any other.
 */
export async function loadDemo(folder: string, { store, catalogue, jobs, clock, report }: DemoLoading): Promise<void> {
  const reportFaults = (file: string, faults: readonly InputFault[]): void => faults.forEach((fault) => report(`${file}: ${printFault(fault)}`));
  if (catalogue.current().parts.length > 0) return;
  await store.transact(async (tx) => {
    if (await holdsAnything(tx)) return;
    const rows = readPartsPath(folder);
    if (!rows.ok) return reportFaults('parts', rows.faults);
    const { parts, faults } = await catalogue.importPartsIn(tx, rows.value);
    reportFaults('parts', faults);

    const shopJson = readJsonFile(join(folder, 'shop.json'));
    const { shop, faults: shopFaults } = shopJson.ok
      ? readShopOfParts(shopJson.value, new Set(parts.map((part) => part.id))) : { faults: shopJson.faults };
    reportFaults('shop.json', shopFaults);
    if (existsSync(join(folder, 'demand.json'))) {
      const demandJson = readJsonFile(join(folder, 'demand.json'));
      const demand = demandJson.ok ? readInput(pastDemand, demandJson.value) : demandJson;
      if (demand.ok) await storeDemand(tx, demand.value, new Map(shop?.shelf.map(({ partId, bin }) => [partId, bin])), new Set(parts.map((part) => part.id)), clock.now());
      else reportFaults('demand.json', demand.faults);
    }
    if (shop) await storeShop(tx, shop, clock);

    for (const job of readJobFiles(join(folder, 'jobs'), reportFaults)) {
      const created = await jobs.createIn(tx, job);
      if (!created.ok && created.refusal.kind === 'faults') reportFaults(`job ${job.id}`, created.refusal.faults);
    }
  });
  await catalogue.reload();
}

async function holdsAnything(tx: Tx): Promise<boolean> {
  return await findShop(tx) !== undefined || (await listParts(tx)).length > 0 || (await listJobs(tx)).length > 0;
}

async function storeShop(tx: Tx, shop: ShopFile, clock: Clock): Promise<void> {
  await putShop(tx, {
    currency: shop.currency, labourPerHour: shop.labourPerHour ?? null, misfitCost: shop.misfitCost ?? null,
    waitCostPerDay: shop.waitCostPerDay ?? null,
    // An empty list is a shop that has not priced its small stuff: the product's own table is used.
    kitPrices: shop.kitPrices?.length ? JSON.stringify(shop.kitPrices) : null,
    name: storable(shop.name), contact: storable(shop.contact), taxes: shop.taxes === undefined ? null : JSON.stringify(shop.taxes),
  });
  await insertSuppliers(tx, shop.suppliers.map(writeCard));
  await insertOffers(tx, shop.offers.map(writeOffer));
  await openShelf(tx, shop.shelf, clock.now().toISOString());
}

/** The jobs of a folder, oldest first, so that the newest stands first in the list. */
function readJobFiles(folder: string, report: (file: string, faults: readonly InputFault[]) => void): NewJob[] {
  if (!existsSync(folder)) return [];
  const jobs: NewJob[] = [];
  for (const name of readdirSync(folder).filter((file) => file.endsWith('.json')).toSorted()) {
    const json = readJsonFile(join(folder, name));
    const read = json.ok ? readInput(newJob, withoutExpectation(json.value)) : json;
    if (read.ok) jobs.push(read.value);
    else report(`jobs/${name}`, read.faults);
  }
  return jobs.toSorted((a, b) => a.at < b.at ? -1 : a.at > b.at ? 1 : 0);
}

/** How a demo job should end is for its reader and the tests, not part of the job. */
function withoutExpectation(job: unknown): unknown {
  if (typeof job !== 'object' || job === null || Array.isArray(job)) return job;
  const { expect: _expect, ...rest } = job as Record<string, unknown>;
  return rest;
}

function readJsonFile(path: string): Read<unknown> {
  if (!existsSync(path)) return { ok: false, faults: [{ path: '', found: 'no such file', want: 'a JSON file' }] };
  return readJsonText(readFileSync(path, 'utf8').replace(/^\uFEFF/, ''), LIMITS.catalogueFileBytes);
}
