import { describe, expect, it } from 'vitest';
import type { BenchRecord, Fit, Part, Wire } from '../../../catalog-schema/index.ts';
import { fit } from './index.ts';
import { relay } from './sample-bench.ts';

const data: Part['starter'] = { nominalV: 12, rotation: 'cw', pinionTeeth: 9, pinionModuleMm: 2.5 };
const bare: Part = {
  id: 'bare', partClass: 'starter-motor', title: 'bare', terminals: [{ id: '30', form: 'stud', thread: 'M8x1.25' }], circuit: [{ kind: 'motor', between: ['30', 'case'] }],
  mounting: { holes: [{ xMm: 0, yMm: 0, diameterMm: 10.5 }], conductive: true }, starter: data,
};
const withSolenoid: Part = {
  ...bare, id: 'solenoid', inside: ['m'], terminals: [...bare.terminals, { id: '50', form: 'tab', tabWidthMm: 6.3 }],
  circuit: [
    { kind: 'coil', id: 'p', between: ['50', 'm'], nominalV: 12, ohmAt20C: 0.4, pullInV: 8 }, { kind: 'coil', id: 'h', between: ['50', 'case'], nominalV: 12, ohmAt20C: 1.2, pullInV: 8 },
    { kind: 'contact', id: 'k', between: ['30', 'm'], form: 'NO', coils: ['p', 'h'] }, { kind: 'motor', between: ['m', 'case'] },
  ],
};
const cable: Wire = { tag: '1', wasOn: '30', end: { form: 'ring', holeMm: 8.4 } };
const feed: Wire = { tag: '2', wasOn: '50', end: { form: 'receptacle', tabWidthMm: 6.3 } };
const record = (...wires: Wire[]): BenchRecord => ({
  partClass: 'starter-motor', system: { nominalV: 12, interlocks: 'in-feed' }, starter: data,
  mounting: { holes: [{ xMm: 0, yMm: 0, diameterMm: 10.5 }], boltMm: 10, panelGrounded: true }, wires,
});
const judge = (rec: BenchRecord, part: Part): Fit => fit(rec, [part], { all: true }).fits[0]!;
const wiringOf = (rec: BenchRecord, part: Part) => judge(rec, part).checks.find(({ criterion }) => criterion === 'wiring');

describe('a starter without a contact of its own', () => {
  it('is refused where a wire comes from the start switch: the removed one carried its solenoid', () => {
    const rec = record({ ...cable, leadsTo: 'battery' }, { ...feed, leadsTo: 'start-switch' });
    expect(judge(rec, bare).verdict).toBe('no');
    expect(wiringOf(rec, bare)).toMatchObject({ outcome: 'fail', safety: true });
    expect(judge(rec, withSolenoid).checks.filter(({ outcome }) => outcome === 'fail')).toEqual([]);
    expect(wiringOf(rec, withSolenoid)!.outcome).toBe('pass');
  });

  it('is not shown to do where its cable is said to be a feed that nothing switches', () => {
    expect(judge(record({ ...cable, leadsTo: 'battery' }), bare).verdict).toBe('unproven');
    expect(wiringOf(record({ ...cable, leadsTo: 'battery' }), bare)!.why).toMatch(/fed as long as the battery is on/);
  });

  it('is not shown to do where two wires came to the removed one and one is not traced', () => {
    expect(judge(record(cable, feed), bare).verdict).toBe('unproven');
    expect(fit(record(cable, feed), [bare]).measureNext.map(({ what }) => what)).toEqual([expect.stringMatching(/^where wires 1, 2 lead/)]);
  });

  it('goes on with its one cable, and with a ground cable beside it', () => {
    expect(wiringOf(record(cable), bare)).toBeUndefined();
    expect(judge(record(cable), bare).verdict).toBe('direct');
    expect(judge(record({ ...cable, leadsTo: 'starter' }, { ...feed, end: { form: 'ring', holeMm: 8.4 }, leadsTo: 'chassis' }), bare).verdict).not.toBe('no');
  });
});

describe('the class of the removed part, where it is not recorded', () => {
  const traced: BenchRecord = {
    system: { nominalV: 12, interlocks: 'in-feed' }, mounting: { holes: relay('x').mounting!.holes, boltMm: 6, panelGrounded: true },
    wires: [
      { tag: '1', wasOn: 'B', leadsTo: 'battery', end: { form: 'ring', holeMm: 8.4 } }, { tag: '2', wasOn: 'M', leadsTo: 'starter', end: { form: 'ring', holeMm: 8.4 } },
      { tag: '3', wasOn: 'S', leadsTo: 'start-switch', end: { form: 'receptacle', tabWidthMm: 6.3 } }, { tag: '4', wasOn: 'R', leadsTo: 'chassis', end: { form: 'receptacle', tabWidthMm: 6.3 } },
    ],
  };
  const shift: Part = relay('shift', { partClass: 'shift-solenoid' });
  const formOf = (rec: BenchRecord, part: Part) => judge(rec, part).checks.find(({ criterion }) => criterion === 'contact-form')!.outcome;

  it('leaves a shift solenoid open, which does in its own place alone, and asks for the class', () => {
    expect(formOf(traced, shift)).toBe('unknown');
    expect(formOf({ ...traced, partClass: 'shift-solenoid' }, shift)).toBe('pass');
    expect(formOf({ ...traced, partClass: 'start-relay' }, shift)).toBe('fail');
    expect(fit(traced, [shift]).measureNext[0]!.what).toMatch(/^class of the removed part/);
  });

  it('leaves a relay open where no wire speaks against a shift solenoid', () => {
    const noReturn = { ...traced, wires: traced.wires!.slice(0, 3) };
    expect(formOf(noReturn, relay('r'))).toBe('unknown');
    expect(judge(noReturn, relay('r')).fitProbability).toBeGreaterThan(0.8);
    expect(fit(noReturn, [relay('r')]).measureNext.map(({ what }) => what)).toContainEqual(expect.stringMatching(/^class of the removed part/));
    expect(formOf({ ...noReturn, partClass: 'start-relay' }, relay('r'))).toBe('pass');
  });

  it('leaves none where a wire brings the coil back: no shift solenoid has one', () => {
    expect(formOf(traced, relay('r'))).toBe('pass');
  });
});
