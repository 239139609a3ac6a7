import { describe, expect, it } from 'vitest';
import { find, fit, rewire } from '../../api/engine/index.ts';
import type { BenchRecord } from '../../catalog-schema/index.ts';
import { checkOf, failedOf, judge } from './ask-fit.ts';
import { changed, namesOfDemoJobs, partOf, readDemoCatalogue, readDemoJob } from './read-demo.ts';

// Each demo job ends as its `expect` says in words.
const catalogue = readDemoCatalogue();
const answer = (name: string) => fit(readDemoJob(name).record, catalogue);
const codesOf = (record: BenchRecord, partId: string) => rewire(record, partOf(catalogue, partId)).refusals.map((refusal) => refusal.code);
const lugs = (kit: readonly { item: string; qty: number }[]) => kit.filter((item) => /lug/i.test(item.item)).reduce((sum, item) => sum + item.qty, 0);

describe('the demo jobs end as a technician would expect', () => {
  it('quay sweeper: the isolated relay goes on as it is, every coil on the case is refused', () => {
    const { fits, cautions } = answer('quay-sweeper-no-crank');
    expect(fits[0]).toMatchObject({ partId: 'ov-3120-12', verdict: 'direct', rewire: { changes: 0 } });
    const record = readDemoJob('quay-sweeper-no-crank').record;
    const grounded = catalogue.filter((part) => part.partClass === 'start-relay' && part.circuit.some((element) => element.kind === 'coil' && element.nominalV === 12 && element.between.includes('case')));
    expect(grounded.length).toBeGreaterThan(10);
    const all = fit(record, catalogue, { all: true }).fits;
    for (const part of grounded) {
      const entry = all.find((one) => one.partId === part.id)!;
      expect(entry.verdict, part.id).toBe('no');
      expect(checkOf(entry, 'interlock').outcome, part.id).toBe('fail');
    }
    expect(cautions.some((caution) => /interlock/i.test(caution))).toBe(true);
  });

  it('bilge pump set: the sealed universal needs two new lugs and a ground jumper', () => {
    const { fits } = answer('bilge-pump-set-universal');
    expect(fits[0]).toMatchObject({ partId: 'slb-u1-12', verdict: 'adapt', rewire: { changes: 1, jumpers: [{ from: 'G', to: 'chassis' }] } });
    expect(lugs(fits[0]!.kit)).toBe(2);
    expect(fits.filter((entry) => entry.verdict === 'direct')).toEqual([]);
    expect(find('D 1047', catalogue).hits.find((hit) => hit.partId === 'dm-1047')?.currentIds).toEqual(['slb-u1-12']);
  });

  it('storm chipper: like for like with the cranking feed, the look-alike would lose it', () => {
    const { fits } = answer('wood-chipper-cranking-feed');
    expect(fits.find(({ partId }) => partId === 'pw-43-012')).toMatchObject({ verdict: 'direct', rewire: { changes: 0 } });
    // Before it one that bears more of what nobody recorded: the current that flows on.
    expect(fits[0]).toMatchObject({ partId: 'slb-u4-12', verdict: 'direct' });
    const record = readDemoJob('wood-chipper-cranking-feed').record;
    expect(judge(record, catalogue, 'pw-42-012').verdict).toBe('no');
    expect(codesOf(record, 'pw-42-012').some((code) => code === 'cranking-feed-lost' || code === 'back-feeds')).toBe(true);
  });

  it('dumper: the sealed 24 V successor goes on with its two coil wires changed over', () => {
    const { fits } = answer('site-dumper-24v-polarity');
    expect(fits[0]).toMatchObject({ partId: 'ov-3150-24w', verdict: 'adapt', rewire: { changes: 2, jumpers: [] } });
    expect(checkOf(judge(readDemoJob('site-dumper-24v-polarity').record, catalogue, 'ov-3150-12'), 'coil-voltage').outcome).toBe('fail');
    expect(find('OV 3175-24', catalogue).hits.find((hit) => hit.partId === 'ov-3175-24')?.currentIds).toEqual(['ov-3150-24']);
  });

  it('pallet truck: the sealed 48 V contactor goes on as it is, with a word on charged capacitors', () => {
    const { fits, cautions } = answer('pallet-truck-48v-contactor');
    expect(fits[0]).toMatchObject({ partId: 'kd-210c48w', verdict: 'direct', rewire: { changes: 0 } });
    const record = readDemoJob('pallet-truck-48v-contactor').record;
    expect(failedOf(judge(record, catalogue, 'kd-210c48'))).toEqual(['sealing']);
    expect(failedOf(judge(record, catalogue, 'kd-210c24'))).toContain('coil-voltage');
    expect(cautions.some((caution) => /capacitor/i.test(caution))).toBe(true);
    expect(answer('quay-sweeper-no-crank').cautions.some((caution) => /capacitor/i.test(caution))).toBe(false);
  });

  it('light tower: the starter that turns the right way goes on as it is, the other and the ten-toothed are refused', () => {
    const { fits } = answer('light-tower-starter-rotation');
    expect(fits[0]).toMatchObject({ partId: 'ov-8010-12r9', verdict: 'direct', rewire: { changes: 0 } });
    const record = readDemoJob('light-tower-starter-rotation').record;
    expect(failedOf(judge(record, catalogue, 'ov-8010-12l9'))).toEqual(['rotation']);
    expect(failedOf(judge(record, catalogue, 'ov-8010-12r10'))).toContain('pinion');
    // Its motor returns through a stud of its own, which nothing on this machine reaches: a lead from there to the case.
    expect(rewire(record, partOf(catalogue, 'ov-8040-12r9i')).plans[0]).toMatchObject({ changes: 1, jumpers: [{ from: '31', to: 'case' }] });
    expect(judge(record, catalogue, 'ov-8040-12r9i')).toMatchObject({ verdict: 'adapt', rewire: { jumpers: [{ from: '31', to: 'case' }] } });
  });

  it('quay vacuum: the splash-proof plug-in relay takes two new receptacles, the small ones are not shown to do', () => {
    const { fits } = answer('quay-vacuum-plug-in-relay');
    const record = readDemoJob('quay-vacuum-plug-in-relay').record;
    const chosen = judge(record, catalogue, 'tv-74-12');
    expect(chosen.verdict).toBe('adapt');
    expect(fits.find((entry) => entry.partId === 'tv-74-12')).toEqual(chosen);
    expect(chosen.rewire?.wires.filter((wire) => wire.newEnd).map((wire) => wire.tag).sort()).toEqual(['85', '86']);
    expect(checkOf(chosen, 'polarity').outcome).toBe('pass');
    const small = judge(record, catalogue, 'qm-7025-12');
    expect(small.verdict).toBe('unproven');
    expect(checkOf(small, 'sealing').outcome).toBe('unknown');
    expect(fits.findIndex((entry) => entry.partId === 'tv-74-12')).toBeLessThan(fits.findIndex((entry) => entry.partId === 'qm-7025-12'));
  });

  it('counter: nothing is sold as a sure fit without knowing where the wires lead', () => {
    const { fits, measureNext } = answer('counter-unmarked-part');
    expect(fits.length).toBeGreaterThan(0);
    for (const entry of fits) expect(entry.verdict, entry.partId).toBe('unproven');
    expect(fits.map((entry) => entry.partId)).toContain('pw-45-012');
    expect(fits.map((entry) => entry.partId)).not.toContain('pw-45-024');
    expect(measureNext.some((entry) => /wire/i.test(entry.what))).toBe(true);
  });

  it('beach cleaner: a dead number with a kit of two; in one piece the universal with the cranking feed', () => {
    const { fits } = answer('beach-cleaner-dead-number-kit');
    expect(fits[0]).toMatchObject({ partId: 'slb-u4-12', verdict: 'adapt', rewire: { jumpers: [], leftOff: [] } });
    expect(lugs(fits[0]!.kit)).toBeGreaterThanOrEqual(2);
    expect(find('D 1188', catalogue).hits[0]?.currentIds.toSorted()).toEqual(['pw-45-012', 'tv-70-12']);
    const record = readDemoJob('beach-cleaner-dead-number-kit').record;
    expect(judge(record, catalogue, 'pw-45-012').verdict).toBe('no');
    expect(codesOf(record, 'pw-45-012').some((code) => code === 'cranking-feed-lost' || code === 'back-feeds')).toBe(true);
  });

  it('compressor: the 24 V shift solenoid goes on as it is, the 12 V one in its body is refused', () => {
    const { fits } = answer('compressor-24v-shift-solenoid');
    expect(fits.find(({ partId }) => partId === 'bh-5310-24')).toMatchObject({ verdict: 'direct', rewire: { changes: 0 } });
    // Nobody recorded how wet it gets there: its sealed twin is the likelier.
    expect(fits[0]).toMatchObject({ partId: 'bh-5310-24s', verdict: 'direct', rewire: { changes: 0 } });
    const record = readDemoJob('compressor-24v-shift-solenoid').record;
    expect(failedOf(judge(record, catalogue, 'bh-5310-12'))).toContain('coil-voltage');
    expect(judge(record, catalogue, 'slb-sh1-24').verdict).toBe('adapt');
  });

  it('donkey engine: the strap under the bracket bolt stays and the 6 V relay goes on as it is', () => {
    const { fits } = answer('donkey-engine-6v-wooden-board');
    expect(fits[0]).toMatchObject({ partId: 'ov-3110-6', verdict: 'direct', rewire: { changes: 0 } });
    expect(fits[0]?.rewire?.wires).toContainEqual({ tag: 'gnd', from: 'case', to: 'case', moved: false, newEnd: false });
    const noStrap = changed(readDemoJob('donkey-engine-6v-wooden-board').record, (record) => { record.wires = record.wires!.filter((wire) => wire.tag !== 'gnd'); });
    const refusals = rewire(noStrap, partOf(catalogue, 'ov-3110-6')).refusals;
    expect(refusals.map((refusal) => refusal.code)).toContain('never-pulls-in');
  });

  it('deck scrubber: the continuous 36 V contactor goes on as it is, an intermittent coil does not', () => {
    const { fits } = answer('deck-scrubber-36v-contactor');
    expect(fits[0]).toMatchObject({ partId: 'kd-200c36', verdict: 'direct', rewire: { changes: 0 } });
    const record = readDemoJob('deck-scrubber-36v-contactor').record;
    const intermittent = changed(partOf(catalogue, 'kd-200c36'), (part) => {
      for (const element of part.circuit) if (element.kind === 'coil') element.duty = { type: 'intermittent', maxOnS: 30 };
    });
    expect(failedOf(judge(record, [intermittent], 'kd-200c36'))).toEqual(['coil-duty']);
    expect(failedOf(judge(record, catalogue, 'kd-230c36'))).toContain('contact-inrush');
  });

  it('mooring winch: only the low current coil spares the start button', () => {
    const { fits } = answer('mooring-winch-low-ohm-coil');
    expect(fits[0]).toMatchObject({ partId: 'pw-47-012l', verdict: 'direct', rewire: { changes: 0 } });
    expect(failedOf(judge(readDemoJob('mooring-winch-low-ohm-coil').record, catalogue, 'pw-47-012'))).toEqual(['coil-current']);
  });

  it('concrete float: nothing is sure while one wire is not traced; traced, the isolated relay goes on as it is', () => {
    const record = readDemoJob('concrete-float-untraced-wire').record;
    const { fits, measureNext } = fit(record, catalogue);
    for (const entry of fits) expect(entry.verdict, entry.partId).toBe('unproven');
    expect(measureNext.some((entry) => /\b4\b/.test(`${entry.what} ${entry.why}`))).toBe(true);
    const refusal = rewire(record, partOf(catalogue, 'ov-3120-12')).refusals.find((entry) => entry.code === 'wire-not-traced');
    expect(refusal?.why).toMatch(/\b4\b/);
    const traced = changed(record, (copy) => { copy.wires![3]!.leadsTo = 'interlocked-return'; });
    expect(fit(traced, catalogue).fits.find((entry) => entry.partId === 'ov-3120-12')).toMatchObject({ verdict: 'direct', rewire: { changes: 0 } });
    expect(judge(traced, catalogue, 'ov-3110-12').verdict).toBe('no');
  });

  it('has an ending tested for every job', () => {
    expect(namesOfDemoJobs()).toHaveLength(14);
  });
});
