import { Hono, type Context } from 'hono';
import { storedPhotograph } from '../../catalog-schema/index.ts';
import type { Services } from '../services/index.ts';
import type { ApiDocument } from './open-api.ts';
import { valueOf } from './problem.ts';
import { refuseWhole } from './read-request.ts';
import { beginUpload } from './upload-routes.ts';

const PICTURE_TYPES = ['image/jpeg', 'image/png', 'image/webp'] as const;
/** The address names the bytes by their hash: what it answers never changes. */
const LASTING = 'private, max-age=31536000, immutable';

export function makePhotographRoutes(services: Services, document: ApiDocument) {
  const { photographs } = services;
  document.describe({
    method: 'post', path: '/api/jobs/{id}/photographs', bytesIn: PICTURE_TYPES,
    summary: 'Keep a photograph of a job, up to 20 MB, as its bytes are; what they are is told by themselves, and their SHA-256 is its name',
    answers: { 201: { schema: storedPhotograph, what: 'Kept' }, 200: { schema: storedPhotograph, what: 'It was there already, and is unchanged' } },
    problems: ['not-found', 'refused-input'],
  });
  document.describe({
    method: 'get', path: '/api/jobs/{id}/photographs/{hash}', summary: 'A photograph of a job, as it came',
    answers: { 200: { schema: null, what: 'The picture', bytes: PICTURE_TYPES }, 304: { schema: null, what: 'Unchanged, as it always is' } }, problems: ['not-found'],
  });
  return new Hono()
    .post('/:id/photographs', async (c) => {
      // Any other type could be sent by a form of another site without the browser asking first.
      const type = c.req.header('content-type');
      if (!/^(?:image\/[\w.+-]+|application\/octet-stream)\s*(?:;|$)/i.test(type ?? '')) {
        return refuseWhole(c, type === undefined ? 'a body of no stated type' : JSON.stringify(type.slice(0, 60)), 'a photograph, of type image/jpeg, image/png or image/webp') as never;
      }
      const begun = await beginUpload(c, services);
      if (begun !== undefined) return begun as never;
      const { created, photograph } = valueOf(c, await photographs.keep(c.req.param('id'), new Uint8Array(await c.req.arrayBuffer())));
      return created ? c.json(photograph, 201) : c.json(photograph, 200);
    })
    .get('/:id/photographs/:hash', async (c) => {
      const hash = c.req.param('hash');
      const { type, bytes } = valueOf(c, await photographs.read(c.req.param('id'), hash));
      const headers = { 'cache-control': LASTING, etag: `"${hash}"`, 'x-content-type-options': 'nosniff' };
      if (c.req.header('if-none-match')?.includes(`"${hash}"`)) return c.body(null, 304, headers);
      return c.body(Uint8Array.from(bytes), 200, { ...headers, 'content-type': type });
    });
}

/** Whether a request brings a photograph, which may be larger than any JSON. */
export function takesPhotograph(context: Context): boolean {
  return context.req.method === 'POST' && /^\/api\/jobs\/[^/]+\/photographs$/.test(context.req.path);
}
