import { describe, expect, it } from 'vitest';
import { rewire } from '../../api/engine/index.ts';
import { changed, partOf, readDemoCatalogue, readDemoJob } from './read-demo.ts';

// Two small tabs in the same two places: on one part both ends of a coil, on the other a coil end and a feed that is live while cranking.
const catalogue = readDemoCatalogue();
const float = readDemoJob('concrete-float-untraced-wire').record;
const withFeedTab = partOf(catalogue, 'ov-3130-12');
const grounded = changed(float, (record) => { record.wires![3]!.leadsTo = 'chassis'; });

describe('small terminals that look alike and are not', () => {
  it('names the short when a ground wire would sit on the terminal that is live while cranking', () => {
    const answer = rewire(grounded, withFeedTab);
    const short = answer.refusals.find((refusal) => refusal.code === 'shorts-a-wire');
    expect(short?.why).toMatch(/\b4\b/);
    expect(short?.why).toMatch(/short/i);
    for (const plan of answer.plans) expect(plan.wires.find((wire) => wire.tag === '4')?.to).not.toBe('I');
  });

  it('says nothing against the same wire in the same place where it leads to the cranking feed', () => {
    const answer = rewire(changed(grounded, (record) => { record.wires![3]!.leadsTo = 'cranking-feed'; }), withFeedTab);
    expect(answer.refusals).toEqual([]);
    expect(answer.plans[0]).toMatchObject({ changes: 0, jumpers: [], leftOff: [] });
    expect(answer.plans[0]?.wires.find((wire) => wire.tag === '4')?.to).toBe('I');
  });

  it('says nothing against the ground wire where both tabs are ends of one coil', () => {
    const answer = rewire(grounded, partOf(catalogue, 'ov-3120-12'));
    expect(answer.refusals).toEqual([]);
    expect(answer.plans[0]?.changes).toBe(0);
  });
});
