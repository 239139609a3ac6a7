import { describe, expect, it } from 'vitest';
import { checkOf, judge } from './ask-fit.ts';
import { changed, readDemoCatalogue, readDemoJob } from './read-demo.ts';

// Ring hole against stud by the contract: 0.1 to 1.5 mm more than the stud's major diameter (common practice, no source).
const catalogue = readDemoCatalogue();
const traced = changed(readDemoJob('concrete-float-untraced-wire').record, (record) => { record.wires![3]!.leadsTo = 'chassis'; });
const withRings = (holeMm: number) => changed(traced, (record) => {
  for (const wire of record.wires!) if (wire.end?.form === 'ring') wire.end.holeMm = holeMm;
});

describe('stud size', () => {
  it('asks for two new lugs where 6.4 mm rings meet 5/16 studs, and for none where they are 8.4 mm', () => {
    const small = judge(withRings(6.4), catalogue, 'slb-u1-12');
    expect(small.verdict).toBe('adapt');
    expect(checkOf(small, 'stud').outcome).toBe('work');
    expect(checkOf(small, 'stud').offered).toMatch(/5\/16/);
    expect(small.kit.filter((item) => /lug/i.test(item.item)).reduce((sum, item) => sum + item.qty, 0)).toBe(2);

    const right = judge(withRings(8.4), catalogue, 'slb-u1-12');
    expect(checkOf(right, 'stud').outcome).toBe('pass');
    expect(right.kit.filter((item) => /lug/i.test(item.item))).toEqual([]);
    expect(right.verdict).toBe('direct');
  });

  it('does not let a ring too large sit on a sliver of itself', () => {
    expect(checkOf(judge(withRings(8.4), catalogue, 'ov-3120-12'), 'stud').outcome).toBe('work');
    expect(checkOf(judge(withRings(6.4), catalogue, 'ov-3120-12'), 'stud').outcome).toBe('pass');
  });

  it('does not know where nobody looked at the cable ends', () => {
    const bare = changed(traced, (record) => { for (const wire of record.wires!) delete wire.end; });
    expect(checkOf(judge(bare, catalogue, 'ov-3120-12'), 'stud').outcome).toBe('unknown');
  });
});
