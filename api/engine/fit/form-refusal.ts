import type { BenchRecord, Part } from '../../../catalog-schema/index.ts';
import { isOneCoilAlone } from '../part-facts.ts';
import type { Rewirer } from '../rewire/index.ts';

/**
 * Whether no part of this form can be wired on this machine, whatever its ohms, volts and ratings: then none of its profile needs to be looked
 * at. Only for a form of one coil and contacts, with nothing else but what lies across the coil; all of that, its ends and the bracket are the profile's.
 *
 * - A cranking feed and one contact. The feed has to be live exactly while the starter is, so it sits on a net that a closed contact joins to
 *   the battery: with one contact that is the starter's own, or the start switch's. Driven from outside while the engine runs it then feeds the
 *   starter, or pulls the coil in. The battery's net is always live, the coil's other end is the return; what lies
 *   across the coil joins no other nets.
 * - An interlocked return and a coil that ends in a metal case. The coil may carry current only through that wire. It never reaches a metal
 *   case, and the case is never made live, so the coil's end at the case is neither its feed nor its return.
 *
 * The rewirer is asked about the part at hand as well: should it not refuse it, or have been cut off, nothing is left out.
 */
export function isRefusedByForm(record: BenchRecord, part: Part, rewirer: Rewirer): boolean {
  const leadsTo = (place: string): boolean => (record.wires ?? []).some((wire) => wire.leadsTo === place);
  const count = (kind: Part['circuit'][number]['kind']): number => part.circuit.filter((element) => element.kind === kind).length;
  if (!isOneCoilAlone(part)) return false;
  const endsInCase = part.circuit.some((element) => element.kind === 'coil' && element.between.includes('case'));
  const feedIsLost = leadsTo('cranking-feed') && count('contact') === 1;
  const returnIsPassedBy = leadsTo('interlocked-return') && endsInCase && part.mounting?.conductive !== false;
  return (feedIsLost || returnIsPassedBy) && rewirer.isRefused(part);
}
