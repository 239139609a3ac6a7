import { describe, expect, it } from 'vitest';
import { checkOf, judge } from './ask-fit.ts';
import { changed, readDemoCatalogue, readDemoJob } from './read-demo.ts';

const catalogue = readDemoCatalogue();
const sweeper = readDemoJob('quay-sweeper-no-crank').record;
/** In a milder harbour, for contactors that are not made for its winter. */
const mild = changed(sweeper, (record) => { record.partClass = 'contactor'; record.system.ambientC = { min: -10, max: 40 }; });
const held = changed(sweeper, (record) => { record.demand!.continuousUse = true; });

describe('duty', () => {
  it('refuses an intermittent coil that is to be held in for good', () => {
    const entry = judge(held, catalogue, 'ov-3120-12');
    expect(entry.verdict).toBe('no');
    expect(checkOf(entry, 'coil-duty')).toMatchObject({ outcome: 'fail', safety: true });
    expect(checkOf(entry, 'coil-duty').offered).toMatch(/intermittent/i);
  });

  it('takes the same coil for cranking', () => {
    const entry = judge(changed(held, (record) => { record.demand!.continuousUse = false; }), catalogue, 'ov-3120-12');
    expect(entry.verdict).toBe('direct');
    expect(checkOf(entry, 'coil-duty').outcome).toBe('pass');
  });

  it('refuses a continuous coil whose contact is not rated for the inrush, and takes it for a smaller starter', () => {
    const cranking = changed(mild, (record) => { record.demand!.inrushA = { value: 300, plusMinus: 20 }; });
    const refused = judge(cranking, catalogue, 'kd-240c12');
    expect(refused.verdict).toBe('no');
    expect(checkOf(refused, 'contact-inrush')).toMatchObject({ outcome: 'fail', safety: true });
    expect(checkOf(refused, 'contact-inrush').offered).toMatch(/250/);

    const smaller = judge(changed(cranking, (record) => { record.demand!.inrushA = { value: 200, plusMinus: 20 }; }), catalogue, 'kd-240c12');
    expect(checkOf(smaller, 'contact-inrush').outcome).toBe('pass');
    expect(smaller.verdict).not.toBe('no');
  });

  it('calls an inrush that may lie on either side of the rating unknown', () => {
    const near = changed(mild, (record) => { record.demand!.inrushA = { value: 245, plusMinus: 20 }; });
    expect(checkOf(judge(near, catalogue, 'kd-240c12'), 'contact-inrush').outcome).toBe('unknown');
  });

  it('refuses a coil good for 30 s where it is held 45 s, and takes it for 10 s', () => {
    const long = changed(sweeper, (record) => { record.demand!.longestOnS = 45; });
    expect(checkOf(judge(long, catalogue, 'ov-3120-12'), 'coil-duty').outcome).toBe('fail');
    expect(checkOf(judge(sweeper, catalogue, 'ov-3120-12'), 'coil-duty').outcome).toBe('pass');
  });
});
