import type { JobState } from '../../catalog-schema/index.ts';
import type { CatalogueKeeper, PhotographKeeper, Service } from '../client/index.ts';

/** Pictures of open jobs that are fetched ahead, bytes: some forty as telephones take them, scaled down. Common practice, no source. */
const PICTURES_AHEAD_BYTES = 40_000_000;

/** Orders under way that are fetched ahead. */
const ORDERS_AHEAD = 50;

export interface ReadyWorld {
  readonly service: Service;
  readonly catalogue: CatalogueKeeper;
  readonly photographs: Pick<PhotographKeeper, 'find'>;
  /** whether a person pays for what is fetched, or has asked to save it */
  readonly sparing: () => boolean;
}

/**
 * Fetches what a job may need before it is asked for, so that one visit with a network is enough: the catalogue's file, prices, shelf, lists,
 * and the pictures of jobs that are not done. What cannot be had is left for the next visit.
 */
export async function getReady({ service, catalogue, photographs, sparing }: ReadyWorld): Promise<void> {
  await Promise.allSettled([
    service.readPrices(), service.readShelf(), service.readStock(), service.readHistory(), service.readReplacements(), service.readFaultShares(), service.listReservations(), service.listOrderLines(), service.listOutcomes(),
    renewCatalogue(service, catalogue),
  ]);
  // What is under way may be unpacked where there is no network.
  const under = (await service.listOrders().catch(() => [])).filter(({ state }) => state === 'sent' || state === 'part-received').slice(0, ORDERS_AHEAD);
  await Promise.allSettled([service.listSuppliers(), ...under.map(({ id }) => service.readOrder(id))]);
  if (sparing()) return;
  const jobs = await service.listJobs().catch((): JobState[] => []);
  let left = PICTURES_AHEAD_BYTES;
  for (const { id, document } of jobs) {
    if (document.signedOff !== undefined) continue;
    for (const hash of Object.keys(document.photographs ?? {})) {
      if (left <= 0) return;
      left -= (await photographs.find(id, hash).catch(() => new Blob())).size;
    }
  }
}

async function renewCatalogue(service: Service, catalogue: CatalogueKeeper): Promise<void> {
  const fresh = await service.readSnapshot((await catalogue.read())?.tag);
  if (fresh !== 'unchanged') await catalogue.keep(fresh);
}
