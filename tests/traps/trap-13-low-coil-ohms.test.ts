import { describe, expect, it } from 'vitest';
import { checkOf, failedOf, judge } from './ask-fit.ts';
import { changed, readDemoCatalogue, readDemoJob } from './read-demo.ts';

// 2.2 Ohm at 20 C is 2.2 x (1 - 0.00393 x 30) = 1.94 Ohm at -10 C: 14.4 V drive 7.4 A through a button good for 5 A (by hand).
const catalogue = readDemoCatalogue();
const winch = readDemoJob('mooring-winch-low-ohm-coil').record;

describe('lower coil ohms, more control current', () => {
  it('refuses the coil that would burn the start button, as a matter of safety', () => {
    const entry = judge(winch, catalogue, 'pw-49-012');
    expect(entry.verdict).toBe('no');
    expect(failedOf(entry)).toEqual(['coil-current']);
    expect(checkOf(entry, 'coil-current')).toMatchObject({ safety: true });
    expect(checkOf(entry, 'coil-current').offered).toMatch(/7\.4/);
    expect(checkOf(entry, 'coil-current').needed).toMatch(/5/);
  });

  it('takes it where the button is good for 10 A', () => {
    const entry = judge(changed(winch, (record) => { record.demand!.controlRatingA = 10; }), catalogue, 'pw-49-012');
    expect(checkOf(entry, 'coil-current').outcome).toBe('pass');
    expect(entry.verdict).toBe('direct');
  });

  it('takes the low current coil of the same housing on the 5 A button', () => {
    expect(judge(winch, catalogue, 'pw-49-012l').verdict).toBe('direct');
  });
});
