import type {
  FitHistory, JobState, OrderLine, Part, PartOutcome, Prices, Reservation, ShelfRow,
} from '../../catalog-schema/index.ts';
import { ServiceFault, type Service, type ServiceFaultKind, type UploadState } from './service.ts';

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
    listReservations: (jobId, signal) => ask<Reservation[]>('GET', at(`/shelf/reservations${jobQuery(jobId)}`), undefined, signal),
    reserve: (request) => ask<Reservation>('POST', at('/shelf/reservations'), request),
    releaseReservation: (id) => ask<void>('DELETE', at(`/shelf/reservations/${encodeURIComponent(id)}`)),
    listOrderLines: (jobId, signal) => ask<OrderLine[]>('GET', at(`/orders/lines${jobQuery(jobId)}`), undefined, signal),
    draftOrderLine: (request) => ask<OrderLine>('POST', at('/orders/lines'), request),
    listOutcomes: (jobId, signal) => ask<PartOutcome[]>('GET', at(`/outcomes${jobQuery(jobId)}`), undefined, signal),
    reportOutcome: (report) => ask<PartOutcome>('POST', at('/outcomes'), report),
    readHistory: (signal) => ask<FitHistory>('GET', at('/outcomes/history'), undefined, signal),
  };
}

/** A server that does not answer in this time counts as not reached; the caller tries again. */
const PATIENCE_MS = 15_000;
/** A picture of 20 MB read, or a piece of one sent, over a slow shop's network. */
const UPLOAD_PATIENCE_MS = 180_000;

interface Sending {
  readonly body?: string | Blob;
  readonly signal?: AbortSignal | undefined;
  readonly patienceMs?: number;
  readonly headers?: Readonly<Record<string, string>>;
}

function ask<T>(method: 'GET' | 'POST' | 'DELETE', url: string, body?: unknown, signal?: AbortSignal): Promise<T> {
  return readJson<T>(send(method, url, { ...(body === undefined ? {} : { body: JSON.stringify(body) }), signal }), signal);
}

/** The answer, where it is a good one. JSON is sent as text, a picture as it is. */
async function send(method: 'GET' | 'HEAD' | 'POST' | 'PATCH' | 'DELETE', url: string, { body, signal, patienceMs = PATIENCE_MS, headers = {} }: Sending = {}): Promise<Response> {
  const patience = AbortSignal.timeout(patienceMs);
  let response: Response;
  try {
    response = await fetch(url, {
      method,
      headers: { accept: 'application/json', ...(body === undefined ? {} : { 'content-type': typeof body === 'string' ? 'application/json' : body.type }), ...headers },
      ...(body === undefined ? {} : { body }),
      signal: signal === undefined ? patience : AbortSignal.any([signal, patience]),
    });
  } catch (error) {
    if (signal?.aborted) throw error;
    throw new ServiceFault('unreachable', '');
  }
  if (!response.ok && response.status !== 304) throw new ServiceFault(kindOfStatus(response.status), await readProblem(response));
  return response;
}

/** What the answer says of an upload, as the IETF's draft of resumable uploads has it. */
function readUpload({ headers }: Response): UploadState {
  return { offset: Number(headers.get('upload-offset') ?? 0), whole: headers.get('upload-complete') === '?1' };
}

/** Hexadecimal digits as base64, as a digest field wants them. */
function writeBase64(hex: string): string {
  return btoa(String.fromCharCode(...(hex.match(/../g) ?? []).map((pair) => Number.parseInt(pair, 16))));
}

async function readJson<T>(answer: Promise<Response>, signal?: AbortSignal): Promise<T> {
  const response = await answer;
  return response.status === 204 ? undefined as T : readWhole(() => response.json() as Promise<T>, signal);
}

async function readBlob(answer: Promise<Response>, signal?: AbortSignal): Promise<Blob> {
  const response = await answer;
  return readWhole(() => response.blob(), signal);
}

/** A connection may end in the middle of an answer. */
async function readWhole<T>(read: () => Promise<T>, signal: AbortSignal | undefined): Promise<T> {
  try {
    return await read();
  } catch (error) {
    if (signal?.aborted) throw error;
    throw new ServiceFault('unreachable', '');
  }
}

function kindOfStatus(status: number): ServiceFaultKind {
  if (status === 401) return 'signed-out';
  if (status === 404) return 'not-found';
  if (status === 409) return 'taken';
  if (status >= 400 && status < 500) return 'refused';
  // A proxy without a server behind it answers 502 to 504: the work is not lost, it has not arrived.
  return status >= 502 && status <= 504 ? 'unreachable' : 'failed';
}

/** The problem document's faults, one a line, else its detail, else its title. */
async function readProblem(response: Response): Promise<string> {
  try {
    const problem = await response.json() as { title?: string; detail?: string; faults?: { line?: string }[] };
    const lines = (problem.faults ?? []).flatMap((fault) => (fault.line === undefined ? [] : [fault.line]));
    return lines.length > 0 ? lines.join('\n') : problem.detail ?? problem.title ?? '';
  } catch {
    return '';
  }
}
