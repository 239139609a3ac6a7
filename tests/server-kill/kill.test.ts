import { randomUUID } from 'node:crypto';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sqlite3 from 'sqlite3';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { applyEdit, type JobEdit, type JobState, type JsonValue } from '../../catalog-schema/index.ts';
import { startServer, type RunningServer } from './running-server.ts';

const KILLS = 20;
const WRITERS = 6;
const EDITS_A_BATCH = 3;

let folder: string;
let env: Parameters<typeof startServer>[0];
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'lugwright-kill-'));
  mkdirSync(join(folder, 'demo', 'parts'), { recursive: true });
  writeFileSync(join(folder, 'demo', 'parts', 'none.json'), '[]');
  env = {
    LUGWRIGHT_DB: join(folder, 'shop.sqlite'), LUGWRIGHT_DEMO: join(folder, 'demo'), LUGWRIGHT_UI: folder,
    // Most of the time goes into starting; a killed server leaves no compiled code behind, one that was stopped does.
    NODE_COMPILE_CACHE: join(folder, 'compiled'),
  };
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const at = '2026-11-25T10:00:00Z';

/** Edits that belong together: one of each batch without the others would be half an edit. */
interface Batch { readonly jobId: string; readonly edits: JobEdit[] }

function makeBatch(jobId: string): Batch {
  const name = randomUUID();
  return {
    jobId,
    edits: Array.from({ length: EDITS_A_BATCH }, (_, n) => ({ id: randomUUID(), field: ['asLeft', `${name}-${n}`], value: { at, reading: n }, base: 0, at })),
  };
}

async function post(url: string, body: unknown): Promise<Response> {
  return fetch(url, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) });
}

/** Posts batches one after another until the server is gone; what was answered and what was left open. */
async function write(server: RunningServer, jobId: string, answered: Batch[], open: Batch[], onAnswer: () => void): Promise<void> {
  for (;;) {
    const batch = makeBatch(jobId);
    try {
      const response = await post(`${server.url}/api/jobs/${jobId}/edits`, { edits: batch.edits });
      expect(response.status).toBe(200);
      await response.arrayBuffer();
    } catch (error) {
      // The connection broke: nobody was told whether this batch was kept.
      if (!(error instanceof TypeError)) throw error;
      open.push(batch);
      return;
    }
    answered.push(batch);
    onAnswer();
  }
}

async function readJob(server: RunningServer, jobId: string): Promise<{ state: JobState; edits: JobEdit[] }> {
  const state = await (await fetch(`${server.url}/api/jobs/${jobId}`)).json() as JobState;
  return { state, edits: await (await fetch(`${server.url}/api/jobs/${jobId}/edits`)).json() as JobEdit[] };
}

function checkJob(job: { state: JobState; edits: JobEdit[] }, answered: readonly Batch[], open: readonly Batch[]): void {
  const kept = new Set(job.edits.map((edit) => edit.id));
  expect(kept.size).toBe(job.edits.length);
  for (const batch of answered) {
    expect(batch.edits.filter((edit) => kept.has(edit.id)), 'an answered edit is there').toHaveLength(EDITS_A_BATCH);
  }
  for (const batch of open) {
    expect([0, EDITS_A_BATCH], 'an edit is there whole or not at all').toContain(batch.edits.filter((edit) => kept.has(edit.id)).length);
  }
  expect(job.state.revision).toBe(job.edits.length);
  expect(job.state.document).toEqual(job.edits.reduce<Record<string, JsonValue>>((tree, edit) => applyEdit(tree, edit), {}));
}

/** A fixed sequence, so that a failure can be had again. */
function makeDice(seed: number): (sides: number) => number {
  let state = seed;
  return (sides) => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((state / 2 ** 32) * sides);
  };
}

test(`${KILLS} kills amid edits lose none that was answered, and leave none by half`, { timeout: 120_000 }, async () => {
  const roll = makeDice(20_261_125);
  const rounds: { jobId: string; answered: Batch[]; open: Batch[] }[] = [];

  await (await startServer(env)).stop();
  let server = await startServer(env);
  for (let round = 0; round < KILLS; round++) {
    const jobId = randomUUID();
    const begun = await post(`${server.url}/api/jobs`, { id: jobId, title: `Round ${round}`, record: { system: { nominalV: 12 } }, at });
    expect(begun.status).toBe(201);
    const answered: Batch[] = [];
    const open: Batch[] = [];
    const killAfter = 1 + roll(25);
    let killed: Promise<void> | undefined;
    const running = server;
    await Promise.all(Array.from({ length: WRITERS }, () => write(running, jobId, answered, open, () => {
      // Counted in answers, not in time: so it falls amid edits on a slow machine too.
      if (answered.length >= killAfter) killed ??= running.kill();
    })));
    await killed;
    rounds.push({ jobId, answered, open });

    server = await startServer(env);
    checkJob(await readJob(server, jobId), answered, open);

    // The devices send again what was left open, as they do when the network returns.
    for (const batch of open) expect((await post(`${server.url}/api/jobs/${jobId}/edits`, { edits: batch.edits })).status).toBe(200);
    checkJob(await readJob(server, jobId), [...answered, ...open], []);
  }

  for (const { jobId, answered, open } of rounds) checkJob(await readJob(server, jobId), [...answered, ...open], []);
  expect(await server.stop()).toBe(0);

  const opened = rounds.reduce((sum, round) => sum + round.open.length, 0);
  expect(opened, 'the kills fell amid edits').toBeGreaterThan(KILLS);
  expect(await checkIntegrity(env.LUGWRIGHT_DB)).toBe('ok');
});

async function checkIntegrity(file: string): Promise<string> {
  return new Promise((resolve, reject) => {
    const db: sqlite3.Database = new sqlite3.Database(file, () => {
      db.get<{ integrity_check: string }>('pragma integrity_check', (error, row) => {
        db.close();
        if (error) reject(error);
        else resolve(row?.integrity_check ?? '');
      });
    });
  });
}
