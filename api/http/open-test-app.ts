import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Hono } from 'hono';
import type { Part } from '../../catalog-schema/index.ts';
import { openServices, type Clock } from '../services/index.ts';
import { createApp } from './create-app.ts';

export interface TestApp {
  readonly app: Hono;
  /** errors of our own that requests ran into */
  readonly failures: unknown[];
  get(path: string, headers?: Record<string, string>): Promise<Response>;
  post(path: string, body: unknown, headers?: Record<string, string>): Promise<Response>;
  close(): Promise<void>;
}

/** The server over a small shop on a real file; the day is 2026-11-25. */
export async function openTestApp(screens?: string): Promise<TestApp> {
  const folder = mkdtempSync(join(tmpdir(), 'lugwright-http-'));
  mkdirSync(join(folder, 'parts'));
  writeFileSync(join(folder, 'parts', 'a.json'), JSON.stringify([makeRelay('p1'), makeRelay('p2')]));
  writeFileSync(join(folder, 'shop.json'), JSON.stringify({
    currency: 'EUR', suppliers: [{ id: 's1', freight: 5 }], offers: [{ supplierId: 's1', partId: 'p1', price: 12.5, leadDays: 3 }],
    shelf: [{ partId: 'p1', bin: 'A1', onHand: 2, unitCost: 10 }],
  }));
  const clock: Clock = { now: () => new Date(2026, 10, 25, 12) };
  const services = await openServices({ file: join(folder, 'test.sqlite'), demoFolder: folder, clock });
  const failures: unknown[] = [];
  const app = createApp({ services, screens, report: (error) => failures.push(error) });
  return {
    app, failures,
    get: async (path, headers = {}) => app.request(path, { headers }),
    post: async (path, body, headers = { 'content-type': 'application/json' }) => (
      app.request(path, { method: 'POST', headers, body: typeof body === 'string' ? body : JSON.stringify(body) })
    ),
    close: async () => {
      await services.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

export function makeRelay(id: string): Part {
  return {
    id, partClass: 'start-relay', title: `Relay ${id}`, numbers: [{ issuer: 'Nobody', number: `N-${id}` }],
    terminals: [
      { id: 'B', form: 'stud', thread: 'M6x1' }, { id: 'M', form: 'stud', thread: 'M6x1' },
      { id: 't1', form: 'tab', tabWidthMm: 6.3 }, { id: 't2', form: 'tab', tabWidthMm: 6.3 },
    ],
    circuit: [
      { kind: 'coil', id: 'c', between: ['t1', 't2'], nominalV: 12, ohmAt20C: 4 },
      { kind: 'contact', id: 'k', between: ['B', 'M'], form: 'NO', coils: ['c'], inrushA: 300 },
    ],
  };
}

export const benchRecord = {
  partClass: 'start-relay', system: { nominalV: 12 },
  terminals: [{ id: 'B', form: 'stud' }, { id: 'M', form: 'stud' }, { id: 't1', form: 'tab' }, { id: 't2', form: 'tab' }],
  wires: [
    { tag: 'W1', wasOn: 'B', leadsTo: 'battery' }, { tag: 'W2', wasOn: 'M', leadsTo: 'starter' },
    { tag: 'W3', wasOn: 't1', leadsTo: 'start-switch' }, { tag: 'W4', wasOn: 't2', leadsTo: 'chassis' },
  ],
};

export function makeUuid(n: number): string {
  return `00000000-0000-4000-8000-${String(n).padStart(12, '0')}`;
}
