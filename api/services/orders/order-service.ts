import {
  type Evidence, type JobDocument, type NewOrder, type OrderAct, type OrderEvent, type OrderLine, type OrderLineRequest, type OrderSummary, type PurchaseOrder,
} from '../../../catalog-schema/index.ts';
import { arrivalDate, type SentAt } from '../../engine/source/index.ts';
import {
  findJob, findOrderEvent, findOrderWish, insertOrderWishes, listArrivalShares, listLeadDays, listOrdersOfJob, type Db, type Store, type Tx,
} from '../../store/index.ts';
import type { CatalogueService } from '../catalogue/catalogue-service.ts';
import { clockOf, todayOf, type Clock } from '../clock.ts';
import type { EvidenceService } from '../evidence/evidence-service.ts';
import { done, refuse, refuseFault, type Outcome } from '../outcome.ts';
import { readSupplierCards, readTerms, readCurrency } from '../suppliers/index.ts';
import { findCheapestLine } from './cheapest-offer.ts';
import { draftOrdersIn, layInDraftIn, readOfferBook, withdrawIn, writeChange } from './draft-orders.ts';
import { bookReturnIn } from './give-back.ts';
import { appendEvent, readOrders, sumShares, type KeptOrder } from './order-books.ts';
import { bookReceiptIn, sentAtOf, wantedBy } from './receive-goods.ts';
import { summarizeOrder, viewOrder } from './view-order.ts';

/** More units than any bench orders; keeps sums of money exact. */
const MOST_UNITS = 1_000_000;

export interface OrderService {
  /** Every order, the newest first. */
  list(): Promise<OrderSummary[]>;
  /** An order by its id, or by its number. */
  read(idOrNumber: string): Promise<Outcome<PurchaseOrder>>;
  /** Drafts an order from the supplier's standing offers. A repeated id changes nothing and answers `created` false. */
  draftOrder(draft: NewOrder): Promise<Outcome<{ created: boolean; order: PurchaseOrder }>>;
  /** Takes acts on an order, all or none. One whose id is there already changes nothing. */
  act(orderId: string, acts: readonly OrderAct[]): Promise<Outcome<PurchaseOrder>>;
  /** What is drafted or ordered for jobs and the counter, a line a wish; of one job where it is named. */
  lines(jobId?: string): Promise<OrderLine[]>;
  /** Lays a wish into the draft to whoever offers it cheapest. A repeated id changes nothing and answers `created` false. */
  draft(request: OrderLineRequest, by?: string): Promise<Outcome<{ created: boolean; line: OrderLine }>>;
  withdraw(id: string): Promise<Outcome<null>>;
}

