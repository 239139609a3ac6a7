import type {
  FitHistory, JobState, OrderLine, Part, PartOutcome, Prices, Reservation, ShelfRow, StoredPhotograph,
} from '../../catalog-schema/index.ts';
import { ServiceFault, type Service, type ServiceFaultKind } from './service.ts';

/** The service over HTTP. `base` is the address in front of `/api`, '' for the page's own server. */
export function createFetchService(base = ''): Service {
  const at = (path: string): string => `${base}/api${path}`;
  const jobQuery = (jobId: string | undefined): string => (jobId === undefined ? '' : `?jobId=${encodeURIComponent(jobId)}`);
  return {
    listJobs: (signal) => ask<JobState[]>('GET', at('/jobs'), undefined, signal),
    startJob: (start) => ask<JobState>('POST', at('/jobs'), start),
    readJob: (id, signal) => ask<JobState>('GET', at(`/jobs/${encodeURIComponent(id)}`), undefined, signal),
    postEdits: (id, edits) => ask<JobState>('POST', at(`/jobs/${encodeURIComponent(id)}/edits`), { edits }),
    keepPhotograph: (id, picture) => readJson<StoredPhotograph>(send('POST', at(`/jobs/${encodeURIComponent(id)}/photographs`), { body: picture, patienceMs: UPLOAD_PATIENCE_MS })),
    readPhotograph: (id, hash, signal) => readBlob(send('GET', at(`/jobs/${encodeURIComponent(id)}/photographs/${hash}`), { signal, patienceMs: UPLOAD_PATIENCE_MS }), signal),
    readCatalogue: (signal) => ask<Part[]>('GET', at('/catalogue'), undefined, signal),
    readSnapshot: async (signal) => (await readBlob(send('GET', at('/catalogue/snapshot'), { signal }), signal)).arrayBuffer(),
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
/** 20 MB over a slow shop's network. */
const UPLOAD_PATIENCE_MS = 180_000;

interface Sending { readonly body?: string | Blob; readonly signal?: AbortSignal | undefined; readonly patienceMs?: number }

function ask<T>(method: 'GET' | 'POST' | 'DELETE', url: string, body?: unknown, signal?: AbortSignal): Promise<T> {
  return readJson<T>(send(method, url, { ...(body === undefined ? {} : { body: JSON.stringify(body) }), signal }), signal);
}

/** The answer, where it is a good one. JSON is sent as text, a picture as it is. */
async function send(method: 'GET' | 'POST' | 'DELETE', url: string, { body, signal, patienceMs = PATIENCE_MS }: Sending): Promise<Response> {
  const patience = AbortSignal.timeout(patienceMs);
  let response: Response;
  try {
    response = await fetch(url, {
      method,
      headers: { accept: 'application/json', ...(body === undefined ? {} : { 'content-type': typeof body === 'string' ? 'application/json' : body.type }) },
      ...(body === undefined ? {} : { body }),
      signal: signal === undefined ? patience : AbortSignal.any([signal, patience]),
    });
  } catch (error) {
    if (signal?.aborted) throw error;
    throw new ServiceFault('unreachable', '');
  }
  if (!response.ok) throw new ServiceFault(kindOfStatus(response.status), await readProblem(response));
  return response;
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
