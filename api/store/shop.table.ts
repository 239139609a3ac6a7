import type { Generated } from 'kysely';

/** One row: what the shop pays and charges. `kitPrices` is JSON, null where the product's own table is to be used. */
export interface ShopTable {
  id: 1;
  currency: string;
  labourPerHour: number | null;
  misfitCost: number | null;
  waitCostPerDay: number | null;
  kitPrices: string | null;
  name: string | null;
  contact: string | null;
  /** JSON, null where the shop has named none */
  taxes: string | null;
}

export interface SupplierTable {
  id: string;
  position: number;
  freight: number;
  freeFreightFrom: number | null;
  minOrder: number | null;
  name: string | null;
  contact: string | null;
  account: string | null;
  currency: string | null;
  rate: number | null;
  tax: string | null;
  pricesWithTax: number | null;
  /** JSON */
  calendar: string | null;
}

/** `breaks` is JSON, rising in minQty. */
export interface OfferTable {
  supplierId: string;
  partId: string;
  price: number;
  breaks: string | null;
  coreCharge: number | null;
  validUntil: string | null;
  pack: number | null;
  minQty: number | null;
  leadDays: number;
  inStock: number | null;
  tax: string | null;
}

/** A supplier's card, an offer or the shop's card as it was written, by whom and when; `body` is JSON. Rows are only ever added. */
export interface ShopEditTable {
  seq: Generated<number>;
  id: string;
  what: 'supplier' | 'offer' | 'shop';
  supplierId: string | null;
  partId: string | null;
  body: string;
  by: string | null;
  at: string;
}
