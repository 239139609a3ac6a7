import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { Hono } from 'hono';
import { secureHeaders } from 'hono/secure-headers';
import { setCookie } from 'hono/cookie';
import { isFromLoopback, isHandedOn, isKey, isLoopbackName, hostOf, MACHINE_COOKIE, type AccessRule } from '../access/access-rule.ts';
import { CONNECT_STYLE, writeConnectPage, type ConnectFacts } from './connect-page.ts';

/** What `/connect` shows: the page's facts and the authority's certificate, as they stand now. */
export interface Connecting {
  readonly facts: () => ConnectFacts;
  /** the authority's certificate, DER and PEM */
  readonly certificate: () => { readonly der: Uint8Array<ArrayBuffer>; readonly pem: string };
}

/** The page with the steps for another device; `undefined`: the server is closed, and the page says how to open it. */
export function makeConnectRoutes(connecting: Connecting | undefined): Hono {
  const routes = new Hono()
    .get('/', (c) => c.html(writeConnectPage(connecting?.facts()), 200, { 'cache-control': 'no-store' }))
    .get('/style.css', (c) => c.body(CONNECT_STYLE, 200, { 'content-type': 'text/css; charset=utf-8', 'cache-control': 'no-cache' }))
    .get('/:font{b612-[47]00\\.woff2}', async (c) => {
      const weight = c.req.param('font').slice(5, 8);
      const file = fileURLToPath(import.meta.resolve(`@fontsource/b612/files/b612-latin-${weight}-normal.woff2`));
      return c.body(await readFile(file) as Uint8Array<ArrayBuffer>, 200, { 'content-type': 'font/woff2', 'cache-control': 'public, max-age=86400' });
    });
  if (connecting === undefined) return routes;
  return routes
    .get('/authority.crt', (c) => c.body(connecting.certificate().der, 200, {
      'content-type': 'application/x-x509-ca-cert', 'content-disposition': 'attachment; filename="lugwright-authority.crt"', 'cache-control': 'no-store',
    }))
    .get('/authority.pem', (c) => c.body(connecting.certificate().pem, 200, { 'content-type': 'application/x-pem-file', 'cache-control': 'no-store' }));
}

/** The link that the start prints for the machine's own browser: it leaves the machine's key there. */
export function makeMachineRoute(rule: AccessRule): Hono {
  return new Hono().get('/', (c) => {
    const mayBe = rule.machineKey !== undefined && isFromLoopback(c) && !isHandedOn(c) && isLoopbackName(hostOf(c));
    if (mayBe && isKey(c.req.query('key'), rule.machineKey!)) {
      setCookie(c, MACHINE_COOKIE, rule.machineKey!, { path: '/', httpOnly: true, sameSite: 'Strict', maxAge: 400 * 86_400 });
    }
    return c.redirect('/', 303);
  });
}

/** All that is answered over plain HTTP to other devices: how to come in over HTTPS. */
export function createConnectApp(connecting: Connecting, rule: AccessRule): Hono {
  const app = new Hono();
  app.use(secureHeaders({
    contentSecurityPolicy: { defaultSrc: ["'none'"], styleSrc: ["'self'"], fontSrc: ["'self'"], imgSrc: ["'self'"], baseUri: ["'none'"], formAction: ["'none'"], frameAncestors: ["'none'"] },
    strictTransportSecurity: false, referrerPolicy: 'no-referrer',
  }));
  app.use(async (c, next) => (rule.hosts().has(hostOf(c)) ? next() : c.text('Ask for this machine by its name or address on the network.\n', 421)));
  app.route('/connect', makeConnectRoutes(connecting));
  // Nothing of the shop goes over the network in the clear: an address of the API is answered, not sent elsewhere with what it carries.
  app.all('/api/*', (c) => c.text('The API is answered over HTTPS only: see /connect\n', 403));
  app.get('*', (c) => c.redirect('/connect', 302));
  return app;
}
