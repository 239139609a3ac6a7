import { Hono } from 'hono';
import { offerEdit, offerState, shopCard, shopCardEdit, supplierEdit, supplierState } from '../../catalog-schema/index.ts';
import { attributeEntry, type Services } from '../services/index.ts';
import { askerOf } from './access/asker.ts';
import type { ApiDocument } from './open-api.ts';
import { valueOf } from './problem.ts';
import { readBody } from './read-request.ts';

export function makeSupplierRoutes({ suppliers }: Services, document: ApiDocument) {
  document.describe({
    method: 'get', path: '/api/suppliers', summary: 'Every supplier, with what its deliveries have taught',
    answers: { 200: { schema: supplierState.array(), what: 'The suppliers' } },
  });
  document.describe({
    method: 'post', path: '/api/suppliers', body: supplierEdit, summary: 'Write a supplier’s card anew, or add one; the same edit again changes nothing',
    answers: { 201: { schema: supplierState, what: 'Added' }, 200: { schema: supplierState, what: 'As it stands now' } }, problems: ['refused-input', 'other-person'],
  });
  document.describe({
    method: 'get', path: '/api/suppliers/{id}', summary: 'One supplier',
    answers: { 200: { schema: supplierState, what: 'The supplier' } }, problems: ['not-found'],
  });
  document.describe({
    method: 'get', path: '/api/suppliers/{id}/offers', summary: 'What a supplier offers, by part, and who wrote each offer',
    answers: { 200: { schema: offerState.array(), what: 'The offers' } }, problems: ['not-found'],
  });
  document.describe({
    method: 'post', path: '/api/suppliers/{id}/offers', body: offerEdit, summary: 'Write an offer anew, or take it back where `offer` is null; the same edit again changes nothing',
    answers: { 200: { schema: offerState.array(), what: 'The offers of that part: one, or none' } }, problems: ['not-found', 'refused-input', 'other-person'],
  });
  return new Hono()
    .get('/', async (c) => c.json(await suppliers.list(), 200))
    .post('/', readBody(supplierEdit), async (c) => {
      const { who } = askerOf(c);
      const edit = c.req.valid('json');
      const { created, state } = valueOf(c, await suppliers.write(who === undefined ? edit : valueOf(c, attributeEntry(edit, who.name))));
      return created ? c.json(state, 201) : c.json(state, 200);
    })
    .get('/:id', async (c) => c.json(valueOf(c, await suppliers.read(c.req.param('id'))), 200))
    .get('/:id/offers', async (c) => c.json(valueOf(c, await suppliers.offers(c.req.param('id'))), 200))
    .post('/:id/offers', readBody(offerEdit), async (c) => {
      const { who } = askerOf(c);
      const edit = c.req.valid('json');
      const offer = valueOf(c, await suppliers.writeOffer(c.req.param('id'), who === undefined ? edit : valueOf(c, attributeEntry(edit, who.name))));
      return c.json(offer === null ? [] : [offer], 200);
    });
}

/** What stands on the shop's own papers, and the taxes it pays. */
export function makeShopRoutes({ suppliers }: Services, document: ApiDocument) {
  document.describe({
    method: 'get', path: '/api/shop', summary: 'The shop’s name and address on its papers, and the taxes it pays',
    answers: { 200: { schema: shopCard, what: 'The card' } },
  });
  document.describe({
    method: 'post', path: '/api/shop', body: shopCardEdit, summary: 'Write the shop’s card anew; a tax that a supplier or an offer has cannot be left out',
    answers: { 200: { schema: shopCard, what: 'The card' } }, problems: ['refused-input', 'conflict', 'other-person'],
  });
  return new Hono()
    .get('/', async (c) => c.json(await suppliers.shopCard(), 200))
    .post('/', readBody(shopCardEdit), async (c) => {
      const { who } = askerOf(c);
      const edit = c.req.valid('json');
      return c.json(valueOf(c, await suppliers.writeShopCard(who === undefined ? edit : valueOf(c, attributeEntry(edit, who.name)))), 200);
    });
}
