import type { BenchRecord, TraceAnswer } from '../../../catalog-schema/index.ts';
import { cautionOfBattery, cautionOfCapacitors, cautionOfMaker } from '../cautions.ts';
import { describeSetting } from '../settings.ts';
import { traceWire } from './trace-wire.ts';

/** They put the readings in order. */
const BOTHERS = ['botherOfMeter', 'botherOfTraceCable', 'botherOfTraceLive', 'botherOfTraceKey'] as const;

/**
 * Where wires lead, by what a meter shows at their free ends (`wires[].traced.readings`): of each wire that is not traced or has
 * readings, the places that remain, readings that contradict one another or what was written, and the readings to take next with
 * what each separates, most telling first. Volts and ohms; `worth` in bits.
 * @param tags only these wires; each that is asked for by name is answered
 */
export function trace(record: BenchRecord, tags?: readonly string[]): TraceAnswer {
  const assumptions = new Set<string>();
  const wires = (record.wires ?? []).flatMap((wire, index) => {
    const open = wire.leadsTo === undefined || wire.leadsTo === 'unknown' || Object.keys(wire.traced?.readings ?? {}).length > 0;
    return (tags === undefined ? open : tags.includes(wire.tag)) ? [traceWire(record, wire, index, { assumptions })] : [];
  });
  const capacitors = cautionOfCapacitors(record.system.nominalV);
  return {
    wires, worthUnit: 'bit',
    cautions: wires.length === 0 ? [] : [cautionOfBattery(), ...(capacitors === undefined ? [] : [capacitors]), cautionOfMaker()],
    assumptions: wires.some(({ measureNext }) => measureNext.length > 0) ? [...assumptions, ...BOTHERS.map(describeSetting)] : [...assumptions],
  };
}
