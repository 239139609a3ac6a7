import { Hono, type Context } from 'hono';
import { storedPhotograph } from '../../catalog-schema/index.ts';
import type { Outcome, Services } from '../services/index.ts';
import type { ApiDocument } from './open-api.ts';
import { problemOf, sendProblem, valueOf } from './problem.ts';
import { refuseWhole } from './read-request.ts';

// As the IETF's draft "Resumable Uploads for HTTP" has it (draft-ietf-httpbis-resumable-upload of the HTTP working group, read in its text):
// Upload-Complete, Upload-Offset and Upload-Length are its fields, a piece is of type application/partial-upload, and a piece at a wrong offset
// is answered 409 with the right one. Ours differs in one point: the address of an upload names the bytes by their hash, so a device that
// knows what it sends finds its upload again without having kept an address. The hash comes as Repr-Digest (RFC 9530).

const PIECE_TYPE = 'application/partial-upload';
/** Bytes that arrive are put on the disk in pieces of at least so many: what a break may cost. */
const KEPT_AT_ONCE = 256 * 1024;

export function makeUploadRoutes({ uploads }: Services, document: ApiDocument) {
  const path = '/api/jobs/{id}/photographs/{hash}/upload';
  document.describe({
    method: 'get', path, summary: 'How far a photograph has come in, as HEAD asks it: Upload-Offset, Upload-Length, Upload-Complete',
    answers: { 204: { schema: null, what: 'So far' } }, problems: ['not-found'],
  });
  document.describe({
    method: 'patch', path, bytesIn: [PIECE_TYPE],
    summary: 'Add the bytes that follow on Upload-Offset; with Upload-Complete: ?1 they are the last. An upload is begun by a POST to the photographs of the job with Upload-Complete: ?0, Upload-Length and Repr-Digest',
    answers: { 204: { schema: null, what: 'They are kept; there are more to come' }, 201: { schema: storedPhotograph, what: 'The photograph is whole and kept' }, 200: { schema: storedPhotograph, what: 'It was whole already' } },
    problems: ['not-found', 'refused-input', 'conflict'],
  });
  document.describe({
    method: 'delete', path, summary: 'Give an upload up; what has arrived of it goes',
    answers: { 204: { schema: null, what: 'It is gone' } }, problems: ['not-found'],
  });
  return new Hono()
    .get('/:id/photographs/:hash/upload', async (c) => {
      const { offset, byteCount, whole } = valueOf(c, await uploads.find(c.req.param('id'), c.req.param('hash')));
      return c.body(null, 204, { ...sayProgress(offset, whole), 'upload-length': String(byteCount), 'cache-control': 'no-store' });
    })
    .patch('/:id/photographs/:hash/upload', async (c) => {
      const type = c.req.header('content-type');
      if (type?.split(';')[0]?.trim().toLowerCase() !== PIECE_TYPE) {
        return refuseWhole(c, type === undefined ? 'a body of no stated type' : JSON.stringify(type.slice(0, 60)), `a piece of type ${PIECE_TYPE}`) as never;
      }
      const offset = readCount(c, 'upload-offset');
      const last = readFlag(c, 'upload-complete');
      if (offset === undefined) return refuseHeader(c, 'upload-offset', 'a whole number of bytes');
      if (last === undefined) return refuseHeader(c, 'upload-complete', '?0 or ?1');
      const { id, hash } = c.req.param();
      const arrived = await takeBytes(c, offset, (at, bytes) => uploads.append(id, hash, at, bytes));
      if (!arrived.ok) return sendProblem(c, problemOf(arrived.refusal)) as never;
      if (!arrived.value.added && !arrived.value.whole) {
        c.header('upload-offset', String(arrived.value.offset));
        return sendProblem(c, {
          ...problemOf({ kind: 'conflict', why: `the upload is at ${arrived.value.offset}, the piece begins at ${offset}` }),
          type: 'https://iana.org/assignments/http-problem-types#mismatching-upload-offset',
        }) as never;
      }
      if (!last && !arrived.value.whole) return c.body(null, 204, sayProgress(arrived.value.offset, false)) as never;
      const finished = await uploads.finish(id, hash);
      // Fewer bytes than were said have arrived: the upload goes on.
      const goesOn = !finished.ok && finished.refusal.kind === 'conflict';
      c.header('upload-complete', goesOn ? '?0' : '?1');
      c.header('upload-offset', String(arrived.value.offset));
      const { created, photograph } = valueOf(c, finished);
      return created ? c.json(photograph, 201) : c.json(photograph, 200);
    })
    .delete('/:id/photographs/:hash/upload', async (c) => c.body(valueOf(c, await uploads.cancel(c.req.param('id'), c.req.param('hash'))), 204));
}

