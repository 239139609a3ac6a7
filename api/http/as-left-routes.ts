import { Hono } from 'hono';
import { z } from 'zod';
import { asLeftAnswer, customerRecord } from '../../catalog-schema/index.ts';
import type { Services } from '../services/index.ts';
import type { ApiDocument } from './open-api.ts';
import { valueOf } from './problem.ts';
import { readQuery } from './read-request.ts';

/** In which unit the words of the checklist give lengths; millimetres where it is not said. */
const spokenIn = z.strictObject({ unit: z.enum(['mm', 'inch']).optional() });

export function makeAsLeftRoutes({ asLeft, record }: Services, document: ApiDocument) {
  document.describe({
    method: 'get', path: '/api/jobs/{id}/as-left', query: spokenIn,
    summary: 'The reinstall checklist of a job: old and new wiring, each step with its tick, and what is still open before sign-off. A job is signed off by an edit of signedOff, which is refused with a fault for each open step',
    answers: { 200: { schema: asLeftAnswer, what: 'The checklist' } }, problems: ['not-found', 'refused-input'],
  });
  document.describe({
    method: 'get', path: '/api/jobs/{id}/record', query: spokenIn,
    summary: 'The customer\'s page of a job: what was measured, what it proved, what was replaced and what was not needed',
    answers: { 200: { schema: customerRecord, what: 'The page in words' } }, problems: ['not-found', 'refused-input'],
  });
  return new Hono()
    .get('/:id/record', readQuery(spokenIn), async (c) => c.json(valueOf(c, await record.read(c.req.param('id'), c.req.valid('query').unit ?? 'mm')), 200))
    .get('/:id/as-left', readQuery(spokenIn), async (c) => c.json(valueOf(c, await asLeft.read(c.req.param('id'), c.req.valid('query').unit ?? 'mm')), 200));
}
