import type { Generated } from 'kysely';

/** An order to a supplier. `state` is that to which its events add up, kept beside them so that open orders are found by it. */
export interface SupplierOrderTable {
  id: string;
  /** counted from 1, for people */
  number: number;
  supplierId: string;
  state: string;
}

/** Events of orders in the order in which the server took them in; `body` is the whole event as JSON. Rows are only ever added: triggers refuse the rest. */
export interface OrderEventTable {
  seq: Generated<number>;
  id: string;
  orderId: string;
  kind: string;
  body: string;
  by: string | null;
  at: string;
}

/** Who asked for units of a line, by the id that the device gave the wish; `answer` is what was answered first, as JSON. */
export interface OrderWishTable {
  id: string;
  orderId: string;
  lineId: string;
  jobId: string | null;
  qty: number;
  answer: string;
}

/** Units of a receipt that were put aside for a job; `serveId` is the job's wish, of whichever order. Rows are only ever added. */
export interface ArrivalShareTable {
  receiptId: string;
  lineId: string;
  serveId: string;
  jobId: string;
  qty: number;
  bin: string;
}

/** Days from the sending of an order to a receipt of it, as the supplier's offers count theirs. Rows are only ever added. */
export interface LeadDayTable {
  receiptId: string;
  orderId: string;
  supplierId: string;
  days: number;
  at: string;
}
