import type { Hono } from 'hono';
import type { BlankEnv, MergeSchemaPath } from 'hono/types';
import type { makePeopleRoutes } from './access/people-routes.ts';
import type { makeSessionRoutes } from './access/session-routes.ts';
import type { makeBenchRoutes } from './bench-routes.ts';
import type { makeFaultShareRoutes } from './fault-share-routes.ts';
import type { makeCatalogueRoutes } from './catalogue-routes.ts';
import type { makeHealthRoutes } from './health-routes.ts';
import type { makeJobExportRoutes, makeJobImportRoutes } from './job-file-routes.ts';
import type { makeJobRoutes } from './job-routes.ts';
import type { makeOrderRoutes } from './order-routes.ts';
import type { makeOutcomeRoutes } from './outcome-routes.ts';
import type { makePhotographRoutes } from './photograph-routes.ts';
import type { makePlanRoutes } from './plan-routes.ts';
import type { makePriceRoutes } from './price-routes.ts';
import type { makeShelfRoutes } from './shelf-routes.ts';
import type { makeShopRoutes, makeSupplierRoutes } from './supplier-routes.ts';
import type { makeStockRoutes } from './stock-routes.ts';

type Mounted<Make extends (...all: never[]) => Hono<BlankEnv, never>, Path extends string> =
  ReturnType<Make> extends Hono<BlankEnv, infer Routes, '/'> ? MergeSchemaPath<Routes, Path> : never;

/**
 * For a typed client of the API (`hc<AppType>`); import it as a type only.
 * Put together from the resources by name: the compiler gives up writing out what it would infer of the whole.
 */
export type AppType = Hono<BlankEnv,
  & Mounted<typeof makeHealthRoutes, '/api/health'>
  & Mounted<typeof makeCatalogueRoutes, '/api/catalogue'>
  & Mounted<typeof makeBenchRoutes, '/api'>
  & Mounted<typeof makeFaultShareRoutes, '/api/prove/shares'>
  & Mounted<typeof makeJobRoutes, '/api/jobs'>
  & Mounted<typeof makeJobExportRoutes, '/api/jobs'>
  & Mounted<typeof makeJobImportRoutes, '/api/job-files'>
  & Mounted<typeof makePhotographRoutes, '/api/jobs'>
  & Mounted<typeof makeShelfRoutes, '/api/shelf'>
  & Mounted<typeof makeStockRoutes, '/api/stock'>
  & Mounted<typeof makePlanRoutes, '/api/plan'>
  & Mounted<typeof makePriceRoutes, '/api/prices'>
  & Mounted<typeof makeOrderRoutes, '/api/orders'>
  & Mounted<typeof makeSupplierRoutes, '/api/suppliers'>
  & Mounted<typeof makeShopRoutes, '/api/shop'>
  & Mounted<typeof makeOutcomeRoutes, '/api/outcomes'>
  & Mounted<typeof makeSessionRoutes, '/api/session'>
  & Mounted<typeof makePeopleRoutes, '/api/people'>,
  '/'>;
