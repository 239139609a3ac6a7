import { describe, expect, it } from 'vitest';
import { readInput, printFault } from '../input-fault.ts';
import { orderActs, type OrderedLine, type OrderEvent, type OrderTerms } from './order-act.ts';
import { bookOrderEvent, openUnits, type OrderBook } from './order-log.ts';

const uuid = (n: number): string => `00000000-0000-4000-8000-${String(n).padStart(12, '0')}`;
const at = '2026-11-25T09:00:00Z';
const terms: OrderTerms = { currency: 'EUR', freight: 9.5, pricesWithTax: false };
const vat = { id: 'vat', words: 'VAT', percent: 20 };
const line = (n: number, more: Partial<OrderedLine> = {}): OrderedLine => ({ lineId: uuid(n), partId: `p${n}`, qty: 4, unitPrice: 12.5, leadDays: 2, serves: [], ...more });

let made = 100;
/** An event without its id and time. */
type Deed = OrderEvent extends infer Each ? (Each extends OrderEvent ? Omit<Each, 'id' | 'at'> : never) : never;
function book(...deeds: Deed[]): OrderBook {
  let now: OrderBook | undefined;
  for (const deed of deeds) now = take(now, deed);
  return now!;
}
function attempt(now: OrderBook | undefined, deed: Deed): string {
  const booked = bookOrderEvent(now, { ...deed, id: uuid(made++), at } as OrderEvent);
  return booked.ok ? booked.book.state : 'why' in booked ? booked.why : booked.faults.map(printFault).join('\n');
}
function take(now: OrderBook | undefined, deed: Deed): OrderBook {
  const booked = bookOrderEvent(now, { ...deed, id: uuid(made++), at } as OrderEvent);
  if (!booked.ok) throw new Error(attempt(now, deed));
  return booked.book;
}
const drafted: Deed = { kind: 'drafted', terms, lines: [line(1), line(2, { coreCharge: 3, tax: vat })] };
const sent: Deed[] = [drafted, { kind: 'approved' }, { kind: 'sent' }];
const came = (n: number, good: number, more: { wrong?: number; damaged?: number } = {}): Deed => ({ kind: 'received', lines: [{ lineId: uuid(n), good, ...more }] });

describe('the life of an order', () => {
  it('goes from draft over approved and sent to received, and each step asks for the one before', () => {
    expect([book(drafted), book(drafted, { kind: 'approved' }), book(...sent)].map(({ state }) => state)).toEqual(['draft', 'approved', 'sent']);
    expect(attempt(book(drafted), { kind: 'sent' })).toBe('an order that is a draft cannot be marked as sent: it is approved first');
    expect(attempt(book(drafted), came(1, 1))).toMatch(/a draft cannot be received/);
    expect(attempt(undefined, { kind: 'approved' })).toBe('the order is not drafted yet');
    expect(attempt(book(drafted), drafted)).toBe('the order is drafted already');
    expect(attempt(book({ kind: 'drafted', terms, lines: [] }), { kind: 'approved' })).toMatch(/without lines/);
  });

  it('is to be approved again after a change, and cannot be changed once it is sent', () => {
    const changed: Deed = { kind: 'changed', terms, lines: [line(1, { qty: 6 })] };
    expect(book(drafted, { kind: 'approved' }, changed)).toMatchObject({ state: 'draft', approved: null, lines: [{ qty: 6 }] });
    expect(attempt(book(...sent), changed)).toMatch(/is sent cannot be changed/);
  });

  it('knows what came, what came too much, and what is still open', () => {
    const part = book(...sent, came(1, 3), came(2, 5, { damaged: 1, wrong: 2 }));
    expect(part.state).toBe('part-received');
    expect(part.lines.map((each) => [each.good, each.wrong, each.damaged, openUnits(part, each)])).toEqual([[3, 0, 0, 1], [5, 2, 1, 0]]);
    const whole = take(part, came(1, 1));
    expect([whole.state, openUnits(whole, whole.lines[0]!)]).toEqual(['received', 0]);
  });

  it('waits for nothing once it is closed, and still takes in what comes late', () => {
    const closed = book(...sent, came(1, 3), { kind: 'closed', words: 'no longer made' });
    expect([closed.state, openUnits(closed, closed.lines[0]!), closed.ended?.words]).toEqual(['closed', 0, 'no longer made']);
    expect(take(closed, came(2, 4)).state).toBe('closed');
    expect(take(take(closed, came(2, 4)), came(1, 1)).state).toBe('received');
  });

  it('is cancelled only while nothing has come', () => {
    expect(book(...sent, { kind: 'cancelled' }).state).toBe('cancelled');
    expect(attempt(book(...sent, came(1, 0, { damaged: 1 })), { kind: 'cancelled' })).toMatch(/received in part cannot be cancelled/);
    expect(attempt(book(...sent, { kind: 'cancelled' }), came(1, 1))).toMatch(/cancelled cannot be received/);
  });

  it('keeps the day that the supplier has named, for one line or for all', () => {
    const promised = book(...sent, { kind: 'promised', on: '2026-12-01' }, { kind: 'promised', lineId: uuid(2), on: '2026-12-09' });
    expect(promised.lines.map((each) => each.promised)).toEqual(['2026-12-01', '2026-12-09']);
  });

  it('refuses lines that are not its own and receipts of nothing', () => {
    expect(attempt(book(...sent), came(7, 1))).toBe(`lines[0].lineId: found "${uuid(7)}", want the id of a line of this order`);
    expect(attempt(book(...sent), came(1, 0))).toBe('lines: found no unit, want at least one unit that came');
    expect(attempt(book(...sent), { kind: 'promised', lineId: uuid(7), on: '2026-12-01' })).toMatch(/want the id of a line/);
  });
});

