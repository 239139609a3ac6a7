import { describe, expect, it } from 'vitest';
import { rewire } from '../../api/engine/index.ts';
import { checkOf, judge } from './ask-fit.ts';
import { changed, partOf, readDemoCatalogue, readDemoJob } from './read-demo.ts';

// The coil's return runs through seat switch, brush lever and brake. A coil grounded through its own case would crank past them.
const catalogue = readDemoCatalogue();
const sweeper = readDemoJob('quay-sweeper-no-crank').record;
const plainGround = changed(sweeper, (record) => { record.wires!.find((wire) => wire.tag === 'W4')!.leadsTo = 'chassis'; });

describe('a return wire that is a safety device', () => {
  it.each(['ov-3110-12', 'ov-3130-12', 'slb-u2-12'])('refuses %s, whose coil returns through the case, as a matter of safety', (id) => {
    const entry = judge(sweeper, catalogue, id);
    expect(entry.verdict).toBe('no');
    expect(checkOf(entry, 'interlock')).toMatchObject({ outcome: 'fail', safety: true });
    expect(checkOf(entry, 'interlock').why).toMatch(/interlock/i);
    const answer = rewire(sweeper, partOf(catalogue, id));
    expect(answer.plans).toEqual([]);
    expect(answer.refusals.map((refusal) => refusal.code)).toContain('defeats-interlock');
  });

  it('lets the same relay on where the return wire is a plain ground', () => {
    const entry = judge(plainGround, catalogue, 'ov-3110-12');
    expect(entry.verdict).toBe('adapt');
    expect(checkOf(entry, 'interlock').outcome).toBe('pass');
  });

  it('lets the isolated one of the same housing on with every wire in its place', () => {
    const entry = judge(sweeper, catalogue, 'ov-3120-12');
    expect(entry.verdict).toBe('direct');
    expect(checkOf(entry, 'interlock').outcome).toBe('pass');
    for (const state of entry.rewire!.states) expect(state.starterLive).toBe(state.startSwitch && state.interlocks);
  });
});
