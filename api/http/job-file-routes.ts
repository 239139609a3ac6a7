import { Hono, type Context } from 'hono';
import { carriedWithJob, JOB_FILE_TYPE, jobFile, jobImport, nameJobFile } from '../../catalog-schema/index.ts';
import type { Services } from '../services/index.ts';
import type { ApiDocument } from './open-api.ts';
import { valueOf } from './problem.ts';
import { refuseWhole } from './read-request.ts';

export function makeJobExportRoutes({ jobFiles, jobs }: Services, document: ApiDocument) {
  document.describe({
    method: 'get', path: '/api/jobs/{id}/file', summary: 'A job whole in one file: its log, held edits among it, photographs, outcomes, what was put aside and ordered, the chosen part as it was',
    answers: { 200: { schema: jobFile, what: 'The file', type: JOB_FILE_TYPE } }, problems: ['not-found'],
  });
  document.describe({
    method: 'get', path: '/api/jobs/{id}/carried', summary: 'What came with a job from another shop and is handed on: what was put aside and ordered there, and what is about parts this catalogue has not',
    answers: { 200: { schema: carriedWithJob, what: 'What came along; empty lists where nothing did' } }, problems: ['not-found'],
  });
  return new Hono().get('/:id/carried', async (c) => {
    const id = c.req.param('id');
    valueOf(c, await jobs.read(id));
    return c.json(await jobFiles.readCarried(id), 200);
  }).get('/:id/file', async (c) => {
    const id = c.req.param('id');
    const { title, pieces } = valueOf(c, await jobFiles.export(id));
    return c.body(streamPieces(pieces), 200, {
      'content-type': JOB_FILE_TYPE, 'content-disposition': `attachment; filename="${nameJobFile(title, id)}"`, 'cache-control': 'no-store',
    });
  });
}

export function makeJobImportRoutes({ jobFiles }: Services, document: ApiDocument) {
  document.describe({
    method: 'post', path: '/api/job-files', body: jobFile, bodyType: JOB_FILE_TYPE,
    summary: 'Take a job file in, up to 200 MB: all of it, or nothing and a fault for each thing wrong, with path and line. A job that is here gets the edits that are new; the same file again changes nothing',
    answers: { 201: { schema: jobImport, what: 'The job is here now' }, 200: { schema: jobImport, what: 'It was here already, and has what is new in the file' } },
    problems: ['refused-input'],
  });
  return new Hono().post('/', async (c) => {
    // Any other type could be sent by a form of another site without the browser asking first.
    const type = c.req.header('content-type');
    if (!/^application\/(?:[\w.+-]+\+)?json\s*(?:;|$)/i.test(type ?? '')) {
      return refuseWhole(c, type === undefined ? 'a body of no stated type' : JSON.stringify(type.slice(0, 60)), `a job file, of type ${JOB_FILE_TYPE}`) as never;
    }
    const taken = valueOf(c, await jobFiles.import(c.req.raw.body ?? nothing()));
    return taken.created ? c.json(taken, 201) : c.json(taken, 200);
  });
}

/** Whether a request brings a job file, which is counted as it arrives. */
export function takesJobFile(context: Context): boolean {
  return context.req.method === 'POST' && context.req.path === '/api/job-files';
}

/** What is asked for when the one before has been taken; a reader that leaves ends it. */
function streamPieces(pieces: AsyncGenerator<string>): ReadableStream<Uint8Array> {
  const encoder = new TextEncoder();
  return new ReadableStream({
    pull: async (controller) => {
      const { done, value } = await pieces.next();
      if (done) controller.close();
      else controller.enqueue(encoder.encode(value));
    },
    cancel: async () => { await pieces.return(undefined); },
  });
}

async function* nothing(): AsyncGenerator<Uint8Array> { /* a request without a body */ }
