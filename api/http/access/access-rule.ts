import { timingSafeEqual } from 'node:crypto';
import type { Context } from 'hono';
import { getCookie } from 'hono/cookie';

// Who may ask what. Two things are told apart: from where a request comes, and who is signed in.

/** How the server is open. */
export interface AccessRule {
  /** other devices on the network reach the server */
  readonly network: boolean;
  /** the names and addresses it answers to, beside those of loopback; small letters, IPv6 without brackets */
  readonly hosts: () => ReadonlySet<string>;
  /** what the machine's own user has to show while the network is open: being on a loopback address is not enough, a proxy is too */
  readonly machineKey?: string;
}

export const CLOSED: AccessRule = { network: false, hosts: () => new Set() };

export const MACHINE_COOKIE = 'lugwright-machine';

/** What a proxy writes into what it hands on. */
const PROXY_HEADERS = ['forwarded', 'via', 'x-forwarded-for', 'x-forwarded-host', 'x-forwarded-proto', 'x-real-ip'];

interface Socket { readonly remoteAddress?: string; readonly localAddress?: string; readonly encrypted?: boolean }

/** The connection a request came by; undefined where a test asked without one. */
function socketOf(context: Context): Socket | undefined {
  return (context.env as { incoming?: { socket?: Socket } } | undefined)?.incoming?.socket;
}

/** The address at the other end; '' where it is not known. */
export function addressOf(context: Context): string {
  return plainAddress(socketOf(context)?.remoteAddress ?? '');
}

export function isLoopback(address: string): boolean {
  const plain = plainAddress(address);
  return plain === '::1' || /^127\.\d+\.\d+\.\d+$/.test(plain);
}

/** Whether both ends of the connection are this machine's own. */
export function isFromLoopback(context: Context): boolean {
  const socket = socketOf(context);
  return isLoopback(socket?.remoteAddress ?? '') && isLoopback(socket?.localAddress ?? '');
}

/** Whether a proxy says that it hands the request on. */
export function isHandedOn(context: Context): boolean {
  return PROXY_HEADERS.some((name) => context.req.header(name) !== undefined);
}

/**
 * Whether a request is made on the machine itself. While the server is closed it listens to nobody else, so all are that no proxy hands
 * on. While it is open, such a request comes over a loopback address at both ends, is not handed on, asks for a loopback name, and shows
 * the machine's key, which only the machine's own user can read: a proxy on this machine has the address and not the key.
 */
export function isOfMachine(context: Context, rule: AccessRule): boolean {
  if (isHandedOn(context)) return false;
  if (!rule.network) return true;
  if (rule.machineKey === undefined || !isFromLoopback(context) || !isLoopbackName(hostOf(context))) return false;
  const bearer = /^Bearer (\S+)$/.exec(context.req.header('authorization') ?? '')?.[1];
  return [bearer, getCookie(context, MACHINE_COOKIE)].some((shown) => isKey(shown, rule.machineKey!));
}

export function isKey(shown: string | undefined, key: string): boolean {
  const [a, b] = [Buffer.from(shown ?? ''), Buffer.from(key)];
  return a.length === b.length && timingSafeEqual(a, b);
}

/** The name or address that the request asks for, without port and brackets. */
export function hostOf(context: Context): string {
  const { url } = context.req;
  const asked = context.req.header('host') ?? (URL.canParse(url) ? new URL(url).host : '');
  return /^\[([\da-f:.]+)\](?::\d+)?$/i.exec(asked)?.[1]?.toLowerCase() ?? asked.replace(/:\d*$/, '').replace(/\.$/, '').toLowerCase();
}

/**
 * Whether the request asks for one of this server's own names. A page of another site whose name was made to point here asks for that
 * site's name: it is answered nothing, although the browser takes it for that page's own server.
 */
export function isOwnHost(context: Context, rule: AccessRule): boolean {
  const host = hostOf(context);
  return isLoopbackName(host) || (rule.network && rule.hosts().has(host));
}

export function isLoopbackName(host: string): boolean {
  return host === 'localhost' || isLoopback(host);
}

function plainAddress(address: string): string {
  return address.replace(/^::ffff:(?=[\d.]+$)/i, '');
}
