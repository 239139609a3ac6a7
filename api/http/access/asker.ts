import type { Context, MiddlewareHandler } from 'hono';
import { deleteCookie, getCookie, setCookie } from 'hono/cookie';
import type { PeopleService, Who } from '../../services/index.ts';
import { makeProblem, sendProblem } from '../problem.ts';
import { addressOf, isOfMachine, isOwnHost, type AccessRule } from './access-rule.ts';

/** Who asks, as far as it is known. */
export interface Asker {
  /** who is signed in; undefined: nobody */
  readonly who: Who | undefined;
  /** the request is made on the machine itself */
  readonly here: boolean;
  readonly address: string;
  /** what the device holds of its session */
  readonly token: string | undefined;
}

/** What is answered before anybody has signed in. */
const OPEN_PATHS: ReadonlySet<string> = new Set(['GET /api/session', 'POST /api/session', 'DELETE /api/session']);

const askers = new WeakMap<Context, Asker>();

/** Who makes this request. @throws where no `letIn` stood before the route. */
export function askerOf(context: Context): Asker {
  const asker = askers.get(context);
  if (asker === undefined) throw new Error('a route of the API asks for who is signed in, and nobody has looked');
  return asker;
}

/** Turns away requests for other names than this server's. */
export function refuseOtherHosts(rule: AccessRule): MiddlewareHandler {
  return async (context, next) => {
    if (isOwnHost(context, rule)) return next();
    return sendProblem(context, makeProblem('other-host', rule.network
      ? 'Ask for one of the names or addresses that /connect lists.'
      : 'The server is not open to the network: it answers on the machine itself, as localhost or 127.0.0.1.'));
  };
}

/** Lets a request of the API on where somebody is signed in, or where it is made on the machine itself. */
export function letIn(rule: AccessRule, people: PeopleService): MiddlewareHandler {
  return async (context, next) => {
    const token = readToken(context);
    const asker: Asker = {
      token, address: addressOf(context), here: isOfMachine(context, rule), who: token === undefined ? undefined : await people.find(token),
    };
    askers.set(context, asker);
    if (asker.who === undefined && !asker.here && !OPEN_PATHS.has(`${context.req.method} ${context.req.path}`)) {
      return sendProblem(context, makeProblem('signed-out', 'Sign in with your name and your PIN; what you entered waits on your device until then.'));
    }
    await next();
    // Another person may sit down at this device next.
    if (!context.res.headers.has('cache-control')) context.res.headers.set('cache-control', 'no-store');
  };
}

/** Refuses what is done on the machine itself only. */
export const onlyHere: MiddlewareHandler = async (context, next) => {
  if (askerOf(context).here) return next();
  return sendProblem(context, makeProblem('only-here', 'Names are added, taken away and let in again on the machine the server runs on: at its settings, or by the command lugwright person.'));
};

// Over HTTPS the name's prefix binds the cookie to this host and to encrypted connections.
const cookieName = (context: Context): string => (isSecure(context) ? '__Host-lugwright' : 'lugwright');

function isSecure(context: Context): boolean {
  return context.req.url.startsWith('https:');
}

function readToken(context: Context): string | undefined {
  return getCookie(context, cookieName(context));
}

export function giveToken(context: Context, token: string, days: number): void {
  setCookie(context, cookieName(context), token, { path: '/', httpOnly: true, secure: isSecure(context), sameSite: 'Strict', maxAge: days * 86_400 });
}

export function takeToken(context: Context): void {
  deleteCookie(context, cookieName(context), { path: '/', secure: isSecure(context) });
}
