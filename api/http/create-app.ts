import { Hono, type MiddlewareHandler } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { compress, COMPRESSIBLE_CONTENT_TYPE_REGEX } from 'hono/compress';
import { HTTPException } from 'hono/http-exception';
import { secureHeaders } from 'hono/secure-headers';
import { JOB_FILE_TYPE, LIMITS } from '../../catalog-schema/index.ts';
import type { Services } from '../services/index.ts';
import { CLOSED, type AccessRule } from './access/access-rule.ts';
import { letIn, refuseOtherHosts } from './access/asker.ts';
import { makePeopleRoutes } from './access/people-routes.ts';
import { makeSessionRoutes } from './access/session-routes.ts';
import { makeAsLeftRoutes } from './as-left-routes.ts';
import { makeBenchRoutes } from './bench-routes.ts';
import { makeFaultShareRoutes } from './fault-share-routes.ts';
import { makeCatalogueRoutes, SNAPSHOT_TYPE } from './catalogue-routes.ts';
import { DOCS_STYLE, writeDocsPage } from './docs-page.ts';
import { makeHealthRoutes } from './health-routes.ts';
import { makeJobExportRoutes, makeJobImportRoutes, takesJobFile } from './job-file-routes.ts';
import { makeJobRoutes } from './job-routes.ts';
import { makeConnectRoutes, makeMachineRoute, type Connecting } from './network/connect-routes.ts';
import { ApiDocument } from './open-api.ts';
import { makeOrderRoutes } from './order-routes.ts';
import { makeOutcomeRoutes } from './outcome-routes.ts';
import { makePhotographRoutes, takesPhotograph } from './photograph-routes.ts';
import { makePlanRoutes } from './plan-routes.ts';
import { makePriceRoutes } from './price-routes.ts';
import { makeProblem, sendProblem } from './problem.ts';
import { refuseTooLarge } from './read-request.ts';
import { refuseOtherOrigins } from './same-origin.ts';
import { makeShelfRoutes } from './shelf-routes.ts';
import { serveScreens } from './static-files.ts';
import { makeStockRoutes } from './stock-routes.ts';
import { makeShopRoutes, makeSupplierRoutes } from './supplier-routes.ts';
import { makeUploadRoutes, takesPiece } from './upload-routes.ts';

export interface AppOptions {
  readonly services: Services;
  /** the folder of the built screens; without it only the API is served */
  readonly screens?: string;
  /** how it is open; without it, to the machine itself only */
  readonly access?: AccessRule;
  /** what other devices are told of an open server */
  readonly connecting?: Connecting;
  /** told of each error of our own */
  readonly report?: (error: unknown) => void;
}

/** The whole server as a function of requests; no socket is opened. */
export function createApp({ services, screens, access = CLOSED, connecting, report = (error) => console.error(error) }: AppOptions): Hono {
  const document = new ApiDocument();
  const app = new Hono();
  app.use(secureHeaders({
    // Everything comes from this server. Style attributes are allowed: the drawings set some. WebAssembly is: the reader of codes is such.
    contentSecurityPolicy: {
      defaultSrc: ["'self'"], scriptSrc: ["'self'", "'wasm-unsafe-eval'"], styleSrc: ["'self'"], styleSrcAttr: ["'unsafe-inline'"],
      imgSrc: ["'self'", 'data:', 'blob:'], workerSrc: ["'self'"], connectSrc: ["'self'"], fontSrc: ["'self'"],
      objectSrc: ["'none'"], baseUri: ["'self'"], formAction: ["'self'"], frameAncestors: ["'none'"],
    },
    strictTransportSecurity: false,
    referrerPolicy: 'same-origin',
  }));
  app.use(refuseOtherHosts(access));
  app.use('/api/*', compress({ contentTypeFilter: isWorthCompressing }), refuseOtherOrigins, letIn(access, services.people), limitBody);
  app.route('/api', makeApi(services, access, document));
  app.all('/api/*', (c) => sendProblem(c, makeProblem('not-found', `no ${c.req.method} ${c.req.path} here; /api/docs lists what there is`)));
  app.route('/connect', makeConnectRoutes(connecting));
  app.route('/here', makeMachineRoute(access));
  if (screens !== undefined) app.route('/', serveScreens(screens));
  app.notFound((c) => sendProblem(c, makeProblem('not-found', `nothing at ${c.req.path}`)));
  app.onError((error, c) => {
    if (error instanceof HTTPException && error.res) return error.getResponse();
    report(error);
    return sendProblem(c, makeProblem('our-mistake', 'The program failed at this request. What it was is in the log of the server.'));
  });
  return app;
}

const limitJson = bodyLimit({ maxSize: LIMITS.jsonRequestBytes, onError: (c) => refuseTooLarge(c, LIMITS.jsonRequestBytes) });
const limitPhotograph = bodyLimit({ maxSize: LIMITS.photographBytes, onError: (c) => refuseTooLarge(c, LIMITS.photographBytes) });

/** A job file is photographs, which do not get smaller. */
function isWorthCompressing(type: string): boolean {
  return type === SNAPSHOT_TYPE || (COMPRESSIBLE_CONTENT_TYPE_REGEX.test(type) && type !== JOB_FILE_TYPE);
}

/** A photograph may be larger than any JSON; a piece of one and a job file are counted as they arrive. */
const limitBody: MiddlewareHandler = (context, next) => (
  takesPiece(context) || takesJobFile(context) ? next() : (takesPhotograph(context) ? limitPhotograph : limitJson)(context, next)
);

function makeApi(services: Services, access: AccessRule, document: ApiDocument): Hono {
  const api = new Hono()
    .route('/session', makeSessionRoutes(services, access, document))
    .route('/people', makePeopleRoutes(services, document))
    .route('/health', makeHealthRoutes(services, document))
    .route('/catalogue', makeCatalogueRoutes(services, document))
    .route('/', makeBenchRoutes(services, document))
    .route('/prove/shares', makeFaultShareRoutes(services, document))
    .route('/jobs', makeJobRoutes(services, document))
    .route('/jobs', makeJobExportRoutes(services, document))
    .route('/job-files', makeJobImportRoutes(services, document))
    .route('/jobs', makeAsLeftRoutes(services, document))
    .route('/jobs', makePhotographRoutes(services, document))
    .route('/jobs', makeUploadRoutes(services, document))
    .route('/shelf', makeShelfRoutes(services, document))
    .route('/stock', makeStockRoutes(services, document))
    .route('/plan', makePlanRoutes(services, document))
    .route('/prices', makePriceRoutes(services, document))
    .route('/orders', makeOrderRoutes(services, document))
    .route('/suppliers', makeSupplierRoutes(services, document))
    .route('/shop', makeShopRoutes(services, document))
    .route('/outcomes', makeOutcomeRoutes(services, document));
  const docs = new Hono()
    .get('/openapi.json', (c) => c.json(document.write()))
    .get('/docs', (c) => c.html(writeDocsPage(document.write())))
    .get('/docs/style.css', (c) => c.body(DOCS_STYLE, 200, { 'content-type': 'text/css; charset=utf-8' }));
  return api.route('/', docs);
}
