import type { CircuitElement, Part } from '../part.ts';

/** Every element of every part, with its part. */
export function eachElement(parts: readonly Part[]): { part: Part; element: CircuitElement }[] {
  return parts.flatMap((part) => part.circuit.map((element) => ({ part, element })));
}
