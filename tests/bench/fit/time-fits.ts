import { fitSnapshot } from '../../../api/engine/fit/index.ts';
import { generateQuery, type Readings } from './generate-query.ts';
import type { OurSide } from './our-side.ts';

const MOST = 20;
const READINGS: readonly Readings[] = ['full', 'half', 'few'];

/**
 * Full fits, each of a machine that was not asked about before: nothing remembered of wirings, placements or frequencies helps it but what the
 * fit itself works out. `computed` is what the thread's own work took of it: the rest went to whoever else wanted the processor. The parts of the snapshot that earlier fits have parsed stay parsed, as they would in a shop.
 */
export function timeFits(our: OurSide, { count, seed }: { count: number; seed: number }): {
  times: number[]; computed: number[]; listed: number; perReadings: ReadonlyMap<Readings, number[]>;
} {
  const perReadings = new Map<Readings, number[]>(READINGS.map((readings) => [readings, []]));
  const times: number[] = [];
  const computed: number[] = [];
  let listed = 0;
  // The first calls of a process compile the code: twenty machines that are not counted.
  for (let at = -20; at < count; at++) {
    const readings = READINGS[(at + 21) % 3]!;
    const record = generateQuery(seed + at, our.facts, readings);
    const before = process.threadCpuUsage();
    const start = performance.now();
    const answer = fitSnapshot(record, our.indexed, { most: MOST });
    const took = performance.now() - start;
    const { user, system } = process.threadCpuUsage(before);
    if (at < 0) continue;
    times.push(took);
    computed.push((user + system) / 1000);
    perReadings.get(readings)!.push(took);
    listed += answer.fits.length;
  }
  return { times, computed, listed, perReadings };
}
