import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createApp } from '../../api/http/index.ts';
import { openServices } from '../../api/services/index.ts';
import type { InputFault, JobDocument } from '../../catalog-schema/index.ts';
import { runDevices, type RunFigures } from './run.ts';

export interface SyncFigures extends Omit<RunFigures, 'wrong'> {
  readonly runs: number;
  /** failures, each with the seed of its run */
  readonly wrong: readonly string[];
}

/** In place of the engine's check, which has its own tests: a machine may be signed off once step t1 is ticked. */
const findSignOffBlocks = async ({ asLeft }: JobDocument): Promise<InputFault[]> => (
  asLeft?.['t1'] === undefined ? [{ path: 'asLeft.t1', found: 'nothing', want: 'the step done' }] : []
);

/** Many runs against one server, the product's own app on a file, without a socket. Run n has the seed `seed` + n. */
export async function measureSync(runs: number, seed: number, report: (line: string) => void = () => {}): Promise<SyncFigures> {
  const folder = mkdtempSync(join(tmpdir(), 'lugwright-sync-'));
  const services = await openServices({ file: join(folder, 'shop.sqlite'), checks: { findSignOffBlocks } });
  const failures: string[] = [];
  const app = createApp({ services, report: (error) => failures.push(`the server failed: ${String(error)}`) });
  const total = { runs, devices: 0, acts: 0, restarts: 0, held: 0, settled: 0, refused: 0, wrong: failures, traffic: { requests: 0, lost: 0, answersLost: 0, doubled: 0, late: 0, hung: 0 } };
  try {
    for (let run = 0; run < runs; run++) {
      const figures = await runDevices(seed + run, async (path, init) => app.request(path, init));
      for (const key of ['devices', 'acts', 'restarts', 'held', 'settled', 'refused'] as const) total[key] += figures[key];
      for (const key of Object.keys(total.traffic) as (keyof typeof total.traffic)[]) total.traffic[key] += figures.traffic[key];
      for (const line of figures.wrong) {
        total.wrong.push(`seed ${seed + run}: ${line}`);
        report(`seed ${seed + run}: ${line}`);
      }
    }
  } finally {
    await services.close();
    rmSync(folder, { recursive: true, force: true });
  }
  return total;
}

export function printSync({ runs, devices, acts, traffic, restarts, held, settled, refused, wrong }: SyncFigures, seed: number): string {
  const { requests, lost, answersLost, doubled, late, hung } = traffic;
  return `seed ${seed}: ${runs} runs, ${devices} devices, ${acts} edits, ${requests} requests (${lost} lost, ${answersLost} answers lost, ${doubled} doubled, ${late} late, ${hung} cut off), `
    + `${restarts} restarts; ${held} held, ${settled} settled by a person, ${refused} refused and still shown; ${wrong.length} lost, decided silently or apart: ${wrong.length === 0 ? 'held' : 'not held'}`;
}
