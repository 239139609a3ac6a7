import { describe, expect, it } from 'vitest';
import { circuitKeyOf, createRewirer, facesKeyOf, wiringFormOf } from '../../../api/engine/rewire/index.ts';
import { partSchema } from '../../../catalog-schema/index.ts';
import { generateCase } from './case-generator.ts';
import { compareMemory } from './compare-memory.ts';
import { drawNearTwins } from './near-twins.ts';

/** The whole of it, larger: `npm run sweep:memory`. */
const SEEDS = Array.from({ length: 60 }, (_, index) => 5001 + index);

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

  it('proves by the form alone only what a whole search finds too', { timeout: 60_000 }, () => {
    const refused = new Map<number, number>();
    for (let seed = 20_001; seed <= 22_500; seed++) {
      const { record, part } = generateCase(seed);
      const rewirer = createRewirer(record);
      const form = wiringFormOf(part);
      if (!rewirer.refusesForm(form)) continue;
      refused.set(form, (refused.get(form) ?? 0) + 1);
      expect(rewirer.isRefused(part), `seed ${seed}`).toBe(true);
      const { plan, complete, judged } = rewirer.findFirstPlan(part);
      expect([plan, complete, judged], `seed ${seed}`).toEqual([null, true, true]);
    }
    // One contact, a coil to the case, both, and no contact between terminals.
    for (const form of [1, 2, 3]) expect(refused.get(form) ?? 0, `form ${form}`).toBeGreaterThan(2);
    expect([...refused.keys()].some((form) => (form & 4) !== 0)).toBe(true);
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
