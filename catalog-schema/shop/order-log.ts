import type { InputFault } from '../input-fault.ts';
import type { Evidence } from '../job/evidence.ts';
import { amountInMinor, lineInMinor, taxInMinor } from '../money/index.ts';
import type { OrderedLine, OrderEvent, OrderTerms, ReturnReason } from './order-act.ts';

export const ORDER_STATES = ['draft', 'approved', 'sent', 'part-received', 'received', 'closed', 'cancelled'] as const;
export type OrderStateName = typeof ORDER_STATES[number];

/** A line with what has come of it so far. */
export interface BookedLine extends OrderedLine {
  /** good units that came, all receipts together */
  readonly good: number;
  readonly wrong: number;
  readonly damaged: number;
  /** good units sent back, and units that never were good */
  readonly goodBack: number;
  readonly wrongBack: number;
  readonly damagedBack: number;
  /** old parts sent back for their core charge */
  readonly coresBack: number;
  /** the day the supplier has named for what is open */
  readonly promised: string | null;
}

export interface BookedReturn {
  readonly id: string;
  readonly lineId: string;
  readonly qty: number;
  /** of them, units that had been in a bin */
  readonly fromStock: number;
  readonly reason: ReturnReason;
  readonly jobId: string | null;
  readonly words: string | null;
  /** what the supplier owes for it, in minor units, tax in it */
  readonly creditMinor: number;
  /** what the supplier has credited; null while it is awaited */
  readonly creditedMinor: number | null;
  readonly at: string;
  readonly by: string | null;
}

interface Done { readonly at: string; readonly by: string | null; readonly words: string | null }

/** An order as its events add up. */
export interface OrderBook {
  readonly terms: OrderTerms;
  readonly lines: readonly BookedLine[];
  readonly returns: readonly BookedReturn[];
  readonly state: OrderStateName;
  readonly drafted: Done;
  readonly approved: Done | null;
  /** what was known of each job's fault when the order was approved, by the wish */
  readonly evidence: ReadonlyMap<string, Evidence>;
  readonly sent: Done | null;
  /** why the rest is not waited for, or the whole not ordered */
  readonly ended: Done | null;
  readonly changedAt: string;
}

export type Booked = { readonly ok: true; readonly book: OrderBook } | { readonly ok: false; readonly faults: readonly InputFault[] } | { readonly ok: false; readonly why: string };

/** The order after one more event, or why that cannot be: a fault of the event, or that the order is not so far (or too far) for it. */
export function bookOrderEvent(book: OrderBook | undefined, event: OrderEvent): Booked {
  const done: Done = { at: event.at, by: event.by ?? null, words: null };
  if (event.kind === 'drafted') {
    if (book !== undefined) return { ok: false, why: 'the order is drafted already' };
    const { terms, lines } = event;
    return end({ terms, lines: lines.map(bookLine), returns: [], state: 'draft', drafted: done, approved: null, evidence: new Map(), sent: null, ended: null, changedAt: event.at });
  }
  if (book === undefined) return { ok: false, why: 'the order is not drafted yet' };
  const next = { ...book, changedAt: event.at > book.changedAt ? event.at : book.changedAt };
  const notNow = (what: string): Booked => ({ ok: false, why: `an order that is ${SAY_STATE[book.state]} cannot be ${what}` });
  switch (event.kind) {
    case 'changed': {
      if (book.sent !== null || book.ended !== null) return notNow('changed');
      const before = new Map(book.lines.map((line) => [line.lineId, line]));
      // What was approved is not what would be sent now.
      return end({ ...next, terms: event.terms, lines: event.lines.map((line) => ({ ...bookLine(line), promised: before.get(line.lineId)?.promised ?? null })), approved: null, evidence: new Map() });
    }
    case 'approved':
      if (book.state !== 'draft') return notNow('approved');
      if (book.lines.length === 0) return { ok: false, why: 'an order without lines cannot be approved' };
      return end({ ...next, approved: done, evidence: new Map(event.evidence?.map((each) => [each.serveId, each.evidence])) });
    case 'sent':
      if (book.state !== 'approved') return notNow('marked as sent: it is approved first');
      return end({ ...next, sent: { ...done, words: event.how ?? null } });
    case 'promised':
      if (book.sent === null || book.ended !== null) return notNow('promised for a day');
      if (event.lineId !== undefined && !book.lines.some(({ lineId }) => lineId === event.lineId)) return noLine('lineId', event.lineId);
      return end({ ...next, lines: book.lines.map((line) => (event.lineId === undefined || event.lineId === line.lineId ? { ...line, promised: event.on } : line)) });
    case 'received': {
      if (book.sent === null || book.state === 'cancelled') return notNow('received');
      const given = new Map(event.lines.map((line) => [line.lineId, line]));
      const stranger = event.lines.findIndex(({ lineId }) => !book.lines.some((line) => line.lineId === lineId));
      if (stranger >= 0) return noLine(`lines[${stranger}].lineId`, event.lines[stranger]!.lineId);
      if (event.lines.every(({ good, wrong = 0, damaged = 0 }) => good + wrong + damaged === 0)) return { ok: false, faults: [{ path: 'lines', found: 'no unit', want: 'at least one unit that came' }] };
      return end({ ...next, lines: book.lines.map((line) => {
        const came = given.get(line.lineId);
        return came === undefined ? line : { ...line, good: line.good + came.good, wrong: line.wrong + (came.wrong ?? 0), damaged: line.damaged + (came.damaged ?? 0) };
      }) });
    }
    case 'closed':
      if (book.sent === null || book.ended !== null || book.state === 'received') return notNow('closed');
      return end({ ...next, ended: { ...done, words: event.words ?? null } });
    case 'cancelled':
      if (book.ended !== null || book.lines.some(({ good, wrong, damaged }) => good + wrong + damaged > 0)) return notNow('cancelled');
      return end({ ...next, ended: { ...done, words: event.words ?? null }, state: 'cancelled' });
    case 'returned': return bookReturn(next, event);
    case 'credited': {
      const owed = book.returns.find(({ id }) => id === event.returnId);
      if (owed === undefined) return { ok: false, faults: [{ path: 'returnId', found: JSON.stringify(event.returnId), want: 'the id of a return of this order' }] };
      if (owed.creditedMinor !== null) return { ok: false, why: 'this return is credited already' };
      const creditedMinor = amountInMinor(event.amount, book.terms.currency);
      return end({ ...next, returns: book.returns.map((each) => (each === owed ? { ...each, creditedMinor } : each)) });
    }
    default: throw new Error(`no such event: ${JSON.stringify(event satisfies never)}`);
  }
}

