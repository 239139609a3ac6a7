import { existsSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { serveStatic } from '@hono/node-server/serve-static';
import { Hono } from 'hono';
import { compress } from 'hono/compress';
import { makeProblem, sendProblem } from './problem.ts';

/** The built screens, and their first page for every address of theirs. */
export function serveScreens(folder: string): Hono {
  const root = resolve(folder);
  const files = new Hono();
  files.use(compress());
  files.use(async (context, next) => {
    await next();
    // The builder puts a hash of the content into the names under assets/: those never change.
    const lasting = context.req.path.startsWith('/assets/') && context.res.ok;
    context.res.headers.set('cache-control', lasting ? 'public, max-age=31536000, immutable' : 'no-cache');
  });
  let serveFile: ReturnType<typeof serveStatic> | undefined;
  files.get('*', (context, next) => {
    // Screens may be built while the server runs.
    if (!existsSync(root)) return next();
    serveFile ??= serveStatic({ root });
    return serveFile(context, next);
  });
  files.get('*', async (context, next) => {
    // A missing script or picture is missing; only addresses that look like pages get the first page. A part's id or a wire's tag may end as a file does.
    if (/\.[a-z0-9]{1,8}$/i.test(context.req.path) && !/^\/(?:jobs|counter)\//.test(context.req.path)) return next();
    if (!existsSync(join(root, 'index.html'))) {
      return sendProblem(context, makeProblem('not-found', 'The screens have not been built: run npm run build, or npm start, which does it'));
    }
    return serveStatic({ root, path: 'index.html' })(context, next);
  });
  return files;
}
