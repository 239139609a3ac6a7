import type {
  AcceptedPlan, PlanAcceptance, ReorderAnswer, ReorderWish, ShopPlan,
  BenchRecord, FaultSharesAnswer, FaultSharesEdit, FitHistory, JobEdit, JobState, NewOrder, OfferEdit, OfferState, OrderAct, OrderLine, OrderLineRequest, OrderSummary, OutcomeReport,
  Part, PartOutcome, Prices, PurchaseOrder, Replacements, Reservation, ReservationRequest, ShelfRow, ShopCard, ShopCardEdit, StockAnswer, StockMove,
  StockMoveRequest, StockRow, SupplierEdit, SupplierState,
} from '../../catalog-schema/index.ts';

/** What a new job starts from. The id comes from the device, so that sending it twice makes one job. */
export interface JobStart {
  readonly id: string;
  readonly title: string;
  readonly machine?: string;
  readonly customer?: string;
  readonly record: BenchRecord;
  readonly at: string;
}

/** Bytes of a picture that the server has, and whether it has them all. */
export interface UploadState { readonly offset: number; readonly whole: boolean }

/** The catalogue as one file, and the server's tag of it. */
export interface CatalogueFile { readonly bytes: ArrayBuffer; readonly tag: string }

/**
 * Everything the screens ask of the shop's server. Elements receive this and never speak HTTP.
 * Each call rejects with a `ServiceFault`; nothing else is thrown for what a network or a server can do.
 */
export interface Service {
  listJobs(signal?: AbortSignal): Promise<JobState[]>;
  startJob(start: JobStart): Promise<JobState>;
  readJob(id: string, signal?: AbortSignal): Promise<JobState>;
  postEdits(id: string, edits: readonly JobEdit[]): Promise<JobState>;
  /** Begins to send a picture, or goes on with one that was begun: the same bytes again change nothing. */
  beginUpload(jobId: string, picture: { readonly hash: string; readonly type: string; readonly bytes: number }): Promise<UploadState>;
  /** How much of a picture the server has. */
  askUpload(jobId: string, hash: string): Promise<UploadState>;
  /** Adds a piece at an offset. Rejects as 'taken' where the server is at another. */
  appendUpload(jobId: string, hash: string, piece: { readonly offset: number; readonly piece: Blob; readonly last: boolean }): Promise<UploadState>;
  readPhotograph(jobId: string, hash: string, signal?: AbortSignal): Promise<Blob>;
  readCatalogue(signal?: AbortSignal): Promise<Part[]>;
  /** the catalogue as the file that the engine answers from; 'unchanged' where it is still the one of this tag */
  readSnapshot(knownTag: string | undefined, signal?: AbortSignal): Promise<CatalogueFile | 'unchanged'>;
  readPrices(signal?: AbortSignal): Promise<Prices>;
  readShelf(signal?: AbortSignal): Promise<ShelfRow[]>;
  /** every part in every bin, as its moves add up */
  readStock(signal?: AbortSignal): Promise<StockRow[]>;
  /** the last moves of a part, the newest first; 100 at most */
  readMoves(partId: string, signal?: AbortSignal): Promise<StockMove[]>;
  /** Records moves, all or none; a move that was recorded before changes nothing. Rejects as 'taken' where something is not free. */
  recordMoves(moves: readonly StockMoveRequest[]): Promise<StockAnswer>;
  listReservations(jobId?: string, signal?: AbortSignal): Promise<Reservation[]>;
  reserve(request: ReservationRequest): Promise<Reservation>;
  releaseReservation(id: string): Promise<void>;
  listOrderLines(jobId?: string, signal?: AbortSignal): Promise<OrderLine[]>;
  draftOrderLine(request: OrderLineRequest): Promise<OrderLine>;
  /** every order, the newest first */
  listOrders(signal?: AbortSignal): Promise<OrderSummary[]>;
  readOrder(id: string, signal?: AbortSignal): Promise<PurchaseOrder>;
  draftOrder(draft: NewOrder): Promise<PurchaseOrder>;
  /** Takes acts on an order, all or none; one that was taken before changes nothing. Rejects as 'taken' where the order is not so far. */
  actOnOrder(id: string, acts: readonly OrderAct[]): Promise<PurchaseOrder>;
  listSuppliers(signal?: AbortSignal): Promise<SupplierState[]>;
  writeSupplier(edit: SupplierEdit): Promise<SupplierState>;
  listOffers(supplierId: string, signal?: AbortSignal): Promise<OfferState[]>;
  writeOffer(supplierId: string, edit: OfferEdit): Promise<OfferState[]>;
  readShopCard(signal?: AbortSignal): Promise<ShopCard>;
  writeShopCard(edit: ShopCardEdit): Promise<ShopCard>;
  /** what to get for all open jobs together; also for the shelf where asked for */
  readPlan(withShelf: boolean, signal?: AbortSignal): Promise<ShopPlan>;
  /** Takes a plan as it was shown. Rejects as 'taken' where anything it stood on has changed. */
  acceptPlan(acceptance: PlanAcceptance): Promise<AcceptedPlan>;
  readReorder(wish: ReorderWish, signal?: AbortSignal): Promise<ReorderAnswer>;
  listOutcomes(jobId?: string, signal?: AbortSignal): Promise<PartOutcome[]>;
  reportOutcome(report: OutcomeReport): Promise<PartOutcome>;
  readHistory(signal?: AbortSignal): Promise<FitHistory>;
  /** How often each fault is found here before anything is seen. */
  readFaultShares(signal?: AbortSignal): Promise<FaultSharesAnswer>;
  /** Puts the shop's own shares in place of those it had. */
  writeFaultShares(edit: FaultSharesEdit): Promise<FaultSharesAnswer>;
  /** What the shop found of parts in place of numbers, for look-ups by number. */
  readReplacements(signal?: AbortSignal): Promise<Replacements>;
}

/** Why a call did not do its work: the server was not reached, wants a sign-in first, said no, or failed itself. */
export type ServiceFaultKind = 'unreachable' | 'signed-out' | 'refused' | 'not-found' | 'taken' | 'failed';

export class ServiceFault extends Error {
  readonly kind: ServiceFaultKind;
  /** what the server said, in its own words; '' where it said nothing */
  readonly detail: string;
  constructor(kind: ServiceFaultKind, detail: string) {
    super(`${kind}: ${detail}`);
    this.name = 'ServiceFault';
    this.kind = kind;
    this.detail = detail;
  }
}