/** How a state is said in a sentence. */
const SAY_STATE: Readonly<Record<OrderStateName, string>> = {
  draft: 'a draft', approved: 'approved and not sent', sent: 'sent', 'part-received': 'received in part', received: 'received whole', closed: 'closed', cancelled: 'cancelled',
};

/** Units of a line that are ordered and have not come good; none once nobody waits for them. */
export function openUnits(book: Pick<OrderBook, 'state'>, line: Pick<BookedLine, 'qty' | 'good'>): number {
  return book.state === 'closed' || book.state === 'cancelled' ? 0 : Math.max(0, line.qty - line.good);
}

function bookLine(line: OrderedLine): BookedLine {
  return { ...line, good: 0, wrong: 0, damaged: 0, goodBack: 0, wrongBack: 0, damagedBack: 0, coresBack: 0, promised: null };
}

function bookReturn(book: OrderBook, event: Extract<OrderEvent, { kind: 'returned' }>): Booked {
  if (book.sent === null || book.state === 'cancelled') return { ok: false, why: `nothing has come of an order that is ${SAY_STATE[book.state]}` };
  const line = book.lines.find(({ lineId }) => lineId === event.lineId);
  if (line === undefined) return noLine('lineId', event.lineId);
  if (event.reason === 'wrong-fit' && event.jobId === undefined) {
    return { ok: false, faults: [{ path: 'jobId', found: 'nothing', want: 'the job that the part did not fit on' }] };
  }
  const tooMany = (most: number, what: string): Booked => ({ ok: false, faults: [{ path: 'qty', found: String(event.qty), want: `at most ${most}, ${what}` }] });
  const inStock = line.good - line.goodBack;
  let fromStock = event.qty;
  let back: Partial<BookedLine>;
  switch (event.reason) {
    case 'core': {
      if (line.coreCharge === undefined) return { ok: false, why: 'this line has no core charge' };
      const most = line.good - line.coresBack;
      if (event.qty > most) return tooMany(most, 'as many as came and have not been sent back');
      fromStock = 0;
      back = { coresBack: line.coresBack + event.qty };
      break;
    }
    case 'wrong-part': case 'damaged': {
      const [kept, key] = event.reason === 'damaged' ? [line.damaged - line.damagedBack, 'damagedBack' as const] : [line.wrong - line.wrongBack, 'wrongBack' as const];
      // Those put aside when they came go first; the rest is taken from its bin.
      const aside = Math.min(kept, event.qty);
      fromStock = event.qty - aside;
      if (fromStock > inStock) return tooMany(kept + inStock, 'as many as came and have not been sent back');
      back = { [key]: line[key] + aside, goodBack: line.goodBack + fromStock };
      break;
    }
    case 'wrong-fit': case 'not-needed':
      if (event.qty > inStock) return tooMany(inStock, 'as many good ones as came and have not been sent back');
      back = { goodBack: line.goodBack + event.qty };
      break;
    default: throw new Error(`no such reason: ${JSON.stringify(event.reason satisfies never)}`);
  }
  const { currency, pricesWithTax } = book.terms;
  const cores = line.coreCharge === undefined ? 0 : lineInMinor(line.coreCharge, event.qty, currency);
  const goods = event.reason === 'core' ? 0 : lineInMinor(line.unitPrice, event.qty, currency);
  const tax = line.tax === undefined || pricesWithTax ? 0 : taxInMinor(goods, line.tax.percent, false);
  const returned: BookedReturn = {
    id: event.id, lineId: event.lineId, qty: event.qty, fromStock, reason: event.reason, jobId: event.jobId ?? null, words: event.words ?? null,
    creditMinor: goods + tax + cores, creditedMinor: null, at: event.at, by: event.by ?? null,
  };
  return end({ ...book, lines: book.lines.map((each) => (each === line ? { ...each, ...back } : each)), returns: [...book.returns, returned] });
}

/** The state that follows from the rest. */
function end(book: OrderBook): Booked {
  const came = (test: (line: BookedLine) => boolean): boolean => book.lines.some(test);
  const state: OrderStateName = book.state === 'cancelled' ? 'cancelled'
    : book.sent === null ? (book.approved === null ? 'draft' : 'approved')
      : book.lines.every(({ good, qty }) => good >= qty) ? 'received'
        : book.ended !== null ? 'closed'
          : came(({ good, wrong, damaged }) => good + wrong + damaged > 0) ? 'part-received' : 'sent';
  return { ok: true, book: { ...book, state } };
}

function noLine(path: string, lineId: string): Booked {
  return { ok: false, faults: [{ path, found: JSON.stringify(lineId), want: 'the id of a line of this order' }] };
}
