import { describe, expect, it } from 'vitest';
import { circuitKeyOf, facesKeyOf } from '../../../api/engine/rewire/index.ts';
import { partSchema } from '../../../catalog-schema/index.ts';
import { compareMemory } from './compare-memory.ts';
import { drawNearTwins } from './near-twins.ts';

const SEEDS = Array.from({ length: 120 }, (_, index) => 5001 + index);

describe('what a rewirer remembers of near twins', () => {
  it('equals what a fresh one finds, to the last digit', { timeout: 60_000 }, () => {
    let parts = 0;
    let circuits = 0;
    for (const seed of SEEDS) {
      for (const part of drawNearTwins(seed, 8)) expect(partSchema.safeParse(part).error, `seed ${seed} ${part.id}`).toBeUndefined();
      const found = compareMemory(seed);
      expect(found.differences, `seed ${seed}`).toEqual([]);
      parts += found.parts;
      circuits += found.circuits;
    }
    // Twins do share: else nothing was remembered.
    expect(circuits / parts).toBeLessThan(0.75);
    expect(circuits / parts).toBeGreaterThan(0.2);
  });

  it('tells circuits apart by what their wiring hangs on, and by nothing else', () => {
    const [part] = drawNearTwins(7, 1);
    const key = circuitKeyOf(part!);
    expect(circuitKeyOf({ ...part!, id: 'other', title: 'other', sealing: 'IP67', terminals: part!.terminals.toReversed(), circuit: part!.circuit.toReversed() })).toBe(key);
    expect(circuitKeyOf({ ...part!, mounting: { holes: [], conductive: part!.mounting?.conductive !== true } })).not.toBe(key);
    for (const change of [{ form: 'lead' as const }, { form: 'pin' as const }]) {
      expect(circuitKeyOf({ ...part!, terminals: part!.terminals.map((terminal) => ({ ...terminal, ...change })) })).not.toBe(key);
    }
    const ohms = structuredClone(part!);
    for (const element of ohms.circuit) if (element.kind === 'coil') element.ohmAt20C = 99;
    expect(circuitKeyOf(ohms)).not.toBe(key);
    expect(facesKeyOf({ ...part!, terminals: part!.terminals.map((terminal) => ({ ...terminal, marking: 'Z' })) })).not.toBe(facesKeyOf(part!));
  });
});
