import { Hono } from 'hono';
import { jobState, loggedEdit, newJob, type JobEdit } from '../../catalog-schema/index.ts';
import { attributeEdits, editBatch, type Services } from '../services/index.ts';
import { askerOf } from './access/asker.ts';
import type { ApiDocument } from './open-api.ts';
import { valueOf } from './problem.ts';
import { readBody } from './read-request.ts';

export function makeJobRoutes({ jobs }: Services, document: ApiDocument) {
  document.describe({
    method: 'get', path: '/api/jobs', summary: 'Every job, the one changed last first',
    answers: { 200: { schema: jobState.array(), what: 'The jobs' } },
  });
  document.describe({
    method: 'post', path: '/api/jobs', summary: 'Begin a job; the id is the caller’s, so that asking twice makes one', body: newJob,
    answers: { 201: { schema: jobState, what: 'Begun' }, 200: { schema: jobState, what: 'It was there already, and is unchanged' } },
    problems: ['refused-input'],
  });
  document.describe({
    method: 'get', path: '/api/jobs/{id}', summary: 'One job as its edits add up',
    answers: { 200: { schema: jobState, what: 'The job' } }, problems: ['not-found'],
  });
  document.describe({
    method: 'get', path: '/api/jobs/{id}/edits', summary: 'Every edit of a job in the order in which they count',
    answers: { 200: { schema: loggedEdit.array(), what: 'The edits' } }, problems: ['not-found'],
  });
  document.describe({
    method: 'post', path: '/api/jobs/{id}/edits', body: editBatch,
    summary: 'Append edits, all or none; an edit that is there already changes nothing. Where somebody is signed in, theirs is the author and the name on each tick',
    answers: { 200: { schema: jobState, what: 'The job after them' } }, problems: ['not-found', 'refused-input', 'other-person'],
  });
  return new Hono()
    .get('/', async (c) => c.json(await jobs.list(), 200))
    .post('/', readBody(newJob), async (c) => {
      const { created, job } = valueOf(c, await jobs.create(c.req.valid('json'), askerOf(c).who?.name));
      return created ? c.json(job, 201) : c.json(job, 200);
    })
    .get('/:id', async (c) => c.json(valueOf(c, await jobs.read(c.req.param('id'))), 200))
    .get('/:id/edits', async (c) => c.json(valueOf(c, await jobs.readEdits(c.req.param('id'))), 200))
    .post('/:id/edits', readBody(editBatch), async (c) => {
      const id = c.req.param('id');
      const { edits } = c.req.valid('json');
      const { who } = askerOf(c);
      const readEarlier = async (): Promise<readonly JobEdit[]> => {
        const read = await jobs.readEdits(id);
        return read.ok ? read.value : [];
      };
      const signed = who === undefined ? edits : valueOf(c, await attributeEdits(edits, who.name, readEarlier));
      return c.json(valueOf(c, await jobs.append(id, signed)), 200);
    });
}
