import { resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { serve } from '@hono/node-server';
import { openServices, type Services } from '../services/index.ts';
import { isLoopbackName } from './access/access-rule.ts';
import { createApp } from './create-app.ts';

const root = resolve(import.meta.dirname, '../..');
const { network } = readArguments();
const host = process.env['HOST'] ?? '127.0.0.1';
const port = readPort('PORT', '8100');
const securePort = readPort('LUGWRIGHT_SECURE_PORT', '8143');
if (!network && !isLoopbackName(host)) stop(`HOST: found ${JSON.stringify(host)}, want an address of this machine alone; to open the server to the network, start it with --network`);

const services = await openServices({
  file: resolve(root, process.env['LUGWRIGHT_DB'] ?? '.local/demo.sqlite'),
  demoFolder: resolve(root, process.env['LUGWRIGHT_DEMO'] ?? 'demo-catalog'),
  report: (line) => console.error(`demo: ${line}`),
});
const screens = resolve(root, process.env['LUGWRIGHT_UI'] ?? '.local/ui');
const close = network ? await serveNetwork(services) : serveMachine(services);

let stopping = false;
for (const signal of ['SIGINT', 'SIGTERM'] as const) {
  process.on(signal, () => {
    if (stopping) process.exit(1);
    stopping = true;
    void close().then(() => services.close()).then(() => process.exit(0));
  });
}

/** Over plain HTTP, to this machine alone. */
function serveMachine(opened: Services): () => Promise<void> {
  const app = createApp({ services: opened, screens });
  const server = serve({ fetch: app.fetch, hostname: host, port }, (address) => {
    console.log(`lugwright listens on http://${host}:${address.port}/`);
  });
  server.on('error', (error) => stop(`cannot listen on ${host}:${port}: ${error.message}`));
  return () => new Promise((closed) => {
    server.close(() => closed());
    if ('closeIdleConnections' in server) server.closeIdleConnections();
  });
}

/** Over HTTPS to the network, and to this machine as before. */
async function serveNetwork(opened: Services): Promise<() => Promise<void>> {
  // What makes certificates and codes is loaded only where it is used.
  const { openNetwork, printConnecting } = await import('./network/index.ts');
  try {
    const open = await openNetwork({
      folder: resolve(root, process.env['LUGWRIGHT_KEYS'] ?? '.local/network'), port, securePort, report: (line) => console.error(`network: ${line}`),
    });
    const ports = await open.listen(createApp({ services: opened, screens, access: open.rule, connecting: open.connecting }));
    console.log(`lugwright listens on http://127.0.0.1:${ports.port}/ and https://localhost:${ports.securePort}/`);
    console.log(printConnecting(open, (await opened.people.list()).length));
    return () => open.close();
  } catch (error) {
    return stop(error instanceof Error ? error.message : String(error));
  }
}

function readArguments(): { network: boolean } {
  try {
    const { values } = parseArgs({ options: { network: { type: 'boolean' } }, strict: true });
    return { network: values.network ?? (process.env['LUGWRIGHT_NETWORK'] === '1') };
  } catch (error) {
    return stop(error instanceof Error ? error.message : String(error));
  }
}

function readPort(name: string, otherwise: string): number {
  const words = process.env[name] ?? otherwise;
  const read = Number(words);
  if (Number.isInteger(read) && read >= 0 && read <= 65_535) return read;
  return stop(`${name}: found ${JSON.stringify(words)}, want a whole number from 0 to 65535`);
}

function stop(line: string): never {
  console.error(line);
  process.exit(1);
}
