import {
  bookOrderEvent, ORDER_STATES, type BookedLine, type OrderBook, type OrderEvent, type OrderStateName,
} from '../../../catalog-schema/index.ts';
import {
  insertOrderEvent, listArrivalShares, listOrderEvents, listOrders, listOvertakenOrders, updateOrderState, type Db, type OrderFilter, type SupplierOrderTable, type Tx,
} from '../../store/index.ts';
import { done, refuse, type Outcome } from '../outcome.ts';

/** An order with what its events add up to. */
export interface KeptOrder { readonly row: SupplierOrderTable; readonly book: OrderBook }

/** States in which something may still come. */
export const OPEN_STATES: readonly OrderStateName[] = ORDER_STATES.filter((state) => state !== 'received' && state !== 'closed' && state !== 'cancelled');

/** Orders, the newest first. @throws where the log does not add up: it is only ever added to by `appendEvent` */
export async function readOrders(db: Db, filter: OrderFilter = {}): Promise<KeptOrder[]> {
  const rows = await listOrders(db, filter);
  const books = new Map<string, OrderBook>();
  for (const { orderId, body } of await listOrderEvents(db, rows.map(({ id }) => id))) {
    const booked = bookOrderEvent(books.get(orderId), JSON.parse(body) as OrderEvent);
    if (!booked.ok) throw new Error(`the events of order ${orderId} do not add up: ${JSON.stringify(booked)}`);
    books.set(orderId, booked.book);
  }
  return rows.map((row) => ({ row, book: books.get(row.id)! }));
}

/** Adds one event, where the order is so far; the row's state follows. */
export async function appendEvent(tx: Tx, row: SupplierOrderTable, before: OrderBook | undefined, event: OrderEvent): Promise<Outcome<OrderBook>> {
  const booked = bookOrderEvent(before, event);
  if (!booked.ok) return 'why' in booked ? refuse({ kind: 'conflict', why: booked.why }) : refuse({ kind: 'faults', faults: booked.faults });
  const { id, kind, by = null, at } = event;
  await insertOrderEvent(tx, { id, orderId: row.id, kind, body: JSON.stringify(event).replace(/\p{Surrogate}/gu, '\uFFFD'), by, at });
  if (booked.book.state !== row.state) await updateOrderState(tx, row.id, booked.book.state);
  return done(booked.book);
}

/** A wish of a job, or of the shelf, for units that are ordered and have not reached it. */
export interface OpenServe {
  readonly serveId: string;
  readonly order: KeptOrder;
  readonly line: BookedLine;
  readonly jobId: string | undefined;
  readonly partId: string;
  /** units that are still to reach it */
  readonly qty: number;
  readonly at: string;
}

/**
 * What jobs and the shelf still wait for, the oldest wish first; of one part where it is named. A job whose units went to one that was first
 * waits on, though its own order came whole. `orderId`: an order that is looked at as well, whatever its state.
 */
export async function listOpenServes(db: Db, { partId, orderId }: { partId?: string; orderId?: string } = {}): Promise<OpenServe[]> {
  const more = [...new Set([...await listOvertakenOrders(db), ...(orderId === undefined ? [] : [orderId])])];
  const open = await readOrders(db, { states: OPEN_STATES });
  const orders = [...open, ...(await readOrders(db, { ids: more })).filter(({ row }) => !open.some((each) => each.row.id === row.id))];
  // Of one moment: the order that was written first, then as its lines stand.
  const serves = orders.toSorted((a, b) => a.row.number - b.row.number).flatMap((order) => order.book.lines.filter((line) => partId === undefined || line.partId === partId).flatMap((line) => line.serves.map((serve) => ({
    serveId: serve.id, order, line, jobId: serve.jobId, partId: line.partId, qty: serve.qty, at: serve.at,
  }))));
  const got = sumShares(await listArrivalShares(db, serves.map(({ serveId }) => serveId)));
  return serves.map((serve): OpenServe => ({ ...serve, qty: serve.qty - (got.get(serve.serveId) ?? 0) }))
    .filter(({ qty }) => qty > 0).toSorted((a, b) => compare(a.at, b.at));
}

/** Units that each wish has got. */
export function sumShares(shares: readonly { readonly serveId: string; readonly qty: number }[]): ReadonlyMap<string, number> {
  const sums = new Map<string, number>();
  for (const { serveId, qty } of shares) sums.set(serveId, (sums.get(serveId) ?? 0) + qty);
  return sums;
}

export const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