describe('what goes back', () => {
  const held = book(...sent, came(1, 4), came(2, 4, { damaged: 1, wrong: 1 }));
  const back = (n: number, qty: number, reason: 'wrong-fit' | 'damaged' | 'wrong-part' | 'not-needed' | 'core', jobId?: string): Deed => (
    { kind: 'returned', lineId: uuid(n), qty, reason, ...(jobId === undefined ? {} : { jobId }) });

  it('is credited at the price of the line with its tax and core charge; a core at its charge alone', () => {
    const after = [back(1, 2, 'not-needed'), back(2, 1, 'damaged'), back(2, 3, 'core')].reduce(take, held);
    // 2 x 12.50; 12.50 + 20 % + 3.00; 3 x 3.00
    expect(after.returns.map(({ creditMinor }) => creditMinor)).toEqual([2500, 1800, 900]);
  });

  it('takes units put aside before those in a bin', () => {
    const after = take(held, back(2, 3, 'damaged'));
    expect(after.returns[0]).toMatchObject({ qty: 3, fromStock: 2 });
    expect(after.lines[1]).toMatchObject({ damagedBack: 1, goodBack: 2 });
  });

  it('is never more than came', () => {
    expect(attempt(held, back(1, 5, 'not-needed'))).toBe('qty: found 5, want at most 4, as many good ones as came and have not been sent back');
    expect(attempt(take(held, back(1, 3, 'not-needed')), back(1, 2, 'wrong-fit', uuid(9)))).toMatch(/at most 1/);
    expect(attempt(held, back(2, 6, 'wrong-part'))).toMatch(/at most 5/);
    expect(attempt(take(held, back(2, 4, 'core')), back(2, 1, 'core'))).toMatch(/at most 0/);
    expect(attempt(held, back(1, 1, 'core'))).toBe('this line has no core charge');
    expect(attempt(book(...sent), back(1, 1, 'not-needed'))).toMatch(/at most 0/);
  });

  it('of a wrong fit names the job it did not fit on', () => {
    expect(attempt(held, back(1, 1, 'wrong-fit'))).toBe('jobId: found nothing, want the job that the part did not fit on');
    expect(take(held, back(1, 1, 'wrong-fit', uuid(9))).returns[0]).toMatchObject({ jobId: uuid(9), fromStock: 1 });
  });

  it('is credited once', () => {
    const returned = take(held, back(1, 1, 'not-needed'));
    const returnId = returned.returns[0]!.id;
    const credited = take(returned, { kind: 'credited', returnId, amount: 11.995 });
    expect(credited.returns[0]).toMatchObject({ creditMinor: 1250, creditedMinor: 1200 });
    expect(attempt(credited, { kind: 'credited', returnId, amount: 1 })).toBe('this return is credited already');
    expect(attempt(returned, { kind: 'credited', returnId: uuid(8), amount: 1 })).toMatch(/id of a return/);
  });
});

describe('acts as a device sends them', () => {
  it('read, and name what is wrong with them', () => {
    const read = (act: object): string[] => {
      const outcome = readInput(orderActs, { acts: [{ id: uuid(1), at, ...act }] });
      return outcome.ok ? [] : outcome.faults.map(printFault);
    };
    expect(read({ kind: 'received', lines: [{ lineId: uuid(1), good: 2, damaged: 1, bin: 'A1' }] })).toEqual([]);
    expect(read({ kind: 'received', lines: [{ lineId: uuid(1), good: 1 }, { lineId: uuid(1), good: 1 }] })).toEqual([`acts[0].lines[1].lineId: found "${uuid(1)}", want a line id that is not used twice`]);
    expect(read({ kind: 'received', lines: [{ lineId: uuid(1), good: -1 }] })).toEqual(['acts[0].lines[0].good: found -1, want a number of at least 0']);
    expect(read({ kind: 'drafted', terms, lines: [] })[0]).toMatch(/^acts\[0\].kind: found "drafted", want/);
    expect(read({ kind: 'promised', on: '2026-02-30' })[0]).toMatch(/a day that exists/);
  });
});
