import type {
  FitHistory, JobState, OrderLine, Part, PartOutcome, Prices, Reservation, ShelfRow,
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
    readCatalogue: (signal) => ask<Part[]>('GET', at('/catalogue'), undefined, signal),
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

async function ask<T>(method: 'GET' | 'POST' | 'DELETE', url: string, body?: unknown, signal?: AbortSignal): Promise<T> {
  const patience = AbortSignal.timeout(PATIENCE_MS);
  let response: Response;
  try {
    response = await fetch(url, {
      method,
      headers: body === undefined ? { accept: 'application/json' } : { accept: 'application/json', 'content-type': 'application/json' },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
      signal: signal === undefined ? patience : AbortSignal.any([signal, patience]),
    });
  } catch (error) {
    if (signal?.aborted) throw error;
    throw new ServiceFault('unreachable', '');
  }
  if (!response.ok) throw new ServiceFault(kindOfStatus(response.status), await readProblem(response));
  if (response.status === 204) return undefined as T;
  try {
    return await response.json() as T;
  } catch (error) {
    if (signal?.aborted) throw error;
    throw new ServiceFault('unreachable', '');
  }
}

function kindOfStatus(status: number): ServiceFaultKind {
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
