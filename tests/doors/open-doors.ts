import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { createApp } from '../../api/http/index.ts';
import { openServices } from '../../api/services/index.ts';

export const demoFolder = fileURLToPath(new URL('../../demo-catalog', import.meta.url));

/** The server as a function, on a database of its own with the demo in it; never the one `npm start` uses. */
export async function openHttpDoor() {
  const folder = mkdtempSync(join(tmpdir(), 'doors-'));
  const failures: unknown[] = [];
  const services = await openServices({ file: join(folder, 'shop.sqlite'), demoFolder });
  const app = createApp({ services, report: (error) => failures.push(error) });
  return {
    app,
    failures,
    folder,
    async post(path: string, body: string): Promise<{ status: number; body: unknown; type: string }> {
      const response = await app.request(path, { method: 'POST', headers: { 'content-type': 'application/json' }, body });
      return { status: response.status, type: response.headers.get('content-type') ?? '', body: await response.json() };
    },
    async get(path: string): Promise<{ status: number; body: unknown }> {
      const response = await app.request(path);
      return { status: response.status, body: await response.json() };
    },
    async close() {
      await services.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
