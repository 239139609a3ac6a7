import { Hono } from 'hono';
import { z } from 'zod';
import { stockAnswer, stockMove, stockMoveBatch, stockRow } from '../../catalog-schema/index.ts';
import { attributeMoves, type Services } from '../services/index.ts';
import { askerOf } from './access/asker.ts';
import type { ApiDocument } from './open-api.ts';
import { valueOf } from './problem.ts';
import { readBody, readQuery } from './read-request.ts';

const name = z.string().min(1).max(2_000).optional();
const whole = z.string().regex(/^\d{1,15}$/, { error: 'want:a whole number' }).optional();
const rowsQuery = z.strictObject({ partId: name, bin: name });
const movesQuery = z.strictObject({ partId: name, bin: name, jobId: z.uuid().optional(), after: whole, most: whole, last: z.enum(['true', 'false']).optional() });

export function makeStockRoutes({ shelf }: Services, document: ApiDocument) {
  document.describe({
    method: 'get', path: '/api/stock', query: rowsQuery,
    summary: 'Every part in every bin as its moves add up; of one part or one bin where it is named',
    answers: { 200: { schema: stockRow.array(), what: 'The rows' } }, problems: ['refused-input'],
  });
  document.describe({
    method: 'get', path: '/api/stock/moves', query: movesQuery,
    summary: 'Moves in the order of the ledger, those behind `after` (a `seq`); with `last=true` the newest first; 1,000 at most',
    answers: { 200: { schema: stockMove.array(), what: 'The moves' } }, problems: ['refused-input'],
  });
  document.describe({
    method: 'post', path: '/api/stock/moves', body: stockMoveBatch,
    summary: 'Record moves, all or none; a move whose id is there already changes nothing. Nothing that is not free can be taken; only a count can say that less is there',
    answers: { 200: { schema: stockAnswer, what: 'They are kept' } }, problems: ['refused-input', 'conflict', 'other-person'],
  });
  return new Hono()
    .get('/', readQuery(rowsQuery), async (c) => c.json(await shelf.rows(dropAbsent(c.req.valid('query'))), 200))
    .get('/moves', readQuery(movesQuery), async (c) => {
      const { after, most, last, ...only } = c.req.valid('query');
      return c.json(await shelf.moves({
        ...dropAbsent(only), last: last === 'true', ...(after === undefined ? {} : { after: Number(after) }), ...(most === undefined ? {} : { most: Number(most) }),
      }), 200);
    })
    .post('/moves', readBody(stockMoveBatch), async (c) => {
      const { who } = askerOf(c);
      const { moves } = c.req.valid('json');
      if (who !== undefined) valueOf(c, attributeMoves(moves, who.name));
      return c.json(valueOf(c, await shelf.record(moves, who?.name)), 200);
    });
}

type Present<T> = { [K in keyof T]?: Exclude<T[K], undefined> };
function dropAbsent<T extends object>(given: T): Present<T> {
  return Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined)) as Present<T>;
}
