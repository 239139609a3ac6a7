import type { Offer, ReorderAnswer, ReorderAsk, Supplier } from '../../../catalog-schema/index.ts';
import { arrivalDate, listStandIns, planReorder, type SolveMixedInteger } from '../../engine/index.ts';
import { listDemand, listLeadDays, type Store } from '../../store/index.ts';
import type { CatalogueService } from '../catalogue/catalogue-service.ts';
import { addDays, todayOf, type Clock } from '../clock.ts';
import { listOpenServes } from '../orders/index.ts';
import type { PriceService } from '../prices/price-service.ts';
import { openSolver } from '../solver/open-solver.ts';

export type ReorderWish = Pick<ReorderAsk, 'by' | 'serviceLevel'>;

export interface ReorderService {
  /** What the shelf is to have again; for orders about to be sent, whether topping them up pays. */
  current(drafts?: ReorderAsk['drafts'], wish?: ReorderWish): Promise<ReorderAnswer>;
}

/** Demand is looked at so many days back. */
const HISTORY_DAYS = 730;

export function createReorderService(store: Store, catalogue: Pick<CatalogueService, 'current'>, prices: PriceService, clock: Clock): ReorderService {
  let solver: Promise<SolveMixedInteger> | undefined;
  return {
    current: async (drafts, wish = {}) => {
      const today = todayOf(clock);
      const since = addDays(today, -HISTORY_DAYS);
      const [{ currency, shelf, suppliers, offers, waitCostPerDay }, demand, serves, leadDays] = await Promise.all([
        prices.current(), listDemand(store.db, since), listOpenServes(store.db), listLeadDays(store.db, {}),
      ]);
      const receipts = new Map<string, number[]>();
      for (const { supplierId, days } of leadDays) receipts.set(supplierId, [...(receipts.get(supplierId) ?? []), days]);
      const stocked = new Set(shelf.map(({ partId }) => partId));
      const standIns = listStandIns(catalogue.current().parts, stocked);
      const wanted = new Map<string, { day: string; qty: number }[]>();
      for (const { partId, day, qty } of demand) if (qty > 0) wanted.set(partId, [...(wanted.get(partId) ?? []), { day, qty }]);
      const parts = [...stocked].toSorted().flatMap((partId): ReorderAsk['parts'] => {
        const bins = shelf.filter((entry) => entry.partId === partId);
        const offer = findStandingOffer(offers, partId, today);
        // What nobody offers cannot be ordered again.
        if (!offer) return [];
        const standsFor = [...standIns].filter(([other, standIn]) => standIn === partId && wanted.has(other)).map(([other]) => ({ partId: other, demand: wanted.get(other)! }));
        return [{
          partId, unitCost: offer.price, ...(offer.pack === undefined ? {} : { pack: offer.pack }),
          onHand: sum(bins, ({ onHand }) => onHand), reserved: Math.min(sum(bins, ({ onHand }) => onHand), sum(bins, ({ reserved = 0 }) => reserved)),
          // What is ordered for a job goes to that job.
          onOrder: sum(serves.filter((serve) => serve.partId === partId && serve.jobId === undefined), ({ qty }) => qty),
          leadDays: calendarDays(offer, suppliers, today), receipts: receipts.get(offer.supplierId) ?? [], demand: wanted.get(partId) ?? [],
          ...(standsFor.length === 0 ? {} : { standsFor }),
        }];
      });
      return planReorder({
        currency, today, since, ...wish, ...(waitCostPerDay === undefined ? {} : { withoutCostPerDay: waitCostPerDay }), parts, ...(drafts === undefined ? {} : { drafts }), suppliers, offers,
      }, await (solver ??= openSolver()));
    },
  };
}

/** The cheapest offer that stands; of equal ones the earlier, then by supplier. */
function findStandingOffer(offers: readonly Offer[], partId: string, today: string): Offer | undefined {
  return offers.filter((offer) => offer.partId === partId && (offer.validUntil ?? today) >= today && offer.inStock !== 0)
    .toSorted((a, b) => a.price - b.price || a.leadDays - b.leadDays || (a.supplierId < b.supplierId ? -1 : 1))[0];
}

function calendarDays({ supplierId, leadDays }: Offer, suppliers: readonly Supplier[], today: string): number {
  const { calendar } = suppliers.find(({ id }) => id === supplierId) ?? {};
  return Math.round((Date.parse(arrivalDate({ day: today }, leadDays, calendar)) - Date.parse(today)) / 86_400_000);
}

function sum<T>(list: readonly T[], of: (entry: T) => number): number { return list.reduce((total, entry) => total + of(entry), 0); }
