import { Hono } from 'hono';
import { orderLine, orderLineRequest } from '../../catalog-schema/index.ts';
import type { Services } from '../services/index.ts';
import { ofJob } from './api-schemas.ts';
import type { ApiDocument } from './open-api.ts';
import { valueOf } from './problem.ts';
import { readBody, readQuery } from './read-request.ts';

export function makeOrderRoutes({ orders }: Services, document: ApiDocument) {
  document.describe({
    method: 'get', path: '/api/orders/lines', summary: 'Drafted order lines; of one job where it is named', query: ofJob,
    answers: { 200: { schema: orderLine.array(), what: 'The lines' } }, problems: ['refused-input'],
  });
  document.describe({
    method: 'post', path: '/api/orders/lines', body: orderLineRequest,
    summary: 'Draft a line from the cheapest offer that stands today; its quantity is what has to be ordered: whole packs, the offer’s least, or a break that costs less',
    answers: { 201: { schema: orderLine, what: 'Drafted' }, 200: { schema: orderLine, what: 'It was there already, and is unchanged' } },
    problems: ['refused-input', 'conflict'],
  });
  document.describe({
    method: 'delete', path: '/api/orders/lines/{id}', summary: 'Withdraw a drafted line',
    answers: { 204: { schema: null, what: 'It is gone' } }, problems: ['not-found'],
  });
  return new Hono()
    .get('/lines', readQuery(ofJob), async (c) => c.json(await orders.lines(c.req.valid('query').jobId), 200))
    .post('/lines', readBody(orderLineRequest), async (c) => {
      const { created, line } = valueOf(c, await orders.draft(c.req.valid('json')));
      return created ? c.json(line, 201) : c.json(line, 200);
    })
    .delete('/lines/:id', async (c) => c.body(valueOf(c, await orders.withdraw(c.req.param('id'))), 204));
}
