import { randomUUID } from 'node:crypto';
import type {
  NewOrder, OrderBook, OrderedLine, OrderEvent, OrderTerms, Serve, ShopCard, ShopOffer, SupplierCard, TaxCategory,
} from '../../../catalog-schema/index.ts';
import { findJob, insertOrder, insertOrderWishes, type Db, type Tx } from '../../store/index.ts';
import { done, refuse, refuseFault, type Outcome } from '../outcome.ts';
import { readCurrency, readShopCard, readShopOffers, readSupplierCards } from '../suppliers/index.ts';
import { findLine } from './cheapest-offer.ts';
import { appendEvent, readOrders, type KeptOrder } from './order-books.ts';

/** What the shop knows while an order is written. */
export interface OfferBook {
  readonly today: string;
  readonly currency: string;
  readonly shop: ShopCard;
  readonly cards: ReadonlyMap<string, SupplierCard>;
  readonly offerOf: (supplierId: string, partId: string) => ShopOffer | undefined;
}

export async function readOfferBook(db: Db, today: string): Promise<OfferBook> {
  const offers = new Map((await readShopOffers(db)).map((offer) => [JSON.stringify([offer.supplierId, offer.partId]), offer]));
  return {
    today, currency: await readCurrency(db), shop: await readShopCard(db), cards: new Map((await readSupplierCards(db)).map((card) => [card.id, card])),
    offerOf: (supplierId, partId) => offers.get(JSON.stringify([supplierId, partId])),
  };
}

/**
 * Drafts orders within a transaction, all of them or none: each line at the price of the supplier's standing offer, in whole packs and at least the
 * offer's least quantity. An order whose id is there already is answered as it stands, and nothing is written.
 */
export async function draftOrdersIn(tx: Tx, drafts: readonly NewOrder[], today: string): Promise<Outcome<{ created: boolean; order: KeptOrder }[]>> {
  const offers = await readOfferBook(tx, today);
  const drafted: { created: boolean; order: KeptOrder }[] = [];
  for (const draft of drafts) {
    const present = (await readOrders(tx, { id: draft.id }))[0];
    if (present !== undefined) {
      drafted.push({ created: false, order: present });
      continue;
    }
    const card = offers.cards.get(draft.supplierId);
    if (card === undefined) return refuseFault('supplierId', JSON.stringify(draft.supplierId), 'the id of a supplier');
    const lines: OrderedLine[] = [];
    for (const [index, { lineId, partId, qty, serves = [] }] of draft.lines.entries()) {
      const made: Serve[] = [];
      for (const [at, serve] of serves.entries()) {
        if (serve.jobId !== undefined && !await findJob(tx, serve.jobId)) return refuseFault(`lines[${index}].serves[${at}].jobId`, JSON.stringify(serve.jobId), 'the id of a job');
        made.push({ ...serve, id: serve.id ?? randomUUID(), at: draft.at });
      }
      const line = writeLine(offers, card, { lineId, partId, serves: made }, qty);
      if (!line.ok) return line;
      lines.push(line.value);
    }
    const row = await insertOrder(tx, { id: draft.id, supplierId: card.id, state: 'draft' });
    const booked = await appendEvent(tx, row, undefined, {
      kind: 'drafted', id: randomUUID(), at: draft.at, ...(draft.by === undefined ? {} : { by: draft.by }), terms: writeTerms(offers, card), lines,
    });
    if (!booked.ok) return booked;
    await insertOrderWishes(tx, lines.flatMap((line) => line.serves.map((serve) => ({ id: serve.id, orderId: row.id, lineId: line.lineId, jobId: serve.jobId ?? null, qty: serve.qty, answer: 'null' }))));
    drafted.push({ created: true, order: { row, book: booked.value } });
  }
  return done(drafted);
}

/**
 * A wish laid into the supplier's open draft, within a transaction: into the line of its part where there is one, whose price then is that of
 * the whole; else as a line of its own. Without an open draft one is begun.
 */
export async function layInDraftIn(tx: Tx, { supplierId, partId, serve, by, today }: {
  supplierId: string; partId: string; serve: Serve; by?: string | undefined; today: string;
}): Promise<Outcome<{ order: KeptOrder; line: OrderedLine }>> {
  const offers = await readOfferBook(tx, today);
  const card = offers.cards.get(supplierId)!;
  const open = (await readOrders(tx, { supplierId, states: ['draft'] }))[0];
  const before = open?.book.lines.find((line) => line.partId === partId);
  const line = writeLine(offers, card, { lineId: before?.lineId ?? serve.id, partId, serves: [...before?.serves ?? [], serve] }, (before === undefined ? 0 : askedOf(before)) + serve.qty);
  if (!line.ok) return line;
  const who = { at: serve.at, ...(by === undefined ? {} : { by }) };
  const terms = writeTerms(offers, card);
  const row = open?.row ?? await insertOrder(tx, { id: randomUUID(), supplierId, state: 'draft' });
  const event: OrderEvent = open === undefined ? { kind: 'drafted', id: randomUUID(), ...who, terms, lines: [line.value] }
    : { kind: 'changed', id: randomUUID(), ...who, terms, lines: before === undefined ? [...linesOf(open.book), line.value] : linesOf(open.book).map((each) => (each.lineId === before.lineId ? line.value : each)) };
  const booked = await appendEvent(tx, row, open?.book, event);
  return booked.ok ? done({ order: { row: { ...row, state: booked.value.state }, book: booked.value }, line: line.value }) : booked;
}

