import type { BenchRecord, Part } from '../../../catalog-schema/index.ts';

/**
 * Does the part work a starter? By the class of what came off, where it is known: a contactor may stand in for a start relay. Contactors and
 * plug-in relays feed other things as well, and nothing cranks there.
 */
export function feedsStarter(record: BenchRecord, part: Part): boolean {
  const partClass = record.partClass ?? part.partClass;
  return partClass !== 'contactor' && partClass !== 'plug-in-relay';
}
