import { Hono } from 'hono';
import { faultSharesAnswer, faultSharesEdit } from '../../catalog-schema/index.ts';
import type { Services } from '../services/index.ts';
import { askerOf } from './access/asker.ts';
import type { ApiDocument } from './open-api.ts';
import { readBody } from './read-request.ts';

export function makeFaultShareRoutes({ faultShares }: Services, document: ApiDocument) {
  document.describe({
    method: 'get', path: '/api/prove/shares', summary: 'How often each fault is found here before anything is seen: as the shop set it, and as its signed-off jobs taught (n)',
    answers: { 200: { schema: faultSharesAnswer, what: 'The shares' } },
  });
  document.describe({
    method: 'post', path: '/api/prove/shares', summary: 'Put the shop’s own shares in place of those it had; a fault left out keeps the product’s', body: faultSharesEdit,
    answers: { 200: { schema: faultSharesAnswer, what: 'The shares as they now are' } }, problems: ['refused-input'],
  });
  return new Hono()
    .get('/', async (c) => c.json(await faultShares.read(), 200))
    .post('/', readBody(faultSharesEdit), async (c) => {
      const { who } = askerOf(c);
      const edit = c.req.valid('json');
      return c.json(await faultShares.write(who === undefined ? edit : { ...edit, by: who.name }), 200);
    });
}
