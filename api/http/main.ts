import { resolve } from 'node:path';
import { serve } from '@hono/node-server';
import { openServices } from '../services/index.ts';
import { createApp } from './create-app.ts';

const root = resolve(import.meta.dirname, '../..');
const host = process.env['HOST'] ?? '127.0.0.1';
const port = readPort(process.env['PORT'] ?? '8100');

const services = await openServices({
  file: resolve(root, process.env['LUGWRIGHT_DB'] ?? '.local/demo.sqlite'),
  demoFolder: resolve(root, process.env['LUGWRIGHT_DEMO'] ?? 'demo-catalog'),
  report: (line) => console.error(`demo: ${line}`),
});
const app = createApp({ services, screens: resolve(root, process.env['LUGWRIGHT_UI'] ?? '.local/ui') });
const server = serve({ fetch: app.fetch, hostname: host, port }, (address) => {
  console.log(`lugwright listens on http://${host}:${address.port}/`);
});
server.on('error', (error) => {
  console.error(`cannot listen on ${host}:${port}: ${error.message}`);
  process.exit(1);
});

let stopping = false;
for (const signal of ['SIGINT', 'SIGTERM'] as const) {
  process.on(signal, () => {
    if (stopping) process.exit(1);
    stopping = true;
    server.close(() => void services.close().then(() => process.exit(0)));
    if ('closeIdleConnections' in server) server.closeIdleConnections();
  });
}

function readPort(words: string): number {
  const read = Number(words);
  if (Number.isInteger(read) && read >= 0 && read <= 65_535) return read;
  console.error(`PORT: found ${JSON.stringify(words)}, want a whole number from 0 to 65535`);
  process.exit(1);
}
