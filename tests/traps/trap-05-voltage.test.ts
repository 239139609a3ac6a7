import { describe, expect, it } from 'vitest';
import { checkOf, judge } from './ask-fit.ts';
import { changed, readDemoCatalogue, readDemoJob } from './read-demo.ts';

// One housing, 6 to 36 V: nothing to be seen outside tells them apart.
const catalogue = readDemoCatalogue();
const on12 = changed(readDemoJob('concrete-float-untraced-wire').record, (record) => {
  record.wires![3]!.leadsTo = 'chassis';
  delete record.system.lowestRestingV;
  delete record.system.highestV;
});

describe('coils of several voltages in one housing', () => {
  it.each(['ov-3120-6', 'ov-3120-24', 'ov-3120-36'])('refuses %s on a 12 V machine as a matter of safety', (id) => {
    const entry = judge(on12, catalogue, id);
    expect(entry.verdict).toBe('no');
    expect(checkOf(entry, 'coil-voltage')).toMatchObject({ outcome: 'fail', safety: true });
    expect(checkOf(entry, 'coil-voltage').needed).toMatch(/12/);
  });

  it('takes the 24 V one on a 24 V machine and refuses the 12 V one there', () => {
    const on24 = changed(on12, (record) => { record.system.nominalV = 24; });
    expect(judge(on24, catalogue, 'ov-3120-24').verdict).toBe('direct');
    expect(judge(on24, catalogue, 'ov-3120-12').verdict).toBe('no');
    expect(judge(on12, catalogue, 'ov-3120-12').verdict).toBe('direct');
  });
});
