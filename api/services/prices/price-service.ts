import type { Offer, Prices, ShelfEntry, Supplier } from '../../../catalog-schema/index.ts';
import {
  findShop, listOffers, listSuppliers, type Db, type OfferTable, type Store,
} from '../../store/index.ts';
import { todayOf, type Clock } from '../clock.ts';
import { readShelf } from '../shelf/shelf-reader.ts';

/** ISO 4217's code for "no currency": a shop that has not said its own. */
const NO_CURRENCY = 'XXX';

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
      return {
        currency: shop?.currency ?? NO_CURRENCY,
        ...dropNulls(rates),
        today: todayOf(clock),
        ...(shop?.kitPrices ? { kitPrices: JSON.parse(shop.kitPrices) as NonNullable<Prices['kitPrices']> } : {}),
        shelf: (await readShelf(db)).map(({ partId, onHand, reserved, unitCost }): ShelfEntry => ({ partId, onHand, reserved, unitCost })),
        suppliers: (await listSuppliers(db)).map(({ position: _position, ...supplier }): Supplier => dropNulls(supplier)),
        offers: await readOffers(db),
      };
    },
  };
}

/** Every offer, or those of one part. */
export async function readOffers(db: Db, partId?: string): Promise<Offer[]> {
  return (await listOffers(db, partId)).map(readOffer);
}

/** The currency the shop buys and sells in. */
export async function readCurrency(db: Db): Promise<string> {
  return (await findShop(db))?.currency ?? NO_CURRENCY;
}

function readOffer({ breaks, ...row }: OfferTable): Offer {
  return { ...dropNulls(row), ...(breaks === null ? {} : { breaks: JSON.parse(breaks) as NonNullable<Offer['breaks']> }) };
}

type WithoutNulls<T> = { [K in keyof T as null extends T[K] ? never : undefined extends T[K] ? never : K]: T[K] }
  & { [K in keyof T as null extends T[K] ? K : undefined extends T[K] ? K : never]?: NonNullable<T[K]> };

function dropNulls<T extends object>(row: T): WithoutNulls<T> {
  return Object.fromEntries(Object.entries(row).filter(([, value]) => value !== null && value !== undefined)) as WithoutNulls<T>;
}
