import { Hono } from 'hono';
import { z } from 'zod';
import {
  benchRecordSchema, findAnswer, fitAnswer, identifyAnswer, LIMITS, needSchema, proveAnswer, proveCaseSchema, rewireAnswer, sourceAnswer, traceAnswer,
} from '../../catalog-schema/index.ts';
import type { Services } from '../services/index.ts';
import { fitRequest, rewireRequest, traceRequest } from './api-schemas.ts';
import type { ApiDocument } from './open-api.ts';
import { valueOf } from './problem.ts';
import { readBody, readQuery } from './read-request.ts';

const findQuery = z.strictObject({ text: z.string().max(LIMITS.stringCharacters) });

export function makeBenchRoutes({ bench, faultShares }: Services, document: ApiDocument) {
  document.describe({
    method: 'post', path: '/api/identify', summary: 'What a bench record shows about the removed part', body: benchRecordSchema,
    answers: { 200: { schema: identifyAnswer, what: 'What is known' } }, problems: ['refused-input', 'busy'],
  });
  document.describe({
    method: 'post', path: '/api/fit', summary: 'Which parts of the stored catalogue do the removed part’s work; `all` keeps those that do not, `most` and `only` list fewer; `history` is the shop’s own where none is given', body: fitRequest,
    answers: { 200: { schema: fitAnswer, what: 'Fits, best first' } }, problems: ['refused-input', 'busy'],
  });
  document.describe({
    method: 'post', path: '/api/rewire', summary: 'Which wire goes where on one part, given whole or by its id', body: rewireRequest,
    answers: { 200: { schema: rewireAnswer, what: 'Plans, or why there is none' } }, problems: ['refused-input', 'busy'],
  });
  document.describe({
    method: 'get', path: '/api/find', summary: 'Parts by number or words', query: findQuery,
    answers: { 200: { schema: findAnswer, what: 'Hits, best first' } }, problems: ['refused-input', 'busy'],
  });
  document.describe({
    method: 'post', path: '/api/trace', summary: 'Where wires lead by readings at their free ends, and which reading tells more', body: traceRequest,
    answers: { 200: { schema: traceAnswer, what: 'Of each wire what remains, what contradicts, what to measure next' } }, problems: ['refused-input', 'busy'],
  });
  document.describe({
    method: 'post', path: '/api/prove', summary: 'Which part of a cranking circuit failed, from what was seen and measured, by the shop’s own shares of faults where it has any', body: proveCaseSchema,
    answers: { 200: { schema: proveAnswer, what: 'How likely each fault is, what is proven, which test to do next' } }, problems: ['refused-input', 'busy'],
  });
  document.describe({
    method: 'post', path: '/api/source', summary: 'What comes from the shelf and what is ordered where, for all needs together at the least cost; shelf and offers are those of the body', body: needSchema,
    answers: { 200: { schema: sourceAnswer, what: 'Fills, orders, and how far the total is proven least' } }, problems: ['refused-input', 'busy'],
  });
  return new Hono()
    .post('/identify', readBody(benchRecordSchema), async (c) => c.json(valueOf(c, await bench.identify(c.req.valid('json'))), 200))
    .post('/fit', readBody(fitRequest), async (c) => {
      const { record, ...wishes } = c.req.valid('json');
      return c.json(valueOf(c, await bench.fit(record, wishes)), 200);
    })
    .post('/rewire', readBody(rewireRequest), async (c) => {
      const { record, part, partId } = c.req.valid('json');
      return c.json(valueOf(c, await bench.rewire(record, part ?? { partId: partId! })), 200);
    })
    .post('/trace', readBody(traceRequest), async (c) => {
      const { record, tags } = c.req.valid('json');
      return c.json(valueOf(c, await bench.trace(record, tags)), 200);
    })
    .post('/prove', readBody(proveCaseSchema), async (c) => c.json(valueOf(c, await bench.prove(c.req.valid('json'), await faultShares.current())), 200))
    .post('/source', readBody(needSchema), async (c) => c.json(valueOf(c, await bench.source(c.req.valid('json'))), 200))
    .get('/find', readQuery(findQuery), async (c) => c.json(valueOf(c, await bench.find(c.req.valid('query').text)), 200));
}
