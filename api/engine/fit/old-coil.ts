import type { BenchRecord, OhmReading } from '../../../catalog-schema/index.ts';
import { settingOf } from '../settings.ts';
import type { Interval, Notes } from './finding.ts';
import { copperFactor } from '../part-facts.ts';

/**
 * Ohms at 20 C of the removed part's coil: the reading at rest from the terminal of the start-switch wire to that of the return wire,
 * else to the case, else the only reading from there; without such a wire the only coil-like reading of the record.
 * @returns undefined where no reading is known to be the coil's
 */
export function findOldCoil(record: BenchRecord, notes: Notes): Interval | undefined {
  const readings = (record.ohms ?? []).filter((reading) => reading.pulledIn !== true && isCoilLike(reading));
  const start = record.wires?.find((wire) => wire.leadsTo === 'start-switch')?.wasOn;
  const back = record.wires?.find((wire) => wire.leadsTo === 'interlocked-return' || wire.leadsTo === 'chassis')?.wasOn ?? 'case';
  const fromStart = start === undefined ? readings : readings.filter(({ between }) => between.includes(start));
  const chosen = fromStart.find(({ between }) => between.includes(back)) ?? fromStart.find(({ between }) => between.includes('case'))
    ?? (fromStart.length === 1 ? fromStart[0] : undefined);
  if (!chosen || chosen.ohm === 'open') return undefined;
  const { low, high } = notes.read(chosen.ohm, 'ohmmeter');
  const factor = copperFactor(record.benchC ?? 20);
  return { low: Math.max(low, 1e-3) / factor, high: high / factor };
}

function isCoilLike({ ohm }: OhmReading): boolean {
  return ohm !== 'open' && (typeof ohm === 'number' ? ohm : ohm.value) >= settingOf('leastCoilOhm');
}
