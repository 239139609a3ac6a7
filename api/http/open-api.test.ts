import { afterAll, beforeAll, expect, test } from 'vitest';
import { z } from 'zod';
import { NAMED_SCHEMAS } from './api-schemas.ts';
import { openTestApp, type TestApp } from './open-test-app.ts';

interface Document {
  openapi: string;
  paths: Record<string, Record<string, { requestBody?: { content: { 'application/json': { schema: unknown } } }; responses: Record<string, unknown> }>>;
  components: { schemas: Record<string, Record<string, unknown>> };
}

let server: TestApp;
let document: Document;
beforeAll(async () => {
  server = await openTestApp();
  document = await (await server.get('/api/openapi.json')).json() as Document;
});
afterAll(() => server.close());

const documented = (): string[] => Object.entries(document.paths).flatMap(([path, item]) => Object.keys(item).map((method) => `${method.toUpperCase()} ${path}`));

test('the document is OpenAPI 3.1 and speaks of every route there is, and of no other', () => {
  expect(document.openapi).toBe('3.1.0');
  const served = server.app.routes
    .filter((route) => route.method !== 'ALL' && route.path.startsWith('/api/') && !/openapi\.json|docs/.test(route.path))
    .map((route) => `${route.method} ${route.path.replace(/\/$/, '').replace(/:(\w+)/g, '{$1}')}`);
  expect(documented().toSorted()).toEqual([...new Set(served)].toSorted());
});

test('every reference in it leads somewhere', () => {
  const references = [...JSON.stringify(document).matchAll(/"\$ref":"([^"]+)"/g)].map((match) => match[1]!);
  expect(references.length).toBeGreaterThan(50);
  for (const reference of new Set(references)) {
    expect(document.components.schemas, reference).toHaveProperty([reference.replace('#/components/schemas/', '')]);
  }
});

test('its shapes are the ones that requests are read with', () => {
  expect(document.components.schemas['Wire']!['required']).toEqual(['tag', 'wasOn']);
  expect(document.components.schemas['BenchRecord']).toMatchObject({ additionalProperties: false, required: ['system'], properties: { wires: { maxItems: 32, items: { $ref: '#/components/schemas/Wire' } } } });
  for (const [path, item] of Object.entries(document.paths)) {
    const content = item['post']?.requestBody?.content;
    if (content && path.endsWith('/photographs')) expect(Object.keys(content)).toEqual(['image/jpeg', 'image/png', 'image/webp']);
    else if (item['post']) expect(Object.values(content ?? {})[0]!.schema, path).toHaveProperty('$ref');
  }
  expect(Object.keys(document.components.schemas).toSorted()).toEqual(Object.keys(NAMED_SCHEMAS).toSorted());
});

test('every route that reads input says that it may refuse it', () => {
  for (const [path, item] of Object.entries(document.paths)) {
    for (const operation of Object.values(item)) {
      if (operation.requestBody) expect(Object.keys(operation.responses), path).toContain('422');
      if (path.includes('{id}')) expect(Object.keys(operation.responses), path).toContain('404');
    }
  }
});

test('the page of it names every route and shape, and loads nothing from elsewhere', async () => {
  const response = await server.get('/api/docs');
  expect(response.headers.get('content-type')).toContain('text/html');
  const page = await response.text();
  for (const route of documented()) expect(page).toContain(`<code>${route}</code>`);
  for (const name of Object.keys(NAMED_SCHEMAS)) expect(page).toContain(`id="schema-${name}"`);
  for (const target of [...page.matchAll(/href="#([^"]+)"/g)].map((match) => match[1]!)) expect(page).toContain(`id="${target}"`);
  expect(page).not.toMatch(/(?:src|href)="(?:https?:)?\/\/|<script|<style|style="/);
  expect((await server.get('/api/docs/style.css')).headers.get('content-type')).toContain('text/css');
});

test('an answer is what the document says it is', async () => {
  const { problem } = { problem: NAMED_SCHEMAS['Problem'] as z.ZodType };
  expect(problem.safeParse(await (await server.get('/api/nothing')).json()).success).toBe(true);
  expect((NAMED_SCHEMAS['Health'] as z.ZodType).safeParse(await (await server.get('/api/health')).json()).success).toBe(true);
});
