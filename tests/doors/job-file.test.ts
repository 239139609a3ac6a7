import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { jobFile, nameJobFile, readInput, type FitAnswer, type JobFile, type JobImport, type JobState } from '../../catalog-schema/index.ts';
import { SAMPLE_JPEG } from '../../catalog-schema/photograph/sample-pictures.ts';
import { createApp } from '../../api/http/index.ts';
import { openServices, type Services } from '../../api/services/index.ts';

// A job file out at each door and in at each other, and bad ones refused alike.

const root = fileURLToPath(new URL('../..', import.meta.url));
let folder: string;
let shops: Services[];
let jobId: string;
const app = (shop: number) => createApp({ services: shops[shop]! });
const database = (shop: number): string => join(folder, `${shop}.sqlite`);
const runCli = (args: string[], input?: string) => spawnSync(process.execPath, ['api/cli/lugwright.ts', ...args], { cwd: root, encoding: 'utf8', ...(input === undefined ? {} : { input }) });
const post = (shop: number, body: string, type = 'application/vnd.lugwright.job+json') => app(shop).request('/api/job-files', { method: 'POST', headers: { 'content-type': type }, body });
const withoutTime = (text: string): unknown => ({ ...(JSON.parse(text) as JobFile), exportedAt: '' });

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'lugwright-job-doors-'));
  shops = await Promise.all([0, 1, 2].map((shop) => openServices({ file: database(shop), demoFolder: join(root, 'demo-catalog') })));
  const made = await app(0).request('/api/jobs', {
    method: 'POST', headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ id: '5d0a3b52-3d1e-4c57-9a41-6f2f0f8f1b00', title: 'Löschpumpe, does not crank', record: { system: { nominalV: 12 } }, at: '2026-11-25T10:00:00Z' }),
  });
  jobId = (await made.json() as JobState).id;
  await shops[0]!.photographs.keep(jobId, SAMPLE_JPEG);
}, 60_000);
afterAll(async () => {
  await Promise.all(shops.map((shop) => shop.close()));
  rmSync(folder, { recursive: true });
});

