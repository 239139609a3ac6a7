import { Hono } from 'hono';
import type { Services } from '../services/index.ts';
import { health } from './api-schemas.ts';
import type { ApiDocument } from './open-api.ts';

export function makeHealthRoutes(services: Services, document: ApiDocument) {
  document.describe({
    method: 'get', path: '/api/health', summary: 'Whether the server answers, and how many parts it knows',
    answers: { 200: { schema: health, what: 'It does' } },
  });
  return new Hono().get('/', (c) => c.json({ status: 'ok' as const, parts: services.catalogue.current().parts.length }, 200));
}
