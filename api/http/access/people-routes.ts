import { Hono } from 'hono';
import { newPerson, personState, pinReset } from '../../../catalog-schema/index.ts';
import type { Services } from '../../services/index.ts';
import type { ApiDocument } from '../open-api.ts';
import { valueOf } from '../problem.ts';
import { readBody } from '../read-request.ts';
import { onlyHere } from './asker.ts';

export function makePeopleRoutes({ people }: Pick<Services, 'people'>, document: ApiDocument) {
  document.describe({
    method: 'get', path: '/api/people', summary: 'Who may use the server from the network; on the machine itself only',
    answers: { 200: { schema: personState.array(), what: 'The people' } }, problems: ['only-here'],
  });
  document.describe({
    method: 'post', path: '/api/people', body: newPerson, summary: 'Let somebody use the server from the network, by name and a PIN of at least 6 digits; on the machine itself only',
    answers: { 201: { schema: personState, what: 'Added' } }, problems: ['refused-input', 'only-here'],
  });
  document.describe({
    method: 'delete', path: '/api/people/{id}', summary: 'Take somebody away, and sign them out everywhere; on the machine itself only',
    answers: { 204: { schema: null, what: 'They are gone; what they did keeps their name' } }, problems: ['not-found', 'only-here'],
  });
  document.describe({
    method: 'post', path: '/api/people/{id}/pin', body: pinReset, summary: 'Give somebody a new PIN, and sign them out everywhere; on the machine itself only',
    answers: { 204: { schema: null, what: 'Set' } }, problems: ['not-found', 'refused-input', 'only-here'],
  });
  document.describe({
    method: 'delete', path: '/api/people/{id}/wait', summary: 'Let somebody who waits after wrong PINs try again at once; on the machine itself only',
    answers: { 204: { schema: null, what: 'They may' } }, problems: ['not-found', 'only-here'],
  });
  return new Hono()
    .use(onlyHere)
    .get('/', async (c) => c.json(await people.list(), 200))
    .post('/', readBody(newPerson), async (c) => {
      const { name, pin } = c.req.valid('json');
      return c.json(valueOf(c, await people.add(name, pin)), 201);
    })
    .delete('/:id', async (c) => c.body(valueOf(c, await people.remove(c.req.param('id'))), 204))
    .post('/:id/pin', readBody(pinReset), async (c) => c.body(valueOf(c, await people.resetPin(c.req.param('id'), c.req.valid('json').pin)), 204))
    .delete('/:id/wait', async (c) => c.body(valueOf(c, await people.unlock(c.req.param('id'))), 204));
}
