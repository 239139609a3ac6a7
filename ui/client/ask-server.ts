import { ServiceFault, type ServiceFaultKind } from './service.ts';

// One request to the shop's server; what may be asked for is in the services beside this file.

/** A server that does not answer in this time counts as not reached; the caller tries again. */
const PATIENCE_MS = 15_000;
/** A picture of 20 MB read, or a piece of one sent, over a slow shop's network. */
export const UPLOAD_PATIENCE_MS = 180_000;

interface Sending {
  readonly body?: string | Blob;
  readonly signal?: AbortSignal | undefined;
  readonly patienceMs?: number;
  readonly headers?: Readonly<Record<string, string>>;
}

export function ask<T>(method: 'GET' | 'POST' | 'DELETE', url: string, body?: unknown, signal?: AbortSignal): Promise<T> {
  return readJson<T>(send(method, url, { ...(body === undefined ? {} : { body: JSON.stringify(body) }), signal }), signal);
}

/** The answer, where it is a good one. JSON is sent as text, a picture as it is. */
export async function send(method: 'GET' | 'HEAD' | 'POST' | 'PATCH' | 'DELETE', url: string, { body, signal, patienceMs = PATIENCE_MS, headers = {} }: Sending = {}): Promise<Response> {
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
  if (!response.ok && response.status !== 304) throw await readFault(response);
  return response;
}

export async function readJson<T>(answer: Promise<Response>, signal?: AbortSignal): Promise<T> {
  const response = await answer;
  return response.status === 204 ? undefined as T : readWhole(() => response.json() as Promise<T>, signal);
}

export async function readBlob(answer: Promise<Response>, signal?: AbortSignal): Promise<Blob> {
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
async function readFault(response: Response): Promise<ServiceFault> {
  let problem: { type?: string; title?: string; detail?: string; faults?: { line?: string }[] } = {};
  try {
    problem = await response.json() as typeof problem;
  } catch { /* an answer without words */ }
  const lines = (problem.faults ?? []).flatMap((fault) => (fault.line === undefined ? [] : [fault.line]));
  // What one person entered waits for that person, whoever else is signed in.
  const kind = problem.type?.endsWith('#problem-other-person') ? 'signed-out' : kindOfStatus(response.status);
  // Who has to sign in first is all that a 401 says, and the page says it itself.
  if (response.status === 401) return new ServiceFault(kind, '');
  return new ServiceFault(kind, lines.length > 0 ? lines.join('\n') : problem.detail ?? problem.title ?? '');
}
