import type { Reservation, ReservationRequest, ShelfRow } from '../../../catalog-schema/index.ts';
import {
  deleteReservation, findJob, findReservation, insertReservation, listReservations, listShelfBins,
  type ReservationWithBins, type ShelfBinState, type Store,
} from '../../store/index.ts';
import type { CatalogueService } from '../catalogue/catalogue-service.ts';
import { done, refuse, refuseFault, type Outcome } from '../outcome.ts';

export interface ShelfService {
  /** Every bin as it stands: units sold over the counter have left it, units put aside have not. */
  list(): Promise<ShelfRow[]>;
  reservations(jobId?: string): Promise<Reservation[]>;
  /** Puts units aside, never more than are free. A repeated id changes nothing and answers `created` false. */
  reserve(request: ReservationRequest): Promise<Outcome<{ created: boolean; reservation: Reservation }>>;
  /** Puts the units back. */
  release(id: string): Promise<Outcome<null>>;
}

export function createShelfService(store: Store, catalogue: CatalogueService): ShelfService {
  return {
    list: async () => (await listShelfBins(store.db)).map(readBin),
    reservations: async (jobId) => (await listReservations(store.db, jobId)).map(readReservation),
    reserve: async (request) => {
      if (!catalogue.current().byId.has(request.partId)) {
        return refuseFault('partId', JSON.stringify(request.partId), 'the id of a part of the catalogue');
      }
      // Checked and taken in one transaction: writers take turns, so nobody takes between the two.
      return store.transact(async (tx) => {
        const present = await findReservation(tx, request.id);
        if (present) return done({ created: false, reservation: readReservation(present) });
        if (request.jobId !== undefined && !await findJob(tx, request.jobId)) {
          return refuseFault('jobId', JSON.stringify(request.jobId), 'the id of a job');
        }
        const bins = (await listShelfBins(tx, request.partId)).map((bin) => ({ bin: bin.bin, free: readBin(bin).free }));
        const taken = takeFrom(bins, request.qty);
        if (!taken) {
          const free = bins.reduce((sum, bin) => sum + bin.free, 0);
          return refuse({ kind: 'conflict', why: `${request.qty} of ${request.partId} asked for, ${free} free` });
        }
        const { id, partId, qty, jobId = null, at } = request;
        const reservation = { id, partId, qty, jobId, at, bins: taken };
        await insertReservation(tx, reservation);
        return done({ created: true, reservation: readReservation(reservation) });
      });
    },
    release: async (id) => {
      const released = await store.transact((tx) => deleteReservation(tx, id));
      return released ? done(null) : refuse({ kind: 'not-found', what: `no reservation ${JSON.stringify(id.slice(0, 60))}` });
    },
  };
}

/** From one bin where one has enough, else from each in turn; undefined where all together have too few. */
function takeFrom(bins: readonly { bin: string; free: number }[], qty: number): { bin: string; qty: number }[] | undefined {
  const enough = bins.find((bin) => bin.free >= qty);
  if (enough) return [{ bin: enough.bin, qty }];
  const taken: { bin: string; qty: number }[] = [];
  let missing = qty;
  for (const { bin, free } of bins) {
    const some = Math.min(free, missing);
    if (some > 0) taken.push({ bin, qty: some });
    missing -= some;
  }
  return missing === 0 ? taken : undefined;
}

function readBin({ partId, bin, onHand, setAside, unitCost, forJobs, sold }: ShelfBinState): ShelfRow {
  const reserved = setAside + forJobs;
  return { partId, bin, onHand: onHand - sold, reserved, free: onHand - sold - reserved, unitCost };
}

function readReservation({ id, partId, qty, jobId, at, bins }: ReservationWithBins): Reservation {
  return { id, partId, qty, ...(jobId === null ? {} : { jobId }), at, bin: bins.map((taken) => taken.bin).join(', ') };
}
