import type { CircuitElement, ContactElement, Part } from '../../../catalog-schema/index.ts';
import { rankRatings } from './circuit-shape.ts';
import { capacityOf } from './wire-places.ts';

type Row = readonly (string | number | null | readonly number[])[];

/**
 * Everything of a part that its wiring hangs on, whatever the machine, but for the numbers: terminals and elements as they are listed, no ohms,
 * no volts, ratings by their order only. The numbers of parts with equal keys stand at the same places of their circuits, so what a
 * machine finds out about one of them it knows of all, up to the judging of the numbers.
 * Cost: a few microseconds.
 */
export function formKeyOf(part: Part): string {
  const terminals = part.terminals.map(({ id, form, tabWidthMm, marking, at: face }): Row =>
    [id, form, form === 'tab' ? tabWidthMm ?? null : null, marking ?? null, face ? [face.xMm, face.yMm] : null]);
  return JSON.stringify([terminals, describeCircuit(part), part.mounting?.conductive ?? null]);
}

/** The same without what the terminals are called, look like and stand, but for how many wires they take: what joins what, as it is listed. */
export function structureKeyOf(part: Part): string {
  return JSON.stringify([part.terminals.map((terminal) => capacityOf(terminal)), describeCircuit(part)]);
}

function describeCircuit(part: Part): readonly (Row | number)[] {
  const numbers = new Map(part.terminals.map(({ id }, place) => [id, place]));
  numbers.set('case', numbers.size);
  for (const joint of part.inside ?? []) if (!numbers.has(joint)) numbers.set(joint, numbers.size);
  const at = (name: string): number => numbers.get(name) ?? numbers.set(name, numbers.size).size - 1;
  const coils = part.circuit.flatMap((element) => (element.kind === 'coil' ? [element.id] : []));
  const rankOf = rankRatings(part.circuit.filter((element): element is ContactElement => element.kind === 'contact'));
  const describe = (element: CircuitElement): Row => {
    switch (element.kind) {
      case 'coil': case 'resistor': case 'motor': return [element.kind, at(element.between[0]), at(element.between[1])];
      case 'diode': return [element.kind, at(element.from), at(element.to)];
      case 'contact': return [
        element.form, at(element.between[0]), at(element.between[1]), rankOf(element),
        coils.flatMap((id, coil) => (element.coils.includes(id) ? [coil] : [])),
      ];
      default: return refuseKind(element);
    }
  };
  const rows = part.circuit.map(describe);
  return [...rows, numbers.size];
}

function refuseKind(element: never): never {
  throw new TypeError(`unknown element ${JSON.stringify(element)}`);
}
