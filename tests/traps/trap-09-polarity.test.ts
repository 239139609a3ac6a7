import { describe, expect, it } from 'vitest';
import { rewire } from '../../api/engine/index.ts';
import { checkOf, judge, judgePart } from './ask-fit.ts';
import { changed, partOf, readDemoCatalogue, readDemoJob } from './read-demo.ts';

// The old coil had no diode and its wires went on either way round; the successor's diode makes S the plus.
const catalogue = readDemoCatalogue();
const dumper = readDemoJob('site-dumper-24v-polarity').record;
const withDiode = partOf(catalogue, 'ov-3150-24w');

describe('a coil with a diode has a plus and a minus', () => {
  it('refuses the wires in their old places and changes them over', () => {
    const answer = rewire(dumper, withDiode);
    const refusal = answer.refusals.find((entry) => entry.code === 'polarity');
    expect(refusal?.why).toMatch(/diode/i);
    expect(answer.plans[0]?.changes).toBe(2);

    const entry = judge(dumper, catalogue, 'ov-3150-24w');
    expect(entry.verdict).toBe('adapt');
    expect(checkOf(entry, 'wiring').outcome).toBe('work');
    expect(checkOf(entry, 'polarity')).toMatchObject({ outcome: 'pass', safety: true });
    expect(Object.fromEntries(entry.rewire!.wires.map((wire) => [wire.tag, wire.to]))).toMatchObject({ C: 'G', D: 'S' });
  });

  it('leaves them where they were on the same part without the diode', () => {
    const without = changed(withDiode, (part) => { part.circuit = part.circuit.filter((element) => element.kind !== 'diode'); });
    expect(rewire(dumper, without).refusals).toEqual([]);
    const entry = judgePart(dumper, without);
    expect(entry.verdict).toBe('direct');
    expect(entry.rewire?.changes).toBe(0);
    expect(entry.checks.some((check) => check.criterion === 'polarity')).toBe(false);
  });

  it('refuses them on a coil with a diode in series too, which would never pull in', () => {
    const answer = rewire(dumper, partOf(catalogue, 'ov-3155-24'));
    expect(answer.refusals.map((refusal) => refusal.code)).toContain('polarity');
    expect(answer.plans[0]?.changes).toBe(2);
  });
});
