import {
  NO_CURRENCY, termsInCurrency, type Offer, type Prices, type ShopCard, type ShopOffer, type SupplierCalendar, type SupplierCard, type TaxCategory,
} from '../../../catalog-schema/index.ts';
import { findShop, listOffers, listSuppliers, type Db, type OfferTable, type SupplierTable } from '../../store/index.ts';

/** The currency the shop buys and sells in. */
export async function readCurrency(db: Db): Promise<string> {
  return (await findShop(db))?.currency ?? NO_CURRENCY;
}

export async function readShopCard(db: Db): Promise<ShopCard> {
  const shop = await findShop(db);
  return { ...dropNulls({ name: shop?.name, contact: shop?.contact }), taxes: typeof shop?.taxes === 'string' ? JSON.parse(shop.taxes) as TaxCategory[] : [] };
}

/** Every supplier's card, in the shop's order. */
export async function readSupplierCards(db: Db): Promise<SupplierCard[]> {
  return (await listSuppliers(db)).map(readCard);
}

/** Every offer in its supplier's own currency; of one part, or of one supplier. */
export async function readShopOffers(db: Db, of: { partId?: string; supplierId?: string } = {}): Promise<ShopOffer[]> {
  return (await listOffers(db, of)).map(readOffer);
}

/** Suppliers and offers in the shop's currency, as plans and fits reckon with them; of one part where it is named. */
export async function readTerms(db: Db, partId?: string): Promise<Pick<Prices, 'suppliers' | 'offers'>> {
  return termsInCurrency(await readSupplierCards(db), await readShopOffers(db, partId === undefined ? {} : { partId }), await readCurrency(db));
}

function readCard({ position: _position, calendar, pricesWithTax, ...row }: SupplierTable): SupplierCard {
  return {
    ...dropNulls(row), ...(calendar === null ? {} : { calendar: JSON.parse(calendar) as SupplierCalendar }),
    ...(pricesWithTax === null ? {} : { pricesWithTax: pricesWithTax === 1 }),
  };
}

/** A card as it is stored, at its place in the shop's order. */
export function writeCard({ calendar, pricesWithTax, id, freight, ...card }: SupplierCard, position: number): SupplierTable {
  return {
    id, position, freight, freeFreightFrom: card.freeFreightFrom ?? null, minOrder: card.minOrder ?? null, name: storable(card.name), contact: storable(card.contact),
    account: storable(card.account), currency: card.currency ?? null, rate: card.rate ?? null, tax: storable(card.tax),
    pricesWithTax: pricesWithTax === undefined ? null : Number(pricesWithTax), calendar: calendar === undefined ? null : JSON.stringify(calendar),
  };
}

function readOffer({ breaks, ...row }: OfferTable): ShopOffer {
  return { ...dropNulls(row), ...(breaks === null ? {} : { breaks: JSON.parse(breaks) as NonNullable<Offer['breaks']> }) };
}

/** An offer as it is stored. */
export function writeOffer(offer: ShopOffer): OfferTable {
  return {
    supplierId: offer.supplierId, partId: offer.partId, price: offer.price, breaks: offer.breaks?.length ? JSON.stringify(offer.breaks) : null,
    coreCharge: offer.coreCharge ?? null, validUntil: offer.validUntil ?? null, pack: offer.pack ?? null, minQty: offer.minQty ?? null,
    leadDays: offer.leadDays, inStock: offer.inStock ?? null, tax: storable(offer.tax),
  };
}

/** Half a surrogate pair cannot be stored as text. */
export function storable(text: string | undefined): string | null {
  return text?.replace(/\p{Surrogate}/gu, '\uFFFD') ?? null;
}

type WithoutNulls<T> = { [K in keyof T as null extends T[K] ? never : undefined extends T[K] ? never : K]: T[K] }
  & { [K in keyof T as null extends T[K] ? K : undefined extends T[K] ? K : never]?: NonNullable<T[K]> };

/** A row as the contract has it: what is null is absent. */
export function dropNulls<T extends object>(row: T): WithoutNulls<T> {
  return Object.fromEntries(Object.entries(row).filter(([, value]) => value !== null && value !== undefined)) as WithoutNulls<T>;
}