/** A wish taken out of the draft it lies in; its line goes with it where nobody else wants the part. */
export async function withdrawIn(tx: Tx, orderId: string, serveId: string, today: string, at: string): Promise<Outcome<null>> {
  const order = (await readOrders(tx, { id: orderId }))[0];
  const line = order?.book.lines.find((each) => each.serves.some(({ id }) => id === serveId));
  if (order === undefined || line === undefined) return refuse({ kind: 'not-found', what: `no order line ${JSON.stringify(serveId.slice(0, 60))}` });
  const offers = await readOfferBook(tx, today);
  const serves = line.serves.filter(({ id }) => id !== serveId);
  const asked = serves.reduce((sum, serve) => sum + serve.qty, 0);
  let kept: OrderedLine | undefined;
  if (asked > 0) {
    const written = writeLine(offers, offers.cards.get(order.row.supplierId)!, { lineId: line.lineId, partId: line.partId, serves }, asked);
    // What nobody offers any more stays as it was offered.
    kept = written.ok ? written.value : { ...plainLine(line), serves };
  }
  const booked = await appendEvent(tx, order.row, order.book, {
    kind: 'changed', id: randomUUID(), at, terms: order.book.terms,
    lines: linesOf(order.book).flatMap((each) => (each.lineId === line.lineId ? kept ?? [] : each)),
  });
  return booked.ok ? done(null) : booked;
}

/** The event of quantities set anew: each line at the offer's price for what is now ordered. */
export function writeChange(offers: OfferBook, { row, book }: KeptOrder, change: { id: string; by?: string | undefined; at: string; lines: readonly { lineId: string; qty: number; partId?: string | undefined }[] }): Outcome<OrderEvent> {
  const card = offers.cards.get(row.supplierId)!;
  const wanted = new Map(change.lines.map(({ lineId, qty }) => [lineId, qty]));
  const isThere = (id: string): boolean => book.lines.some(({ lineId }) => lineId === id);
  const stranger = change.lines.findIndex(({ lineId, partId }) => partId === undefined && !isThere(lineId));
  if (stranger >= 0) return refuseFault(`lines[${stranger}].lineId`, JSON.stringify(change.lines[stranger]!.lineId), 'the id of a line of this order');
  const lines: OrderedLine[] = [];
  for (const line of linesOf(book)) {
    const qty = wanted.get(line.lineId);
    if (qty === 0) continue;
    const written = qty === undefined ? done(line) : writeLine(offers, card, line, qty);
    if (!written.ok) return written;
    lines.push(written.value);
  }
  for (const { lineId, qty, partId } of change.lines) {
    if (partId === undefined || qty === 0 || isThere(lineId)) continue;
    const written = writeLine(offers, card, { lineId, partId, serves: [] }, qty);
    if (!written.ok) return written;
    lines.push(written.value);
  }
  const { id, by, at } = change;
  return done({ kind: 'changed', id, at, ...(by === undefined ? {} : { by }), terms: writeTerms(offers, card), lines });
}

/** A line at the price of the supplier's standing offer for so many units. */
function writeLine(offers: OfferBook, card: SupplierCard, { lineId, partId, serves }: Pick<OrderedLine, 'lineId' | 'partId' | 'serves'>, qty: number): Outcome<OrderedLine> {
  const offer = offers.offerOf(card.id, partId);
  const found = offer === undefined ? undefined : findLine(offer, qty, offers.today, card.currency ?? offers.currency);
  if (offer === undefined || found === undefined) return refuse({ kind: 'conflict', why: `${card.name ?? card.id} has no offer that stands on ${offers.today} for ${qty} of ${partId}` });
  const tax = findTax(offers.shop, offer.tax ?? card.tax);
  return done({
    lineId, partId, qty: found.qty, unitPrice: found.unitPrice, leadDays: offer.leadDays, serves: [...serves],
    ...(tax === undefined ? {} : { tax }), ...(offer.coreCharge === undefined ? {} : { coreCharge: offer.coreCharge }),
  });
}

function writeTerms({ currency, shop }: OfferBook, card: SupplierCard): OrderTerms {
  const { freight, freeFreightFrom, minOrder, pricesWithTax = false } = card;
  const freightTax = findTax(shop, card.tax);
  return {
    currency: card.currency ?? currency, freight, ...(freeFreightFrom === undefined ? {} : { freeFreightFrom }), ...(minOrder === undefined ? {} : { minOrder }),
    pricesWithTax, ...(freightTax === undefined ? {} : { freightTax }),
  };
}

function findTax({ taxes }: ShopCard, id: string | undefined): TaxCategory | undefined {
  return taxes.find((tax) => tax.id === id);
}

/** What was asked for of a line: its wishes, or what a person has set. */
function askedOf(line: OrderedLine): number {
  const wished = line.serves.reduce((sum, { qty }) => sum + qty, 0);
  return wished === 0 ? line.qty : wished;
}

const linesOf = (book: OrderBook): OrderedLine[] => book.lines.map(plainLine);

/** A line as it is ordered, without what came of it. */
function plainLine({ lineId, partId, qty, unitPrice, tax, coreCharge, leadDays, serves }: OrderedLine): OrderedLine {
  return { lineId, partId, qty, unitPrice, leadDays, serves, ...(tax === undefined ? {} : { tax }), ...(coreCharge === undefined ? {} : { coreCharge }) };
}
