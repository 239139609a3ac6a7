/** A drafted line of an order to a supplier; `qty` is what is ordered: whole packs, at least the offer's least quantity. */
export interface OrderLineTable {
  id: string;
  partId: string;
  qty: number;
  jobId: string | null;
  at: string;
  supplierId: string;
  unitPrice: number;
  currency: string;
  arrives: string;
}