export function createOrderService(store: Store, catalogue: CatalogueService, clock: Clock, evidence: EvidenceService): OrderService {
  const now = (): SentAt => ({ day: todayOf(clock), time: clockOf(clock.now()) });
  const sentAt = sentAtOf;

  const view = async (order: KeptOrder): Promise<PurchaseOrder> => {
    const { db } = store;
    const serves = order.book.lines.flatMap((line) => line.serves.map((serve) => ({ ...serve, partId: line.partId })));
    const jobs = new Map<string, { title: string; by: string | undefined }>();
    const weighed = new Map<string, Evidence>();
    for (const { id, jobId, partId } of serves) {
      if (jobId === undefined) continue;
      const row = jobs.has(jobId) ? undefined : await findJob(db, jobId);
      if (row !== undefined) {
        const document = JSON.parse(row.document) as JobDocument;
        jobs.set(jobId, { title: document.title, by: wantedBy(document) });
      }
      if (!order.book.evidence.has(id)) weighed.set(JSON.stringify([jobId, partId]), await evidence.ofJob(jobId, partId));
    }
    return viewOrder(order, {
      today: now(), sentAt, card: (await readSupplierCards(db)).find(({ id }) => id === order.row.supplierId),
      got: sumShares(await listArrivalShares(db, serves.map(({ id }) => id))), jobOf: (jobId) => jobs.get(jobId),
      evidenceOf: (jobId, partId) => weighed.get(JSON.stringify([jobId, partId])) ?? null,
      receipts: await listLeadDays(db, { orderIds: [order.row.id] }),
    });
  };
  const read = async (idOrNumber: string): Promise<Outcome<PurchaseOrder>> => {
    const number = /^\d{1,9}$/.test(idOrNumber) ? Number(idOrNumber) : undefined;
    const order = (await readOrders(store.db, number === undefined ? { id: idOrNumber } : { number }))[0];
    return order === undefined ? refuseUnknown(idOrNumber) : done(await view(order));
  };

  return {
    list: async () => {
      const cards = new Map((await readSupplierCards(store.db)).map((card) => [card.id, card]));
      return (await readOrders(store.db)).filter(({ book }) => book.lines.length > 0)
        .map((order) => summarizeOrder(order, { card: cards.get(order.row.supplierId), today: now(), sentAt }));
    },
    read,
    draftOrder: async (draft) => {
      const stranger = draft.lines.findIndex(({ partId }) => !catalogue.current().byId.has(partId));
      if (stranger >= 0) return refuseFault(`lines[${stranger}].partId`, JSON.stringify(draft.lines[stranger]!.partId), 'the id of a part of the catalogue');
      const drafted = await inOne(store, (tx) => draftOrdersIn(tx, [draft], todayOf(clock)));
      return drafted.ok ? done({ created: drafted.value[0]!.created, order: await view(drafted.value[0]!.order) }) : drafted;
    },
    act: async (orderId, acts) => {
      const kept = (await readOrders(store.db, { id: orderId }))[0];
      if (kept === undefined) return refuseUnknown(orderId);
      // Weighing evidence takes time: it is done before the transaction, and kept with the approval.
      const approved = acts.some(({ kind }) => kind === 'approved') ? (await view(kept)).lines.flatMap(({ serves }) => serves.flatMap((serve) => (
        serve.evidence === null ? [] : [{ serveId: serve.serveId, evidence: serve.evidence }]))) : [];
      const taken = await inOne(store, async (tx) => {
        for (const [index, act] of acts.entries()) {
          const applied = await takeAct(tx, orderId, act, approved, todayOf(clock));
          if (!applied.ok) return nameAct(applied, index, acts.length);
        }
        return done(null);
      });
      return taken.ok ? read(orderId) : taken;
    },
    lines: async (jobId) => {
      const orders = await readOrders(store.db, jobId === undefined ? {} : { ids: await listOrdersOfJob(store.db, jobId) });
      const cards = new Map((await readSupplierCards(store.db)).map((card) => [card.id, card]));
      return orders.filter(({ book }) => book.state !== 'cancelled').flatMap((order) => listLines(order, jobId, (lead, from) => arrivalDate(from, lead, cards.get(order.row.supplierId)?.calendar), now(), sentAt))
        .toSorted((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : a.id < b.id ? -1 : 1));
    },
    draft: async (request, by) => {
      if (!catalogue.current().byId.has(request.partId)) {
        return refuseFault('partId', JSON.stringify(request.partId), 'the id of a part of the catalogue');
      }
      if (request.qty > MOST_UNITS) return refuseFault('qty', String(request.qty), `a number of at most ${MOST_UNITS}`);
      return inOne<{ created: boolean; line: OrderLine }>(store, async (tx) => {
        const present = await findOrderWish(tx, request.id);
        const answer = present === undefined ? null : JSON.parse(present.answer) as OrderLine | null;
        if (answer !== null) return done({ created: false, line: answer });
        if (present !== undefined) return refuseFault('id', JSON.stringify(request.id), 'an id that no order uses yet');
        const { id, partId, qty, jobId, at } = request;
        if (jobId !== undefined && !await findJob(tx, jobId)) return refuseFault('jobId', JSON.stringify(jobId), 'the id of a job');
        const today = todayOf(clock);
        const cheapest = findCheapestLine((await readTerms(tx, partId)).offers, qty, today, await readCurrency(tx));
        if (!cheapest) return refuse({ kind: 'conflict', why: `no offer that stands on ${today} delivers ${qty} of ${partId}` });
        const laid = await layInDraftIn(tx, { supplierId: cheapest.supplierId, partId, serve: { id, qty, at, ...(jobId === undefined ? {} : { jobId }) }, by, today });
        if (!laid.ok) return laid;
        const { order, line } = laid.value;
        const calendar = (await readSupplierCards(tx)).find((card) => card.id === order.row.supplierId)?.calendar;
        const made = listLines(order, undefined, (lead, from) => arrivalDate(from, lead, calendar), now(), sentAt).find((each) => each.id === id)!;
        await insertOrderWishes(tx, [{ id, orderId: order.row.id, lineId: line.lineId, jobId: jobId ?? null, qty, answer: JSON.stringify(made) }]);
        return done({ created: true, line: made });
      });
    },
    withdraw: (id) => inOne(store, async (tx) => {
      const wish = await findOrderWish(tx, id);
      if (wish === undefined) return refuse({ kind: 'not-found', what: `no order line ${JSON.stringify(id.slice(0, 60))}` });
      return withdrawIn(tx, wish.orderId, id, todayOf(clock), clock.now().toISOString());
    }),
  };
}

