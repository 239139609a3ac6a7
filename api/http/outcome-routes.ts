import { Hono } from 'hono';
import { fitHistoryRow, outcomeReport, partOutcome, replacementRow } from '../../catalog-schema/index.ts';
import { attributeOutcome, type Services } from '../services/index.ts';
import { askerOf } from './access/asker.ts';
import { ofJob } from './api-schemas.ts';
import type { ApiDocument } from './open-api.ts';
import { valueOf } from './problem.ts';
import { readBody, readQuery } from './read-request.ts';

export function makeOutcomeRoutes({ outcomes }: Services, document: ApiDocument) {
  document.describe({
    method: 'get', path: '/api/outcomes', summary: 'What became of fitted parts, in the order in which it was told; of one job where it is named', query: ofJob,
    answers: { 200: { schema: partOutcome.array(), what: 'The outcomes' } }, problems: ['refused-input'],
  });
  document.describe({
    method: 'post', path: '/api/outcomes', body: outcomeReport,
    summary: 'Tell that a part fitted on a job held, or that the machine came back with it; of several on one part of one job the last counts',
    answers: { 201: { schema: partOutcome, what: 'Kept' }, 200: { schema: partOutcome, what: 'It was there already, and is unchanged' } },
    problems: ['refused-input', 'other-person'],
  });
  document.describe({
    method: 'get', path: '/api/outcomes/history', summary: 'What the outcomes add up to, by part and kind of machine: ready to be sent with a fit',
    answers: { 200: { schema: fitHistoryRow.array(), what: 'The sums' } },
  });
  document.describe({
    method: 'get', path: '/api/outcomes/replacements', summary: 'What the outcomes add up to, by part and by the number the removed part carried: what a look-up by number goes by',
    answers: { 200: { schema: replacementRow.array(), what: 'The sums' } },
  });
  return new Hono()
    .get('/', readQuery(ofJob), async (c) => c.json(await outcomes.list(c.req.valid('query').jobId), 200))
    .post('/', readBody(outcomeReport), async (c) => {
      const { who } = askerOf(c);
      const report = c.req.valid('json');
      const signed = who === undefined ? report : valueOf(c, attributeOutcome(report, who.name));
      const { created, outcome } = valueOf(c, await outcomes.report(signed));
      return created ? c.json(outcome, 201) : c.json(outcome, 200);
    })
    .get('/replacements', async (c) => c.json(await outcomes.replacements(), 200))
    .get('/history', async (c) => c.json(await outcomes.history(), 200));
}
