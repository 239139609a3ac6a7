import { documentRecordOf, type BenchRecord, type JsonValue, type Part, type PartClass } from '../../../catalog-schema/index.ts';

/**
 * The bench record a catalogue part would give, as a start for a part of that number in the hand: its terminals, its coils'
 * ohms, its holes. Nothing of the machine is in it but the volts. Volts are those of its first coil, else of its starter,
 * else 12.
 */
export function recordOfPart(part: Part): BenchRecord {
  const outer = new Set([...part.terminals.map((terminal) => terminal.id), 'case']);
  const coils = part.circuit.filter((element) => element.kind === 'coil');
  const ohms = coils.flatMap(({ between, ohmAt20C }) => (
    ohmAt20C !== undefined && between.every((node) => outer.has(node)) ? [{ between, ohm: ohmAt20C }] : []));
  const volts = coils[0]?.nominalV ?? part.starter?.nominalV ?? 12;
  return {
    partClass: part.partClass,
    system: { nominalV: volts },
    terminals: part.terminals.map((terminal) => ({ ...terminal })),
    ...(part.numbers === undefined || part.numbers.length === 0 ? {} : { marked: { numbers: part.numbers.map((entry) => entry.number) } }),
    ...(ohms.length === 0 ? {} : { ohms }),
    ...(part.mounting === undefined || part.mounting.holes.length === 0 ? {}
      : { mounting: { holes: part.mounting.holes.map(({ xMm, yMm, diameterMm }) => ({ xMm, yMm, diameterMm })) } }),
    ...(part.starter === undefined ? {} : { starter: part.starter }),
  };
}

/** The tree of a counter sheet that starts from a record. */
export function counterTree(title: string, record: BenchRecord): { [key: string]: JsonValue } {
  return { title, record: documentRecordOf(record) };
}

/** A record with nothing in it but what every record needs. */
export function blankRecord(partClass: PartClass, volts: number): BenchRecord {
  return { partClass, system: { nominalV: volts } };
}
