import { describe, expect, it } from 'vitest';
import type { BenchRecord, Part } from '../../../catalog-schema/index.ts';
import { fit } from './index.ts';
import type { WiringOutline } from '../rewire/index.ts';
import { checkWiring } from './wiring.ts';

const part: Part = {
  id: 'hungry', partClass: 'start-relay', title: 'hungry',
  terminals: [{ id: 'B', form: 'stud', thread: 'M6x1' }, { id: 'M', form: 'stud', thread: 'M6x1' }, { id: 'S', form: 'tab' }, { id: 'I', form: 'tab' }],
  circuit: [
    { kind: 'coil', id: 'c', between: ['S', 'I'], nominalV: 12, ohmAt20C: 0.5, pullInV: 10, duty: { type: 'continuous' } },
    { kind: 'contact', id: 'k', between: ['B', 'M'], form: 'NO', coils: ['c'], inrushA: 400, continuousA: 100 },
  ],
};
const measured = (value: number, plusMinus: number): BenchRecord => ({
  partClass: 'start-relay', system: { nominalV: 12, interlocks: 'in-feed' }, terminals: part.terminals.map(({ id, form }) => ({ id, form })),
  wires: [
    { tag: 'W1', wasOn: 'B', leadsTo: 'battery', end: { form: 'ring', holeMm: 6.4 } }, { tag: 'W2', wasOn: 'M', leadsTo: 'starter', end: { form: 'ring', holeMm: 6.4 } },
    { tag: 'W3', wasOn: 'S', leadsTo: 'start-switch' }, { tag: 'W4', wasOn: 'I', leadsTo: 'chassis' },
  ],
  demand: { controlFuseA: 60, controlOhm: { value, plusMinus } },
});

describe('a start circuit measured too coarsely', () => {
  // 12 * 0.5 / (0.51 + ohm) is 10 V at 0.09 Ohm: by Ohm's law, the battery's 10 mOhm in series.
  it('leaves the wiring open on either side of the limit, and asks for the reading once more', () => {
    for (const [value, wiring] of [[0.02, 'pass'], [0.06, 'unknown'], [0.12, 'unknown'], [0.2, 'fail']] as const) {
      const [entry] = fit(measured(value, 0.05), [part], { all: true }).fits;
      expect(entry!.checks.find(({ criterion }) => criterion === 'wiring')?.outcome, `${value} Ohm`).toBe(wiring);
    }
  });

  it('is asked for with a milliohm method, and is the likelier to do where it does as measured', () => {
    const outline: WiringOutline = {
      plan: { wires: [], jumpers: [], leftOff: [], bareTerminals: [], changes: 0 }, rightBothWays: true, leansOn: null, hangsOnControlOhm: true, complete: true, judged: true,
      interlock: { outcome: 'pass' }, polarity: null,
    };
    const asMeasured = checkWiring(measured(0.06, 0.05), part, outline);
    const atAnEnd = checkWiring(measured(0.12, 0.05), part, { ...outline, onlyAtControlOhm: 0.07 });
    expect(asMeasured.readings?.[0]?.what).toMatch(/^resistance of the start circuit, .* milliohm method/);
    expect(atAnEnd.why).toMatch(/0\.07 Ohm, and not at the value measured/);
    // Mean of the normal's distribution function over 0 to 2 sigma: (1/2) (2 Phi(2) + phi(2) - phi(0)) = 0.8048.
    expect(asMeasured.probability).toBeCloseTo(0.8048, 3);
    expect(atAnEnd.probability).toBeCloseTo(0.1952, 3);
  });
});
