import { Hono } from 'hono';
import { acceptedPlan, planAcceptance, planWish, reorderAnswer, reorderWish, shopPlan } from '../../catalog-schema/index.ts';
import type { Services } from '../services/index.ts';
import { askerOf } from './access/asker.ts';
import type { ApiDocument } from './open-api.ts';
import { valueOf } from './problem.ts';
import { readBody, readQuery } from './read-request.ts';

export function makePlanRoutes({ planning, reorder }: Services, document: ApiDocument) {
  document.describe({
    method: 'get', path: '/api/plan', summary: 'What to get for all open jobs together, why, and what other plans cost; `shelf=true`: also what the shelf should have again', query: planWish,
    answers: { 200: { schema: shopPlan, what: 'The plan' } }, problems: ['refused-input', 'busy'],
  });
  document.describe({
    method: 'post', path: '/api/plan/accept', summary: 'Draft the orders of a plan and put its units aside, all or nothing; 409 where anything it stood on has changed', body: planAcceptance,
    answers: { 201: { schema: acceptedPlan, what: 'What was drafted and put aside' } }, problems: ['refused-input', 'conflict', 'busy'],
  });
  document.describe({
    method: 'get', path: '/api/plan/reorder', summary: 'When each part of the shelf is to be ordered again and how many, from what was wanted of it', query: reorderWish,
    answers: { 200: { schema: reorderAnswer, what: 'The list' } }, problems: ['refused-input'],
  });
  return new Hono()
    .get('/', readQuery(planWish), async (c) => c.json(valueOf(c, await planning.current(c.req.valid('query').shelf === 'true')), 200))
    .post('/accept', readBody(planAcceptance), async (c) => c.json(valueOf(c, await planning.accept(c.req.valid('json'), askerOf(c)?.who?.name)), 201))
    .get('/reorder', readQuery(reorderWish), async (c) => {
      const { by, level } = c.req.valid('query');
      return c.json(await reorder.current(undefined, { ...(by === undefined ? {} : { by }), ...(level === undefined ? {} : { serviceLevel: level }) }), 200);
    });
}
