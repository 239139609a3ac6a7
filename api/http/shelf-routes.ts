import { Hono } from 'hono';
import { reservation, reservationRequest, shelfRow } from '../../catalog-schema/index.ts';
import type { Services } from '../services/index.ts';
import { askerOf } from './access/asker.ts';
import { ofJob } from './api-schemas.ts';
import type { ApiDocument } from './open-api.ts';
import { valueOf } from './problem.ts';
import { readBody, readQuery } from './read-request.ts';

export function makeShelfRoutes({ shelf }: Services, document: ApiDocument) {
  document.describe({
    method: 'get', path: '/api/shelf', summary: 'Every bin with what is free in it',
    answers: { 200: { schema: shelfRow.array(), what: 'The bins' } },
  });
  document.describe({
    method: 'get', path: '/api/shelf/reservations', summary: 'What is put aside or sold over the counter; of one job where it is named', query: ofJob,
    answers: { 200: { schema: reservation.array(), what: 'The reservations' } }, problems: ['refused-input'],
  });
  document.describe({
    method: 'post', path: '/api/shelf/reservations', summary: 'Put units aside for a job, or sell them over the counter where no job is named',
    body: reservationRequest,
    answers: { 201: { schema: reservation, what: 'Put aside' }, 200: { schema: reservation, what: 'It was there already, and is unchanged' } },
    problems: ['refused-input', 'conflict'],
  });
  document.describe({
    method: 'delete', path: '/api/shelf/reservations/{id}', summary: 'Put the units back',
    answers: { 204: { schema: null, what: 'They are free again' } }, problems: ['not-found'],
  });
  return new Hono()
    .get('/', async (c) => c.json(await shelf.list(), 200))
    .get('/reservations', readQuery(ofJob), async (c) => c.json(await shelf.reservations(c.req.valid('query').jobId), 200))
    .post('/reservations', readBody(reservationRequest), async (c) => {
      const { created, reservation: made } = valueOf(c, await shelf.reserve(c.req.valid('json'), askerOf(c).who?.name));
      return created ? c.json(made, 201) : c.json(made, 200);
    })
    .delete('/reservations/:id', async (c) => c.body(valueOf(c, await shelf.release(c.req.param('id'), askerOf(c).who?.name)), 204));
}