/** Takes one act, with what it does to the shelf; one that is there already changes nothing. */
async function takeAct(tx: Tx, orderId: string, act: OrderAct, approved: readonly { serveId: string; evidence: Evidence }[], today: string): Promise<Outcome<null>> {
  const present = await findOrderEvent(tx, act.id);
  if (present !== undefined) return present.orderId === orderId ? done(null) : refuseFault('id', JSON.stringify(act.id), 'an id that no other order uses');
  const order = (await readOrders(tx, { id: orderId }))[0]!;
  let event: OrderEvent;
  if (act.kind === 'changed') {
    const written = writeChange(await readOfferBook(tx, today), order, act);
    if (!written.ok) return written;
    event = written.value;
  } else {
    event = act.kind === 'approved' && approved.length > 0 ? { ...act, evidence: [...approved] } : act;
  }
  const booked = await appendEvent(tx, order.row, order.book, event);
  if (!booked.ok) return booked;
  switch (event.kind) {
    case 'received': return bookReceiptIn(tx, order.row, booked.value, event);
    case 'returned': return bookReturnIn(tx, order.row, booked.value, event);
    case 'drafted': case 'changed': case 'approved': case 'sent': case 'promised': case 'closed': case 'cancelled': case 'credited': return done(null);
    default: throw new Error(`no such event: ${JSON.stringify(event satisfies never)}`);
  }
}

/** An order's wishes as lines of their own: who asked for what, and when it comes. */
function listLines({ row, book }: KeptOrder, jobId: string | undefined, arrivesOn: (leadDays: number, from: SentAt) => string, today: SentAt, sentAt: (moment: string) => SentAt): OrderLine[] {
  const from = book.sent === null ? today : sentAt(book.sent.at);
  return book.lines.flatMap((line) => line.serves.filter((serve) => jobId === undefined || serve.jobId === jobId).map((serve): OrderLine => ({
    id: serve.id, partId: line.partId, qty: line.serves.length === 1 ? line.qty : serve.qty, ...(serve.jobId === undefined ? {} : { jobId: serve.jobId }), at: serve.at,
    supplierId: row.supplierId, unitPrice: line.unitPrice, currency: book.terms.currency, arrives: line.promised ?? arrivesOn(line.leadDays, from),
    orderId: row.id, orderNumber: row.number, state: book.state,
  })));
}

/** Leaves a transaction with nothing written where the work was refused. */
async function inOne<T>(store: Store, work: (tx: Tx) => Promise<Outcome<T>>): Promise<Outcome<T>> {
  let refused: Outcome<T> | undefined;
  try {
    return await store.transact(async (tx) => {
      const outcome = await work(tx);
      if (outcome.ok) return outcome;
      refused = outcome;
      throw new Undone();
    });
  } catch (error) {
    if (error instanceof Undone && refused !== undefined) return refused;
    throw error;
  }
}

class Undone extends Error {}

/** A fault of one act among several says which. */
function nameAct(outcome: Extract<Outcome<never>, { ok: false }>, index: number, count: number): Outcome<never> {
  const { refusal } = outcome;
  if (refusal.kind === 'faults') return refuse({ kind: 'faults', faults: refusal.faults.map((fault) => ({ ...fault, path: `acts[${index}].${fault.path}` })) });
  return count > 1 && refusal.kind === 'conflict' ? refuse({ kind: 'conflict', why: `acts[${index}]: ${refusal.why}` }) : outcome;
}

function refuseUnknown(id: string): ReturnType<typeof refuse> {
  return refuse({ kind: 'not-found', what: `no order ${JSON.stringify(id.slice(0, 60))}` });
}

/** Whether a wish of this id is in any order here. */
export async function wasOrdered(db: Db, id: string): Promise<boolean> {
  return await findOrderWish(db, id) !== undefined;
}
