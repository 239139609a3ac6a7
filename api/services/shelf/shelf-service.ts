import type { Reservation, ReservationRequest, ShelfRow, StockAnswer, StockMove, StockMoveRequest, StockRow } from '../../../catalog-schema/index.ts';
import { listStockBins, listStockMoves, type Store } from '../../store/index.ts';
import type { CatalogueService } from '../catalogue/catalogue-service.ts';
import type { Clock } from '../clock.ts';
import { refuseFault, type Outcome } from '../outcome.ts';
import { readCurrency } from '../prices/price-service.ts';
import { readBin, readMove, recordMoves } from './record-moves.ts';
import { readShelf } from './shelf-reader.ts';
import { readReservations, releaseIn, reserveIn } from './reservations.ts';

/** Moves answered at once. */
const MOST_MOVES = 1_000;

interface MovesWanted { readonly partId?: string; readonly bin?: string; readonly jobId?: string; readonly after?: number; readonly last?: boolean; readonly most?: number }

export interface ShelfService {
  /** Every bin as a fit and a plan may count on it: nothing in it is less than none, whatever the books say. */
  list(): Promise<ShelfRow[]>;
  /** Every bin as its moves add up, of one part or one name where it is given. */
  rows(only?: { partId?: string; bin?: string }): Promise<StockRow[]>;
  /** Moves in the order of the ledger; `last` the newest first. At most 1,000. */
  moves(wanted: MovesWanted): Promise<StockMove[]>;
  /** Records moves, all or none. A move whose id is there already changes nothing. */
  record(moves: readonly StockMoveRequest[], by?: string): Promise<Outcome<StockAnswer>>;
  reservations(jobId?: string): Promise<Reservation[]>;
  /** Puts units aside, never more than are free. A repeated id changes nothing and answers `created` false. */
  reserve(request: ReservationRequest, by?: string): Promise<Outcome<{ created: boolean; reservation: Reservation }>>;
  /** Puts the units back. */
  release(id: string, by?: string): Promise<Outcome<null>>;
}

export function createShelfService(store: Store, catalogue: CatalogueService, clock: Clock): ShelfService {
  return {
    list: () => readShelf(store.db),
    rows: async (only = {}) => {
      const currency = await readCurrency(store.db);
      return (await listStockBins(store.db, only)).map((bin) => readBin(bin, currency));
    },
    moves: async (wanted) => (await listStockMoves(store.db, { ...wanted, most: Math.min(wanted.most ?? MOST_MOVES, MOST_MOVES) })).map(readMove),
    record: (moves, by) => store.transact((tx) => recordMoves(tx, moves, by)),
    reservations: (jobId) => readReservations(store.db, jobId),
    reserve: async (request, by) => {
      if (!catalogue.current().byId.has(request.partId)) {
        return refuseFault('partId', JSON.stringify(request.partId), 'the id of a part of the catalogue');
      }
      // Checked and taken in one transaction: writers take turns, so nobody takes between the two.
      return store.transact((tx) => reserveIn(tx, request, by));
    },
    release: (id, by) => store.transact((tx) => releaseIn(tx, id, clock.now().toISOString(), by)),
  };
}
