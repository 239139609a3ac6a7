import { Hono } from 'hono';
import { z } from 'zod';
import { newOrder, orderActs, orderLine, orderLineRequest, orderSummary, purchaseOrder, type OrderAct } from '../../catalog-schema/index.ts';
import { attributeEntry, ORDER_FORMS, type OrderForm, type Services } from '../services/index.ts';
import { askerOf } from './access/asker.ts';
import { ofJob } from './api-schemas.ts';
import type { ApiDocument } from './open-api.ts';
import { valueOf } from './problem.ts';
import { readBody, readQuery } from './read-request.ts';

const FORMS = Object.keys(ORDER_FORMS) as [OrderForm, ...OrderForm[]];
const documentQuery = z.strictObject({ as: z.enum(FORMS), paper: z.enum(['a4', 'letter']).optional() });

export function makeOrderRoutes({ orders, documents }: Services, document: ApiDocument) {
  document.describe({
    method: 'get', path: '/api/orders/lines', summary: 'What is drafted or ordered for jobs and the counter; of one job where it is named', query: ofJob,
    answers: { 200: { schema: orderLine.array(), what: 'The lines' } }, problems: ['refused-input'],
  });
  document.describe({
    method: 'post', path: '/api/orders/lines', body: orderLineRequest,
    summary: 'Lay a line into the draft to whoever offers it cheapest today; its quantity is what has to be ordered: whole packs, the offer’s least, or a break that costs less',
    answers: { 201: { schema: orderLine, what: 'Drafted' }, 200: { schema: orderLine, what: 'It was there already, and is unchanged' } },
    problems: ['refused-input', 'conflict'],
  });
  document.describe({
    method: 'delete', path: '/api/orders/lines/{id}', summary: 'Withdraw a drafted line',
    answers: { 204: { schema: null, what: 'It is gone' } }, problems: ['not-found', 'conflict'],
  });
  document.describe({
    method: 'get', path: '/api/orders', summary: 'Every order, the newest first',
    answers: { 200: { schema: orderSummary.array(), what: 'The orders' } },
  });
  document.describe({
    method: 'post', path: '/api/orders', body: newOrder,
    summary: 'Draft an order; prices, taxes and lead days are those of the supplier’s standing offers',
    answers: { 201: { schema: purchaseOrder, what: 'Drafted' }, 200: { schema: purchaseOrder, what: 'It was there already, and is unchanged' } },
    problems: ['refused-input', 'conflict', 'other-person'],
  });
  document.describe({
    method: 'get', path: '/api/orders/{id}', summary: 'One order, by its id or number: its lines with the jobs they serve and the evidence of each, what came, what goes back, what it comes to',
    answers: { 200: { schema: purchaseOrder, what: 'The order' } }, problems: ['not-found'],
  });
  document.describe({
    method: 'post', path: '/api/orders/{id}/acts', body: orderActs,
    summary: 'Do something to an order: change, approve, mark as sent, receive, close, cancel, send back, credit; all acts or none, and one that is there already changes nothing',
    answers: { 200: { schema: purchaseOrder, what: 'The order after them' } }, problems: ['not-found', 'refused-input', 'conflict', 'other-person'],
  });
  document.describe({
    method: 'get', path: '/api/orders/{id}/document', query: documentQuery, summary: 'An order as a file for the supplier: a sheet to print, a table by RFC 4180, or OASIS UBL 2.1',
    answers: { 200: { schema: null, what: 'The file', bytes: Object.values(ORDER_FORMS).map((type) => type.replace(/;.*/, '')) } }, problems: ['not-found', 'refused-input'],
  });
  return new Hono()
    .get('/lines', readQuery(ofJob), async (c) => c.json(await orders.lines(c.req.valid('query').jobId), 200))
    .post('/lines', readBody(orderLineRequest), async (c) => {
      const { created, line } = valueOf(c, await orders.draft(c.req.valid('json'), askerOf(c).who?.name));
      return created ? c.json(line, 201) : c.json(line, 200);
    })
    .delete('/lines/:id', async (c) => c.body(valueOf(c, await orders.withdraw(c.req.param('id'))), 204))
    .get('/', async (c) => c.json(await orders.list(), 200))
    .post('/', readBody(newOrder), async (c) => {
      const { who } = askerOf(c);
      const draft = c.req.valid('json');
      const { created, order } = valueOf(c, await orders.draftOrder(who === undefined ? draft : valueOf(c, attributeEntry(draft, who.name))));
      return created ? c.json(order, 201) : c.json(order, 200);
    })
    .get('/:id', async (c) => c.json(valueOf(c, await orders.read(c.req.param('id'))), 200))
    .post('/:id/acts', readBody(orderActs), async (c) => {
      const { who } = askerOf(c);
      const { acts } = c.req.valid('json');
      const signed = who === undefined ? acts : acts.map((act, index): OrderAct => valueOf(c, attributeEntry(act, who.name, `acts[${index}].`)));
      return c.json(valueOf(c, await orders.act(c.req.param('id'), signed)), 200);
    })
    .get('/:id/document', readQuery(documentQuery), async (c) => {
      const { as, paper } = c.req.valid('query');
      const { name, type, bytes } = valueOf(c, await documents.order(c.req.param('id'), as, paper));
      return c.body(Uint8Array.from(bytes), 200, { 'content-type': type, 'content-disposition': `attachment; filename="${name}"`, 'x-content-type-options': 'nosniff' });
    });
}