describe('a job file', () => {
  it('is the same over HTTP and on the command line, and goes in at the other door each time', async () => {
    const exported = await app(0).request(`/api/jobs/${jobId}/file`);
    expect([exported.headers.get('content-type'), exported.headers.get('content-disposition')])
      .toEqual(['application/vnd.lugwright.job+json', 'attachment; filename="loschpumpe-does-not-crank-5d0a3b52.job.json"']);
    const overHttp = await exported.text();
    expect(readInput(jobFile, JSON.parse(overHttp)).ok).toBe(true);
    const file = join(folder, 'out.job.json');
    const run = runCli(['job', 'export', 'Löschpumpe, does not crank', '--out', file, '--db', database(0)]);
    expect([run.status, run.stderr]).toEqual([0, '']);
    expect(withoutTime(readFileSync(file, 'utf8'))).toEqual(withoutTime(overHttp));

    const atCli = runCli(['job', 'import', '-', '--db', database(1), '--json'], overHttp);
    expect(atCli.status, atCli.stderr).toBe(0);
    expect(JSON.parse(atCli.stdout) as JobImport).toMatchObject({ created: true, photographsAdded: 1, job: { id: jobId } });
    const atHttp = await post(2, readFileSync(file, 'utf8'));
    expect([atHttp.status, (await atHttp.json() as JobImport).created]).toEqual([201, true]);
    for (const shop of [1, 2]) expect(withoutTime(await (await app(shop).request(`/api/jobs/${jobId}/file`)).text())).toEqual(withoutTime(overHttp));

    expect(await (await app(1).request(`/api/jobs/${jobId}/carried`)).json()).toEqual({ outcomes: [], reservations: [], orderLines: [] });
    expect((await app(1).request('/api/jobs/nothing/carried')).status).toBe(404);
    const again = await post(1, overHttp);
    expect([again.status, await again.json()]).toMatchObject([200, { created: false, editsAdded: 0, photographsAdded: 0 }]);
    const onceMore = runCli(['job', 'import', file, '--db', database(2)]);
    expect(onceMore.stdout).toContain('Was here');
    expect(onceMore.stdout).toContain('0 edits and 0 photographs came in');
  }, 60_000);

  it('that is bad is refused with the same lines at both, and leaves nothing', async () => {
    const good = await (await app(0).request(`/api/jobs/${jobId}/file`)).text();
    const bad = good.replace(jobId, '5d0a3b52-3d1e-4c57-9a41-6f2f0f8f1b99').replace('"version":1', '"version":9').replace(/"hash":"."/, '"hash":"z"').replace('"revision":', '"revisions":');
    const refused = await post(1, bad);
    const lines = (await refused.json() as { faults: { line: string }[] }).faults.map((fault) => fault.line);
    expect(refused.status).toBe(422);
    expect(lines).toContain('version (line 1): found 9, want 1');
    const run = runCli(['job', 'import', '-', '--db', database(1)], bad);
    expect([run.status, run.stdout, run.stderr.trim().split('\n')]).toEqual([2, '', lines]);
    expect((await shops[1]!.jobs.list()).map((job) => job.id)).not.toContain('5d0a3b52-3d1e-4c57-9a41-6f2f0f8f1b99');
  }, 60_000);

  it('of a type that a form could send is not taken, and a job that is not there has none', async () => {
    expect((await post(1, '{}', 'text/plain')).status).toBe(422);
    expect((await app(0).request('/api/jobs/nothing/file')).status).toBe(404);
    for (const [args, line] of [
      [['job', 'export', 'nothing like it', '--out', join(folder, 'x'), '--db', database(0)], 'job: found "nothing like it", want the id or the title of a job\n'],
      [['job', 'export', jobId, '--out', join(folder, 'no', 'x'), '--db', database(0)], `--out: found ${join(folder, 'no', 'x')}, want a file that can be written (ENOENT)\n`],
      [['job', 'import', join(folder, 'nothing'), '--db', database(0)], `input: found no file ${JSON.stringify(join(folder, 'nothing'))}, want a job file, or - for standard input\n`],
    ] as const) {
      const run = runCli([...args]);
      expect([run.status, run.stderr]).toEqual([2, line]);
    }
  }, 60_000);

  it.each([['Quay sweeper 2', 'quay-sweeper-2'], ['???', 'job'], ['x'.repeat(90), 'x'.repeat(60)], ['Größe', 'groe']])('of %j is named after it', (title, name) => {
    expect(nameJobFile(title, jobId)).toBe(`${name}-5d0a3b52.job.json`);
  });

  it('cannot bring in a sign-off before its time: an untested interlock keeps it out at this door too', async () => {
    const sweeper = (await shops[0]!.jobs.list()).find((job) => job.document.title.startsWith('Quay sweeper'))!;
    const file = JSON.parse(await (await app(0).request(`/api/jobs/${sweeper.id}/file`)).text()) as JobFile;
    const fitted = await (await app(0).request('/api/fit', { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify({ record: sweeper.record, most: 1 }) })).json() as FitAnswer;
    const [best] = fitted.fits;
    file.id = '5d0a3b52-3d1e-4c57-9a41-6f2f0f8f1b77';
    const at = '2026-11-25T11:00:00Z';
    file.edits.push({ id: '', field: ['chosen'], value: { partId: best!.partId, plan: best!.rewire as never }, base: file.edits.length, at });
    file.edits.push({ id: '', field: ['signedOff'], value: { at, by: 'Nobody' }, base: file.edits.length, at });
    file.edits.forEach((edit, index) => { edit.id = `5d0a3b52-3d1e-4c57-9a41-6f2f0f8f2b${String(index).padStart(2, '0')}`; });
    file.revision = file.edits.length;
    const answer = await post(1, JSON.stringify(file));
    const taken = await answer.json() as JobImport;
    expect(taken.job.document.signedOff).toBeUndefined();
    expect(taken.job.document.chosen!.partId).toBe(best!.partId);
    expect(taken.job.conflicts).toMatchObject([{ field: ['signedOff'], why: 'not-ready' }]);
    expect(taken.job.conflicts[0]!.faults.join('\n')).toMatch(/interlock/i);
  });
});
