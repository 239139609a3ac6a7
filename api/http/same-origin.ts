import type { MiddlewareHandler } from 'hono';
import { makeProblem, sendProblem } from './problem.ts';

/** Requests that change something are taken from our own pages and from programs, not from another site's page. */
export const refuseOtherOrigins: MiddlewareHandler = async (context, next) => {
  const origin = context.req.header('origin');
  if (origin !== undefined && !['GET', 'HEAD'].includes(context.req.method) && hostOf(origin) !== hostOf(context.req.url, context.req.header('host'))) {
    return sendProblem(context, makeProblem('other-origin', `the request comes from a page of ${origin.slice(0, 100)}`));
  }
  return next();
};

function hostOf(url: string, host?: string): string | undefined {
  return host ?? (URL.canParse(url) ? new URL(url).host : undefined);
}
