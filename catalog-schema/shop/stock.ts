import { z } from 'zod';
import { currencyCode, identifier, money, text, wanted, wholeAboveZero, wholeZeroOrMore } from '../scalar.ts';
import { checkSound } from '../sound-check.ts';

/**
 * What can happen to units of a part in a bin. `in`: they came (received, found); `return`: they came back from a job or a customer; `out`: they
 * left (fitted, sold, sent back to a supplier); `scrap`: they were thrown away; `transfer`: they went to another bin; `reserve`, `release`: put
 * aside and free again, still in the bin; `count`: somebody counted, and the books follow what was counted.
 */
export const STOCK_MOVE_KINDS = ['in', 'out', 'reserve', 'release', 'count', 'return', 'scrap', 'transfer'] as const;
export type StockMoveKind = (typeof STOCK_MOVE_KINDS)[number];

const wholeNumber = z.number().multipleOf(1).min(Number.MIN_SAFE_INTEGER).max(Number.MAX_SAFE_INTEGER).meta({ type: 'integer' });
/** A place on the shelf as it is written on it: no space at either end. */
export const binName = z.string().min(1).max(200).regex(/^(?![\s\S]*\p{Surrogate})\S(?:[\s\S]*\S)?$/u, { error: 'want:the name of a bin, without a space at its ends' });
/** Most units in one move; keeps every sum exact. */
const MOST_UNITS = 1_000_000;

const keys = {
  id: z.uuid(), kind: z.enum(STOCK_MOVE_KINDS), partId: identifier, bin: binName,
  /** units moved; of a `count` what was counted, which may be none */
  qty: wholeZeroOrMore.max(MOST_UNITS),
  toBin: binName.optional(), jobId: z.uuid().optional(),
  /** the reservation that is made, given up or fetched from the bin; of a sale, the sale */
  reservationId: z.uuid().optional(), orderLineId: text.min(1).optional(), reason: text.optional(),
  /** what one unit cost, in the shop's currency; up to four decimals are kept */
  unitCost: money.max(1_000_000_000).optional(),
  by: text.optional(), at: z.iso.datetime(),
};

type MoveShape = { kind: StockMoveKind; bin: string; qty: number; toBin?: string | undefined; jobId?: string | undefined; reservationId?: string | undefined };
const moveCheck = checkSound<MoveShape>(['kind', 'qty', 'toBin', 'bin', 'jobId', 'reservationId'], ({ kind, bin, qty, toBin, jobId, reservationId }, issues) => {
  if (kind !== 'count' && qty === 0) issues.push(wanted(qty, ['qty'], 'a whole number above 0'));
  if (kind === 'transfer' && toBin === undefined) issues.push(wanted(toBin, ['toBin'], 'the bin they go to'));
  if (kind === 'transfer' && toBin === bin) issues.push(wanted(toBin, ['toBin'], 'another bin'));
  if (kind === 'reserve' && reservationId !== undefined && jobId === undefined) issues.push(wanted(jobId, ['jobId'], 'the job they are put aside for'));
  if (kind !== 'transfer' && toBin !== undefined) issues.push(wanted(toBin, ['toBin'], 'it left out: only a transfer has one'));
});

/**
 * A move as a device sends it. The id comes from the device: the same move again changes nothing. `knownSeq` of a count is the `seq` that the
 * bin's row had when the person counted (0 where it had none): moves the device did not know of are then told apart from what is missing.
 */
export const stockMoveRequest = z.strictObject({ ...keys, knownSeq: wholeZeroOrMore.optional() }).check(moveCheck);
export type StockMoveRequest = z.infer<typeof stockMoveRequest>;

/** Moves that are recorded together or not at all. */
export const stockMoveBatch = z.strictObject({ moves: z.array(stockMoveRequest).min(1).max(1_000) });
export type StockMoveBatch = z.infer<typeof stockMoveBatch>;

/** A move as the ledger keeps it, in the order of `seq`. */
export const stockMove = z.strictObject({
  ...keys, seq: wholeAboveZero, currency: currencyCode.optional(),
  /** of a `count`: what the books said; the difference to `qty` was booked */
  booked: wholeNumber.optional(),
}).check(moveCheck);
export type StockMove = z.infer<typeof stockMove>;

/** A part in a bin as the moves add up; `below` where something is less than none, which only a count can bring about. */
export const stockRow = z.strictObject({
  partId: identifier, bin: binName, onHand: wholeNumber, reserved: wholeZeroOrMore, free: wholeNumber, unitCost: money, currency: currencyCode,
  /** of the last move of this part in this bin */
  seq: wholeAboveZero, below: z.literal(true).optional(),
});
export type StockRow = z.infer<typeof stockRow>;

/** What recording came to: the moves as they are kept, and the rows they touched as these stand now. */
export const stockAnswer = z.strictObject({ moves: z.array(stockMove), rows: z.array(stockRow) });
export type StockAnswer = z.infer<typeof stockAnswer>;
