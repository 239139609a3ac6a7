import type { Prices, ShelfEntry } from '../../../catalog-schema/index.ts';
import { findShop, type Store } from '../../store/index.ts';
import { timeOf, todayOf, type Clock } from '../clock.ts';
import { readShelf } from '../shelf/shelf-reader.ts';
import { dropNulls, readCurrency, readTerms } from '../suppliers/supplier-cards.ts';

export { readCurrency };

export interface PriceService {
  /** All that a fit needs to know of money today: shelf, suppliers, offers, rates. */
  current(): Promise<Prices>;
}

export function createPriceService(store: Store, clock: Clock): PriceService {
  return {
    current: async () => {
      const { db } = store;
      const shop = await findShop(db);
      const rates = { labourPerHour: shop?.labourPerHour, misfitCost: shop?.misfitCost, waitCostPerDay: shop?.waitCostPerDay };
      const { suppliers, offers } = await readTerms(db);
      return {
        currency: await readCurrency(db),
        ...dropNulls(rates),
        today: todayOf(clock),
        // Only a supplier with a cut-off asks for the time of day.
        ...(suppliers.some(({ calendar }) => calendar?.cutOff !== undefined) ? { now: timeOf(clock) } : {}),
        ...(shop?.kitPrices ? { kitPrices: JSON.parse(shop.kitPrices) as NonNullable<Prices['kitPrices']> } : {}),
        shelf: (await readShelf(db)).map(({ partId, onHand, reserved, unitCost }): ShelfEntry => ({ partId, onHand, reserved, unitCost })),
        suppliers, offers,
      };
    },
  };
}
