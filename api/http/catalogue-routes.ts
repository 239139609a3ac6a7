import { Hono } from 'hono';
import { partSchema, type Part } from '../../catalog-schema/index.ts';
import type { Services } from '../services/index.ts';
import type { ApiDocument } from './open-api.ts';
import { makeProblem, sendProblem, valueOf } from './problem.ts';

/** Of the file a snapshot is sent as; a name of our own. */
export const SNAPSHOT_TYPE = 'application/vnd.lugwright.snapshot';

export function makeCatalogueRoutes(services: Services, document: ApiDocument) {
  document.describe({
    method: 'get', path: '/api/catalogue', summary: 'Every part; send the ETag back in If-None-Match to be told only of a change',
    answers: { 200: { schema: partSchema.array(), what: 'The parts' }, 304: { schema: null, what: 'Unchanged' } },
  });
  document.describe({
    method: 'get', path: '/api/catalogue/snapshot', summary: 'The catalogue as one binary file that fits are answered from; send the ETag back in If-None-Match',
    answers: { 200: { schema: null, what: 'The file', bytes: [SNAPSHOT_TYPE] }, 304: { schema: null, what: 'Unchanged' } }, problems: ['busy'],
  });
  document.describe({
    method: 'get', path: '/api/catalogue/parts/{id}', summary: 'One part',
    answers: { 200: { schema: partSchema, what: 'The part' } }, problems: ['not-found'],
  });
  return new Hono()
    .get('/', (c) => {
      const { json, etag } = services.catalogue.current();
      const headers = { etag, 'cache-control': 'no-cache', 'content-type': 'application/json' };
      if (matchesEtag(c.req.header('if-none-match'), etag)) return c.body(null, 304, { etag, 'cache-control': 'no-cache' }) as never;
      // The text is kept ready; its type is told to the caller without building it again.
      return c.body(json, 200, headers) as unknown as ReturnType<typeof c.json<Part[], 200>>;
    })
    .get('/snapshot', async (c) => {
      const { bytes, hash } = valueOf(c, await services.bench.snapshot());
      const headers = { etag: `"${hash}"`, 'cache-control': 'no-cache' };
      return matchesEtag(c.req.header('if-none-match'), headers.etag) ? c.body(null, 304, headers) : c.body(bytes, 200, { ...headers, 'content-type': SNAPSHOT_TYPE });
    })
    .get('/parts/:id', (c) => {
      const part = services.catalogue.current().byId.get(c.req.param('id'));
      if (!part) return sendProblem(c, makeProblem('not-found', `no part ${JSON.stringify(c.req.param('id'))} in the catalogue`)) as never;
      return c.json(part, 200);
    });
}

/** RFC 9110: compared weakly, since compressing on the way makes a strong tag weak. */
function matchesEtag(header: string | undefined, etag: string): boolean {
  if (header === undefined) return false;
  return header.trim() === '*' || header.split(',').some((tag) => tag.trim().replace(/^W\//, '') === etag);
}
