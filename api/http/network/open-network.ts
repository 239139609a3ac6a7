import { randomBytes } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import { createServer as createHttp, type Server } from 'node:http';
import { createServer as createHttps, type Server as SecureServer } from 'node:https';
import { join } from 'node:path';
import { serve, type ServerType } from '@hono/node-server';
import type { Hono } from 'hono';
import { isLoopback, type AccessRule } from '../access/access-rule.ts';
import { writeDer } from './certificates.ts';
import { createConnectApp, type Connecting } from './connect-routes.ts';
import { IdentityKeeper, replaceFile, type KeptIdentity } from './identity-keeper.ts';
import { readMachine, type Machine } from './local-names.ts';
import { drawQrCode } from './qr-code.ts';

// Two listeners: HTTPS for everybody, and plain HTTP that serves the machine itself and tells all others how to come in.

export interface NetworkOptions {
  /** where certificates and keys lie */
  readonly folder: string;
  readonly port: number;
  readonly securePort: number;
  /** told one line each of what changed or has to be known */
  readonly report: (line: string) => void;
  readonly machine?: () => Machine;
  readonly now?: () => Date;
}

export interface OpenNetwork {
  readonly rule: AccessRule;
  readonly connecting: Connecting;
  /** Listens, and keeps the certificate up to date; answers the ports. @throws where a port is taken. */
  listen(app: Hono): Promise<{ port: number; securePort: number }>;
  /** Looks whether the certificate still names the machine and is not about to end; done by itself every minute. */
  lookAgain(): Promise<void>;
  /** the link by which the machine's own browser is known */
  machineLink(): string;
  close(): Promise<void>;
}

/** How often names, addresses and the certificate's end are looked at. */
const LOOK_MS = 60_000;

/** Makes or reads the certificates; nothing listens yet. */
export async function openNetwork(options: NetworkOptions): Promise<OpenNetwork> {
  const { folder, report, machine = readMachine, now = () => new Date() } = options;
  const keeper = new IdentityKeeper({ folder, readMachine: machine, now });
  let kept = await keeper.bringUpToDate();
  let hosts = hostsOf(kept);
  let ports = { port: options.port, securePort: options.securePort };
  const machineKey = readMachineKey(join(folder, 'machine-key'));
  const rule: AccessRule = { network: true, hosts: () => hosts, machineKey };
  const connecting: Connecting = {
    facts: () => ({
      addresses: [...kept.local.reached, ...kept.local.names.filter((name) => name !== 'localhost')].map((host) => `https://${writeHost(host)}:${ports.securePort}/`),
      pageAddress: `http://${writeHost(kept.local.reached[0] ?? '127.0.0.1')}:${ports.port}/connect`,
      drawCode: drawQrCode,
      authority: { name: nameOf(kept.authorityFacts.subject), fingerprint: kept.authorityFacts.fingerprint, notAfter: kept.authorityFacts.notAfter },
    }),
    certificate: () => ({ der: writeDer(kept.authority.certificatePem), pem: kept.authority.certificatePem }),
  };
  const servers: ServerType[] = [];
  let secure: SecureServer | undefined;
  let timer: NodeJS.Timeout | undefined;
  tellLeftOut(kept, report);

  const lookAgain = async (): Promise<void> => {
    const before = kept;
    kept = await keeper.bringUpToDate();
    if (kept.server.certificatePem === before.server.certificatePem) return;
    hosts = hostsOf(kept);
    secure?.setSecureContext({ key: kept.server.keyPem, cert: kept.server.certificatePem });
    report(`a new certificate, for ${[...kept.local.names, ...kept.local.addresses].join(', ')}`);
    if (kept.authority.certificatePem !== before.authority.certificatePem) report('the authority has ended and was made anew: every device has to trust it again, see /connect');
    tellLeftOut(kept, report);
  };

  return {
    rule, connecting, lookAgain,
    machineLink: () => `http://127.0.0.1:${ports.port}/here?key=${machineKey}`,
    listen: async (app) => {
      const outside = createConnectApp(connecting, rule);
      const plain = await listenOn(ports.port, (request, env) => {
        const socket = (env as { incoming: { socket: { remoteAddress?: string; localAddress?: string } } }).incoming.socket;
        const own = isLoopback(socket.remoteAddress ?? '') && isLoopback(socket.localAddress ?? '');
        return (own ? app : outside).fetch(request, env as object);
      });
      servers.push(plain.server);
      const { keyPem, certificatePem } = kept.server;
      const encrypted = await listenOn(ports.securePort, (request, env) => app.fetch(request, env as object), { key: keyPem, cert: certificatePem });
      servers.push(encrypted.server);
      secure = encrypted.server as SecureServer;
      ports = { port: plain.port, securePort: encrypted.port };
      timer = setInterval(() => void lookAgain().catch((error: unknown) => report(`the certificate could not be looked at: ${error instanceof Error ? error.message : String(error)}`)), LOOK_MS);
      timer.unref();
      return ports;
    },
    close: async () => {
      clearInterval(timer);
      await Promise.all(servers.map((server) => new Promise<void>((resolve) => {
        server.close(() => resolve());
        (server as Server).closeIdleConnections();
      })));
    },
  };
}

type Fetch = (request: Request, env: unknown) => Response | Promise<Response>;

function listenOn(port: number, fetch: Fetch, secret?: { key: string; cert: string }): Promise<{ server: ServerType; port: number }> {
  return new Promise((resolve, reject) => {
    const started = (info: { port: number }): void => resolve({ server, port: info.port });
    // TLS 1.2 is what browsers have taken at the least for years (RFC 8996 ends what was before).
    const server = secret === undefined ? serve({ fetch, port, createServer: createHttp }, started)
      : serve({ fetch, port, createServer: createHttps, serverOptions: { ...secret, minVersion: 'TLSv1.2' } }, started);
    server.once('error', (error) => reject(new Error(`cannot listen on port ${port}: ${error.message}`)));
  });
}

function hostsOf({ local }: KeptIdentity): ReadonlySet<string> {
  return new Set([...local.names, ...local.addresses].map((host) => host.toLowerCase()));
}

function tellLeftOut({ local }: KeptIdentity, report: (line: string) => void): void {
  for (const address of local.leftOut) report(`${address} is no private address: nothing is answered there`);
}

/** The name for people in a certificate's subject. */
function nameOf(subject: string): string {
  return /CN=((?:[^,\\]|\\.)+)/.exec(subject)?.[1]?.replace(/\\(.)/g, '$1') ?? subject;
}

const writeHost = (host: string): string => (host.includes(':') ? `[${host}]` : host);

/** What the machine's own user shows; kept from start to start, so that the browser stays known. */
function readMachineKey(file: string): string {
  if (existsSync(file)) {
    const key = readFileSync(file, 'utf8').trim();
    if (/^[\w-]{43}$/.test(key)) return key;
  }
  const key = randomBytes(32).toString('base64url');
  replaceFile(file, `${key}\n`);
  return key;
}
