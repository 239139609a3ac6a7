import type { BenchRecord } from '../../../catalog-schema/index.ts';
import type { InterlocksAct } from '../../drawing/index.ts';

/** Where a machine's interlocks act on the coil: as the record says, else by its wires, else ahead of the start switch (the contract's assumption). */
export function findInterlocks({ system, wires }: Pick<BenchRecord, 'system' | 'wires'>): InterlocksAct {
  if (system.interlocks !== undefined) return system.interlocks;
  return wires?.some(({ leadsTo }) => leadsTo === 'interlocked-return') ? 'in-return' : 'in-feed';
}
