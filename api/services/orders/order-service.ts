import type { OrderLine, OrderLineRequest } from '../../../catalog-schema/index.ts';
import {
  deleteOrderLine, findJob, findOrderLine, insertOrderLine, listOrderLines, type OrderLineTable, type Store,
} from '../../store/index.ts';
import type { CatalogueService } from '../catalogue/catalogue-service.ts';
import { addDays, todayOf, type Clock } from '../clock.ts';
import { done, refuse, refuseFault, type Outcome } from '../outcome.ts';
import { readCurrency, readOffers } from '../prices/price-service.ts';
import { findCheapestLine } from './cheapest-offer.ts';

/** More units than any bench orders; keeps sums of money exact. */
const MOST_UNITS = 1_000_000;

export interface OrderService {
  lines(jobId?: string): Promise<OrderLine[]>;
  /** Drafts a line from the cheapest offer that stands. A repeated id changes nothing and answers `created` false. */
  draft(request: OrderLineRequest): Promise<Outcome<{ created: boolean; line: OrderLine }>>;
  withdraw(id: string): Promise<Outcome<null>>;
}

export function createOrderService(store: Store, catalogue: CatalogueService, clock: Clock): OrderService {
  return {
    lines: async (jobId) => (await listOrderLines(store.db, jobId)).map(readLine),
    draft: async (request) => {
      if (!catalogue.current().byId.has(request.partId)) {
        return refuseFault('partId', JSON.stringify(request.partId), 'the id of a part of the catalogue');
      }
      if (request.qty > MOST_UNITS) return refuseFault('qty', String(request.qty), `a number of at most ${MOST_UNITS}`);
      return store.transact(async (tx) => {
        const present = await findOrderLine(tx, request.id);
        if (present) return done({ created: false, line: readLine(present) });
        if (request.jobId !== undefined && !await findJob(tx, request.jobId)) {
          return refuseFault('jobId', JSON.stringify(request.jobId), 'the id of a job');
        }
        const today = todayOf(clock);
        const currency = await readCurrency(tx);
        const cheapest = findCheapestLine(await readOffers(tx, request.partId), request.qty, today, currency);
        if (!cheapest) {
          return refuse({ kind: 'conflict', why: `no offer that stands on ${today} delivers ${request.qty} of ${request.partId}` });
        }
        const { id, partId, jobId = null, at } = request;
        const { supplierId, qty, unitPrice, leadDays } = cheapest;
        const line = { id, partId, qty, jobId, at, supplierId, unitPrice, currency, arrives: addDays(today, leadDays) };
        await insertOrderLine(tx, line);
        return done({ created: true, line: readLine(line) });
      });
    },
    withdraw: async (id) => {
      const withdrawn = await store.transact((tx) => deleteOrderLine(tx, id));
      return withdrawn ? done(null) : refuse({ kind: 'not-found', what: `no order line ${JSON.stringify(id.slice(0, 60))}` });
    },
  };
}

function readLine({ jobId, ...line }: OrderLineTable): OrderLine {
  return { ...line, ...(jobId === null ? {} : { jobId }) };
}
