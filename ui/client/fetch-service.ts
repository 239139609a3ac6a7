import type {
  AcceptedPlan, ReorderAnswer, ShopPlan,
  FaultSharesAnswer, FitHistory, JobState, OfferState, OrderLine, OrderSummary, Part, PartOutcome, Prices, PurchaseOrder, Replacements, Reservation, ShelfRow, ShopCard,
  StockAnswer, StockMove, StockRow, SupplierState,
} from '../../catalog-schema/index.ts';
import { ask, readBlob, send, UPLOAD_PATIENCE_MS } from './ask-server.ts';
import type { Service, UploadState } from './service.ts';

/** The service over HTTP. `base` is the address in front of `/api`, '' for the page's own server. */
export function createFetchService(base = ''): Service {
  const at = (path: string): string => `${base}/api${path}`;
  const jobQuery = (jobId: string | undefined): string => (jobId === undefined ? '' : `?jobId=${encodeURIComponent(jobId)}`);
  return {
    listJobs: (signal) => ask<JobState[]>('GET', at('/jobs'), undefined, signal),
    startJob: (start) => ask<JobState>('POST', at('/jobs'), start),
    readJob: (id, signal) => ask<JobState>('GET', at(`/jobs/${encodeURIComponent(id)}`), undefined, signal),
    postEdits: (id, edits) => ask<JobState>('POST', at(`/jobs/${encodeURIComponent(id)}/edits`), { edits }),
    beginUpload: async (id, { hash, type, bytes }) => readUpload(await send('POST', at(`/jobs/${encodeURIComponent(id)}/photographs`), {
      body: new Blob([], { type: type === '' ? 'application/octet-stream' : type }),
      headers: { 'upload-complete': '?0', 'upload-length': String(bytes), 'repr-digest': `sha-256=:${writeBase64(hash)}:` },
    })),
    askUpload: async (id, hash) => readUpload(await send('HEAD', at(`/jobs/${encodeURIComponent(id)}/photographs/${hash}/upload`))),
    appendUpload: async (id, hash, { offset, piece, last }) => readUpload(await send('PATCH', at(`/jobs/${encodeURIComponent(id)}/photographs/${hash}/upload`), {
      body: new Blob([piece], { type: 'application/partial-upload' }), patienceMs: UPLOAD_PATIENCE_MS,
      headers: { 'upload-offset': String(offset), 'upload-complete': last ? '?1' : '?0' },
    })),
    readPhotograph: (id, hash, signal) => readBlob(send('GET', at(`/jobs/${encodeURIComponent(id)}/photographs/${hash}`), { signal, patienceMs: UPLOAD_PATIENCE_MS }), signal),
    readCatalogue: (signal) => ask<Part[]>('GET', at('/catalogue'), undefined, signal),
    readSnapshot: async (knownTag, signal) => {
      const answer = send('GET', at('/catalogue/snapshot'), { signal, ...(knownTag === undefined ? {} : { headers: { 'if-none-match': knownTag } }) });
      const response = await answer;
      if (response.status === 304) return 'unchanged';
      return { bytes: await (await readBlob(answer, signal)).arrayBuffer(), tag: response.headers.get('etag') ?? '' };
    },
    readPrices: (signal) => ask<Prices>('GET', at('/prices'), undefined, signal),
    readShelf: (signal) => ask<ShelfRow[]>('GET', at('/shelf'), undefined, signal),
    readStock: (signal) => ask<StockRow[]>('GET', at('/stock'), undefined, signal),
    readMoves: (partId, signal) => ask<StockMove[]>('GET', at(`/stock/moves?last=true&most=100&partId=${encodeURIComponent(partId)}`), undefined, signal),
    recordMoves: (moves) => ask<StockAnswer>('POST', at('/stock/moves'), { moves }),
    listReservations: (jobId, signal) => ask<Reservation[]>('GET', at(`/shelf/reservations${jobQuery(jobId)}`), undefined, signal),
    reserve: (request) => ask<Reservation>('POST', at('/shelf/reservations'), request),
    releaseReservation: (id) => ask<void>('DELETE', at(`/shelf/reservations/${encodeURIComponent(id)}`)),
    listOrderLines: (jobId, signal) => ask<OrderLine[]>('GET', at(`/orders/lines${jobQuery(jobId)}`), undefined, signal),
    draftOrderLine: (request) => ask<OrderLine>('POST', at('/orders/lines'), request),
    readPlan: (withShelf, signal) => ask<ShopPlan>('GET', at(`/plan${withShelf ? '?shelf=true' : ''}`), undefined, signal),
    acceptPlan: (acceptance) => ask<AcceptedPlan>('POST', at('/plan/accept'), acceptance),
    readReorder: ({ by, level }, signal) => ask<ReorderAnswer>('GET', at(`/plan/reorder?${new URLSearchParams({ ...(by === undefined ? {} : { by }), ...(level === undefined ? {} : { level: String(level) }) }).toString()}`), undefined, signal),
    listOrders: (signal) => ask<OrderSummary[]>('GET', at('/orders'), undefined, signal),
    readOrder: (id, signal) => ask<PurchaseOrder>('GET', at(`/orders/${encodeURIComponent(id)}`), undefined, signal),
    draftOrder: (draft) => ask<PurchaseOrder>('POST', at('/orders'), draft),
    actOnOrder: (id, acts) => ask<PurchaseOrder>('POST', at(`/orders/${encodeURIComponent(id)}/acts`), { acts }),
    listSuppliers: (signal) => ask<SupplierState[]>('GET', at('/suppliers'), undefined, signal),
    writeSupplier: (edit) => ask<SupplierState>('POST', at('/suppliers'), edit),
    listOffers: (id, signal) => ask<OfferState[]>('GET', at(`/suppliers/${encodeURIComponent(id)}/offers`), undefined, signal),
    writeOffer: (id, edit) => ask<OfferState[]>('POST', at(`/suppliers/${encodeURIComponent(id)}/offers`), edit),
    readShopCard: (signal) => ask<ShopCard>('GET', at('/shop'), undefined, signal),
    writeShopCard: (edit) => ask<ShopCard>('POST', at('/shop'), edit),
    listOutcomes: (jobId, signal) => ask<PartOutcome[]>('GET', at(`/outcomes${jobQuery(jobId)}`), undefined, signal),
    reportOutcome: (report) => ask<PartOutcome>('POST', at('/outcomes'), report),
    readFaultShares: (signal) => ask<FaultSharesAnswer>('GET', at('/prove/shares'), undefined, signal),
    writeFaultShares: (edit) => ask<FaultSharesAnswer>('POST', at('/prove/shares'), edit),
    readReplacements: (signal) => ask<Replacements>('GET', at('/outcomes/replacements'), undefined, signal),
    readHistory: (signal) => ask<FitHistory>('GET', at('/outcomes/history'), undefined, signal),
  };
}

/** What the answer says of an upload, as the IETF's draft of resumable uploads has it. */
function readUpload({ headers }: Response): UploadState {
  return { offset: Number(headers.get('upload-offset') ?? 0), whole: headers.get('upload-complete') === '?1' };
}

/** Hexadecimal digits as base64, as a digest field wants them. */
function writeBase64(hex: string): string {
  return btoa(String.fromCharCode(...(hex.match(/../g) ?? []).map((pair) => Number.parseInt(pair, 16))));
}
