/** One row: what the shop pays and charges. `kitPrices` is JSON, null where the product's own table is to be used. */
export interface ShopTable {
  id: 1;
  currency: string;
  labourPerHour: number | null;
  misfitCost: number | null;
  waitCostPerDay: number | null;
  kitPrices: string | null;
}

export interface SupplierTable {
  id: string;
  position: number;
  freight: number;
  freeFreightFrom: number | null;
  minOrder: number | null;
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
}
