import type { OrderAct, OrderLineRequest, OutcomeReport, ReservationRequest, StockMoveRequest } from '../../catalog-schema/index.ts';
import type { JobStart } from './service.ts';

// What this device keeps and sends, as the screens see it; ui/offline makes it.

/** What a person asked the shop for beside edits. Each carries an id made on this device, so that sending it twice does it once. */
export type Errand =
  | { readonly kind: 'start-job'; readonly body: JobStart }
  | { readonly kind: 'reserve'; readonly body: ReservationRequest }
  | { readonly kind: 'release'; readonly body: { readonly id: string; readonly jobId?: string | undefined } }
  | { readonly kind: 'order-line'; readonly body: OrderLineRequest }
  /** moves of the shelf that are recorded together or not at all */
  | { readonly kind: 'moves'; readonly body: { readonly moves: readonly StockMoveRequest[]; readonly jobId?: string } }
  /** acts on one order, taken all or none: named by the first of them; `number` is what people call the order */
  | { readonly kind: 'order-acts'; readonly body: { readonly id: string; readonly orderId: string; readonly number: number; readonly acts: readonly OrderAct[]; readonly jobId?: string } }
  | { readonly kind: 'outcome'; readonly body: OutcomeReport };

/** The server's no to something that waits, kept until a person has seen it. */
export interface KeptAnswer {
  readonly kind: 'refused' | 'not-found' | 'taken' | 'failed';
  /** the server's own words; '' where it had none */
  readonly words: string;
  readonly at: string;
}

/** One line of what waits to be sent. */
export interface WaitingItem {
  /** names it to `tryAgain` and `drop` */
  readonly key: string;
  readonly what: 'changes' | 'photograph' | Errand['kind'];
  readonly jobId: string | undefined;
  /** changes: how many acts; photograph: 1 */
  readonly count: number;
  readonly since: string;
  readonly errand?: Errand;
  readonly photograph?: { readonly hash: string; readonly bytes: number; readonly sentBytes: number };
  /** the server's no; absent while it was not asked yet */
  readonly answer?: KeptAnswer;
}

/** Whether the way to the server was open at the last try. */
export type Reach = 'reached' | 'unreachable' | 'signed-out';

/**
 * Why this device cannot keep what is entered: the browser bars its store or cannot read it; it is full; a page of a newer version has
 * taken it over; it was made by a newer version than this page.
 */
export type StoreTrouble = 'unusable' | 'full' | 'outdated' | 'too-new';

/** Something could not be kept on this device. */
export class StoreFault extends Error {
  readonly kind: StoreTrouble;
  constructor(kind: StoreTrouble) {
    super(`not kept on this device: ${kind}`);
    this.name = 'StoreFault';
    this.kind = kind;
  }
}

/** How long the browser has promised to keep the store. */
export type Lasting = 'asked-and-granted' | 'asked-and-refused' | 'not-asked' | 'cannot-be-asked';

/** What is kept on this device, what waits, and whether it is sent. Tells of news by an event named 'change'. */
export interface Device extends EventTarget {
  readonly waiting: readonly WaitingItem[];
  readonly reach: Reach;
  readonly trouble: StoreTrouble | undefined;
  /** what waited when the browser cleared the store between two visits; until a person has read it */
  readonly evicted: { readonly waiting: number; readonly since: string | undefined } | undefined;
  readonly lasting: Lasting;
  /** false where the browser does not keep the page itself, as behind a certificate it does not trust: it cannot be opened without a network */
  readonly keepsPage: boolean;
  /** space the browser gives this site, and what of it is used, bytes; undefined where it does not say */
  readonly space: { readonly used: number; readonly quota: number } | undefined;
  /** since when the reading of this name is the kept one, because the server was not reached; undefined for a fresh one */
  ageOf(reading: 'prices' | 'shelf' | 'stock' | 'jobs' | 'orders' | 'suppliers' | `order ${string}` | `offers ${string}`): string | undefined;
  /**
   * Keeps an errand and sends it. Answers 'waiting' when it is kept here and the server has not been reached in a few seconds. Rejects with
   * a `ServiceFault` when the server said no at once, and with a `StoreFault` when it could be neither kept nor sent.
   */
  submit(errand: Errand): Promise<'sent' | 'waiting'>;
  /** Tries now what waits. */
  sendNow(): void;
  /** Puts something the server said no to in the queue again. */
  tryAgain(key: string): Promise<void>;
  /** Takes something the server said no to off this device. */
  drop(key: string): Promise<void>;
  /** The person has read that the store was cleared. */
  forgetEviction(): void;
}
