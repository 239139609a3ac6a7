import {
  fromMinor, openUnits, sumOrder, type Evidence, type OrderSummary, type PurchaseLine, type PurchaseOrder, type ServedJob, type SupplierCalendar, type SupplierCard,
} from '../../../catalog-schema/index.ts';
import { arrivalDate, type SentAt } from '../../engine/source/index.ts';
import type { KeptOrder } from './order-books.ts';

/** What an order's page shows beside the order itself. */
export interface OrderSurroundings {
  readonly today: SentAt;
  readonly card: SupplierCard | undefined;
  /** units that each wish has got */
  readonly got: ReadonlyMap<string, number>;
  readonly jobOf: (jobId: string) => { readonly title: string; readonly by: string | undefined } | undefined;
  readonly evidenceOf: (jobId: string, partId: string) => Evidence | null;
  readonly receipts: readonly { readonly receiptId: string; readonly days: number; readonly at: string }[];
  readonly sentAt: (moment: string) => SentAt;
}

/** An order as every door shows it. */
export function viewOrder(order: KeptOrder, around: OrderSurroundings): PurchaseOrder {
  const { row, book } = order;
  const { currency, pricesWithTax } = book.terms;
  const money = (minor: number): number => fromMinor(minor, currency);
  const sums = sumOrder(book.terms, book.lines);
  const arrivals = listArrivals(order, around);
  const lines = book.lines.map((line, index): PurchaseLine => {
    const { lineId, partId, qty, unitPrice, tax, coreCharge, good, wrong, damaged, goodBack, wrongBack, damagedBack, coresBack, promised, serves } = line;
    return {
      lineId, partId, qty, unitPrice, goods: money(sums.linesMinor[index]!), tax: tax ?? null, coreCharge: coreCharge ?? null,
      good, over: Math.max(0, good - qty), wrong, damaged, open: openUnits(book, line),
      back: { good: good - goodBack, wrong: wrong - wrongBack, damaged: damaged - damagedBack, cores: coreCharge === undefined ? 0 : good - coresBack },
      arrives: arrivals[index]!, promised: promised !== null,
      serves: serves.map(({ id, jobId, qty: wished }): ServedJob => {
        const job = jobId === undefined ? undefined : around.jobOf(jobId);
        return {
          serveId: id, jobId: jobId ?? null, title: job?.title ?? null, qty: wished, got: around.got.get(id) ?? 0, by: job?.by ?? null,
          evidence: jobId === undefined ? null : book.evidence.get(id) ?? around.evidenceOf(jobId, partId),
        };
      }),
    };
  });
  const { arrives, daysLate } = lastArrival(arrivals, around.today);
  return {
    id: row.id, number: row.number, supplierId: row.supplierId, supplierName: around.card?.name ?? row.supplierId, currency, state: book.state, lines,
    returns: book.returns.map(({ creditMinor, creditedMinor, fromStock: _fromStock, ...returned }) => ({
      ...returned, partId: book.lines.find(({ lineId }) => lineId === returned.lineId)!.partId, credit: money(creditMinor), credited: creditedMinor === null ? null : money(creditedMinor),
    })),
    sums: {
      goods: money(sums.goodsMinor), freight: money(sums.freightMinor), pricesWithTax,
      taxes: sums.taxes.map(({ tax, baseMinor, amountMinor }) => ({ ...tax, base: money(baseMinor), amount: money(amountMinor) })),
      tax: money(sums.taxMinor), total: money(sums.totalMinor), cores: money(sums.coresMinor),
      toFreeFreight: sums.toFreeFreightMinor === null ? null : money(sums.toFreeFreightMinor), short: money(sums.shortMinor),
    },
    arrives, daysLate, drafted: book.drafted, approved: book.approved, sent: book.sent, ended: book.ended,
    receipts: around.receipts.map(({ receiptId, at, days }) => ({ id: receiptId, at, days })),
    changedAt: book.changedAt,
  };
}

/** An order as one line of a list. */
export function summarizeOrder(order: KeptOrder, around: Pick<OrderSurroundings, 'card' | 'today' | 'sentAt'>): OrderSummary {
  const { row, book } = order;
  const sums = sumOrder(book.terms, book.lines);
  const { arrives, daysLate } = lastArrival(listArrivals(order, around), around.today);
  return {
    id: row.id, number: row.number, supplierId: row.supplierId, supplierName: around.card?.name ?? row.supplierId, currency: book.terms.currency, state: book.state,
    arrives, daysLate, changedAt: book.changedAt, lines: book.lines.length, total: fromMinor(sums.totalMinor, book.terms.currency),
    good: book.lines.reduce((sum, { good, qty }) => sum + Math.min(good, qty), 0), qty: book.lines.reduce((sum, { qty }) => sum + qty, 0),
    jobs: new Set(book.lines.flatMap(({ serves }) => serves.flatMap(({ jobId }) => jobId ?? []))).size,
    creditsOpen: book.returns.filter(({ creditedMinor }) => creditedMinor === null).length, sentAt: book.sent?.at ?? null,
  };
}

/** The day on which each line's open units come: as promised, else counted from the sending; before that, as if it were sent now. */
function listArrivals({ book }: KeptOrder, { today, card, sentAt }: Pick<OrderSurroundings, 'card' | 'today' | 'sentAt'>): (string | null)[] {
  const calendar: SupplierCalendar | undefined = card?.calendar;
  const from = book.sent === null ? today : sentAt(book.sent.at);
  return book.lines.map((line) => (openUnits(book, line) === 0 ? null : line.promised ?? arrivalDate(from, line.leadDays, calendar)));
}

/** The last day on which something comes, and how far past the earliest that is overdue today is. */
function lastArrival(arrivals: readonly (string | null)[], today: SentAt): { arrives: string | null; daysLate: number } {
  const days = arrivals.filter((day) => day !== null).toSorted();
  const [earliest] = days;
  const late = earliest === undefined ? 0 : Math.round((Date.parse(`${today.day}T00:00:00Z`) - Date.parse(`${earliest}T00:00:00Z`)) / 86_400_000);
  return { arrives: days.at(-1) ?? null, daysLate: Math.max(0, late) };
}
