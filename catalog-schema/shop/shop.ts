import { z } from 'zod';
import { currencyCode, day, identifier, money, text, wholeAboveZero, wholeZeroOrMore } from '../scalar.ts';
import { ORDER_STATES } from './order-log.ts';

/** One bin of the shelf as a person reads it; `free` = onHand - reserved. */
export const shelfRow = z.strictObject({
  partId: identifier, bin: text, onHand: wholeZeroOrMore, reserved: wholeZeroOrMore, free: wholeZeroOrMore, unitCost: money,
});
export type ShelfRow = z.infer<typeof shelfRow>;

/** Units put aside for a job, or taken in a counter sale when no job is named. The id comes from the device. */
export const reservationRequest = z.strictObject({
  id: z.uuid(), partId: identifier, qty: wholeAboveZero, jobId: z.uuid().optional(), at: z.iso.datetime(),
});
export type ReservationRequest = z.infer<typeof reservationRequest>;
/** `bin` names the bins in words; `bins` says how many in each where they are several. */
export const reservation = reservationRequest.extend({
  bin: text, bins: z.array(z.strictObject({ bin: text, qty: wholeAboveZero })).optional(),
});
export type Reservation = z.infer<typeof reservation>;

/** A line to be ordered, drafted from the cheapest offer that stands. The id comes from the device. */
export const orderLineRequest = z.strictObject({
  id: z.uuid(), partId: identifier, qty: wholeAboveZero, jobId: z.uuid().optional(), at: z.iso.datetime(),
});
export type OrderLineRequest = z.infer<typeof orderLineRequest>;
export const orderLine = orderLineRequest.extend({
  supplierId: identifier, unitPrice: money, currency: currencyCode, arrives: day, qty: wholeAboveZero,
  /** the order it lies in, and how far that is */
  orderId: z.uuid().optional(), orderNumber: wholeAboveZero.optional(), state: z.enum(ORDER_STATES).optional(),
});
export type OrderLine = z.infer<typeof orderLine>;