/** Begins an upload where a request to keep a photograph says that its bytes come later; undefined where they came with it. */
export async function beginUpload(c: Context<object, '/:id/photographs'>, { uploads }: Services): Promise<Response | undefined> {
  if (readFlag(c, 'upload-complete') !== false) return undefined;
  const byteCount = readCount(c, 'upload-length');
  const hash = readSha256(c.req.header('repr-digest'));
  if (byteCount === undefined || byteCount === 0) return refuseHeader(c, 'upload-length', 'a whole number of bytes above 0');
  if (hash === undefined) return refuseHeader(c, 'repr-digest', 'sha-256=:BASE64:');
  const id = c.req.param('id');
  const { offset, whole } = valueOf(c, await uploads.begin(id, hash, byteCount));
  return c.body(null, whole ? 200 : 201, {
    ...sayProgress(offset, whole), location: `/api/jobs/${encodeURIComponent(id)}/photographs/${hash}/upload`, 'cache-control': 'no-store',
  });
}

/** Whether a request brings a piece of a photograph. */
export function takesPiece(context: Context): boolean {
  return context.req.method === 'PATCH' && /^\/api\/jobs\/[^/]+\/photographs\/[^/]+\/upload$/.test(context.req.path);
}

type Added = Outcome<{ offset: number; whole: boolean; added: boolean }>;

/** Keeps a body as it arrives. Where the connection breaks, what came before is kept all the same. */
async function takeBytes(c: Context, from: number, keep: (at: number, bytes: Uint8Array) => Promise<Added>): Promise<Added> {
  const reader = c.req.raw.body?.getReader();
  let at = from;
  let waiting: Uint8Array[] = [];
  let waitingBytes = 0;
  const flush = async (): Promise<Added> => {
    const kept = await keep(at, Buffer.concat(waiting));
    at += waitingBytes;
    waiting = [];
    waitingBytes = 0;
    return kept;
  };
  for (;;) {
    let piece: { done: boolean; value?: Uint8Array | undefined };
    try {
      piece = await reader?.read() ?? { done: true };
    } catch (error) {
      if (waitingBytes > 0) await flush();
      throw error;
    }
    if (piece.done) return flush();
    if (piece.value !== undefined) waiting.push(piece.value);
    waitingBytes += piece.value?.length ?? 0;
    if (waitingBytes < KEPT_AT_ONCE) continue;
    const kept = await flush();
    // Nobody waits for the rest of a piece that does not fit.
    if (!kept.ok || !kept.value.added) {
      await reader?.cancel().catch(() => {});
      return kept;
    }
  }
}

function sayProgress(offset: number, whole: boolean): Record<string, string> {
  return { 'upload-offset': String(offset), 'upload-complete': whole ? '?1' : '?0' };
}

function refuseHeader(c: Context, name: string, want: string): never {
  const found = c.req.header(name);
  return refuseWhole(c, `${name} ${found === undefined ? 'missing' : JSON.stringify(found.slice(0, 80))}`, want) as never;
}

/** A boolean as a structured field (RFC 9651): ?0 or ?1. */
function readFlag(c: Context, name: string): boolean | undefined {
  const value = c.req.header(name)?.trim();
  return value === '?1' ? true : value === '?0' ? false : undefined;
}

function readCount(c: Context, name: string): number | undefined {
  const value = c.req.header(name)?.trim() ?? '';
  return /^\d{1,15}$/.test(value) ? Number(value) : undefined;
}

/** The SHA-256 of a digest field, in hexadecimal. */
function readSha256(field: string | undefined): string | undefined {
  const base64 = /(?:^|,)\s*sha-256=:([A-Za-z0-9+/]{43}=):/.exec(field ?? '')?.[1];
  return base64 === undefined ? undefined : Buffer.from(base64, 'base64').toString('hex');
}
