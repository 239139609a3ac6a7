import { Hono } from 'hono';
import { pricesSchema } from '../../catalog-schema/index.ts';
import type { Services } from '../services/index.ts';
import type { ApiDocument } from './open-api.ts';

export function makePriceRoutes({ prices }: Services, document: ApiDocument) {
  document.describe({
    method: 'get', path: '/api/prices', summary: 'Shelf, suppliers, offers and rates as they stand today, ready to be sent with a fit',
    answers: { 200: { schema: pricesSchema, what: 'The prices' } },
  });
  return new Hono().get('/', async (c) => c.json(await prices.current(), 200));
}
