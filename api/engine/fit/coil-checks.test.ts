import { describe, expect, it } from 'vitest';
import type { BenchRecord, CoilElement, Part } from '../../../catalog-schema/index.ts';
import { checkCoilCurrent } from './coil-current.ts';
import { checkCoilDuty } from './coil-duty.ts';
import { checkCoilVoltage } from './coil-voltage.ts';
import { Notes } from './finding.ts';
import { factsOf } from '../part-facts.ts';
import { checkPullIn } from './pull-in.ts';

function relay(coil: Partial<CoilElement> = {}, more: Part['circuit'] = []): Part {
  return {
    id: 'relay', partClass: 'start-relay', title: 'relay',
    terminals: [{ id: 'B', form: 'stud' }, { id: 'M', form: 'stud' }, { id: 'S', form: 'tab' }, { id: 'R', form: 'tab' }],
    circuit: [
      { kind: 'coil', id: 'k', between: ['S', 'R'], nominalV: 12, ...coil },
      { kind: 'contact', id: 'h', between: ['B', 'M'], form: 'NO', coils: ['k'] }, ...more,
    ],
  };
}

const record = (more: Partial<BenchRecord> = {}): BenchRecord => ({ system: { nominalV: 12 }, ...more });
const duty = (d: CoilElement['duty'], demand: BenchRecord['demand']): string => checkCoilDuty(record({ demand }), relay(), factsOf(relay({ duty: d })), new Notes()).outcome;

describe('coil-voltage', () => {
  it.each([[6, 'fail'], [12, 'pass'], [24, 'fail'], [36, 'fail'], [48, 'fail']])('a %s V coil on a 12 V machine: %s', (nominalV, outcome) => {
    expect(checkCoilVoltage(record(), factsOf(relay({ nominalV }))).outcome).toBe(outcome);
  });

  it('says what a coil of too low a voltage would do', () => {
    expect(checkCoilVoltage(record(), factsOf(relay({ nominalV: 6 }))).why).toMatch(/2 times its current/);
  });

  it('fails a part without a coil', () => {
    const part = { ...relay(), circuit: [] };
    expect(checkCoilVoltage(record(), factsOf(part)).outcome).toBe('fail');
  });
});

describe('coil-duty', () => {
  const continuous = { type: 'continuous' } as const;
  const bears = (maxOnS?: number): CoilElement['duty'] => ({ type: 'intermittent', ...(maxOnS !== undefined && { maxOnS }) });

  it('passes a continuous coil for anything', () => {
    expect(duty(continuous, { continuousUse: true })).toBe('pass');
    expect(duty(continuous, { longestOnS: 3600 })).toBe('pass');
    expect(duty(continuous, undefined)).toBe('pass');
  });

  it('fails an intermittent coil in continuous use, however long it bears', () => {
    expect(duty(bears(3600), { continuousUse: true })).toBe('fail');
    expect(duty(bears(), { continuousUse: true })).toBe('fail');
  });

  it.each([[9.9, 'fail'], [10, 'pass'], [11, 'pass']])('a coil that bears %s s where 10 s are needed: %s', (maxOnS, outcome) => {
    expect(duty(bears(maxOnS), { longestOnS: 10 })).toBe(outcome);
  });

  it.each([[29, 'fail'], [30, 'pass']])('a coil that bears %s s where nothing is said, 30 s being listed: %s', (maxOnS, outcome) => {
    const notes = new Notes();
    expect(checkCoilDuty(record(), relay(), factsOf(relay({ duty: bears(maxOnS) })), notes).outcome).toBe(outcome);
    expect([...notes.assumptions]).toEqual([expect.stringMatching(/^30 s/)]);
  });

  it('is unknown without maxOnS when the longest time on is given, and passes for cranking without both', () => {
    expect(duty(bears(), { longestOnS: 5 })).toBe('unknown');
    expect(duty(bears(), undefined)).toBe('pass');
  });

  it('is unknown where the part gives no duty', () => {
    expect(duty(undefined, undefined)).toBe('unknown');
  });

  it('does not judge a pull-in winding, which is off once the contact has closed', () => {
    const solenoid: Part = {
      ...relay(), partClass: 'shift-solenoid',
      circuit: [
        { kind: 'coil', id: 'pull', between: ['S', 'M'], nominalV: 12 },
        { kind: 'coil', id: 'hold', between: ['S', 'case'], nominalV: 12, duty: bears(60) },
        { kind: 'contact', id: 'h', between: ['B', 'M'], form: 'NO', coils: ['pull', 'hold'] },
      ],
    };
    expect(checkCoilDuty(record(), solenoid, factsOf(solenoid), new Notes()).outcome).toBe('pass');
  });
});

describe('coil-current', () => {
  const current = (part: Part, more: Partial<BenchRecord>): { outcome: string; why: string } | null => {
    const found = checkCoilCurrent(record(more), part, factsOf(part), new Notes());
    return found && { outcome: found.outcome, why: found.why };
  };

  it('makes no demand where neither fuse, contact nor old coil is known', () => {
    expect(current(relay({ ohmAt20C: 1 }), {})).toBeNull();
  });

  it.each([[2.95, 'fail'], [3, 'pass'], [3.1, 'pass']])('a %s Ohm coil at 15 V behind a 5 A fuse: %s', (ohmAt20C, outcome) => {
    expect(current(relay({ ohmAt20C }), { system: { nominalV: 12, highestV: 15 }, demand: { controlFuseA: 5 } })!.outcome).toBe(outcome);
  });

  it('takes the weaker of fuse and contact', () => {
    const system = { nominalV: 12, highestV: 15 };
    expect(current(relay({ ohmAt20C: 3 }), { system, demand: { controlFuseA: 10, controlRatingA: 4 } })!.outcome).toBe('fail');
    expect(current(relay({ ohmAt20C: 3 }), { system, demand: { controlFuseA: 4, controlRatingA: 10 } })!.outcome).toBe('fail');
    expect(current(relay({ ohmAt20C: 3 }), { system, demand: { controlFuseA: 6, controlRatingA: 5 } })!.outcome).toBe('pass');
  });

  it('takes 1.2 x nominal where no highest voltage is given, and says so', () => {
    const notes = new Notes();
    const part = relay({ ohmAt20C: 4 });
    expect(checkCoilCurrent(record({ demand: { controlFuseA: 3.6 } }), part, factsOf(part), notes)!.outcome).toBe('pass');
    expect(checkCoilCurrent(record({ demand: { controlFuseA: 3.59 } }), part, factsOf(part), notes)!.outcome).toBe('fail');
    expect([...notes.assumptions].some((line) => line.startsWith('1.2 of nominal voltage'))).toBe(true);
  });

  it('is more at the cold coil: copper at -20 C has 0.8428 of its ohms (IEC 60028)', () => {
    const system = { nominalV: 12, highestV: 15, ambientC: { min: -20, max: 40 } };
    const limit = 15 / (3 * 0.8428);
    expect(current(relay({ ohmAt20C: 3 }), { system, demand: { controlFuseA: limit * 1.001 } })!.outcome).toBe('pass');
    expect(current(relay({ ohmAt20C: 3 }), { system, demand: { controlFuseA: limit * 0.999 } })!.outcome).toBe('fail');
  });

  it('adds a resistor across the coil', () => {
    const part = relay({ ohmAt20C: 4 }, [{ kind: 'resistor', between: ['R', 'S'], ohm: 60 }]);
    const system = { nominalV: 12, highestV: 12 };
    expect(current(part, { system, demand: { controlFuseA: 3.1 } })!.outcome).toBe('fail');
    expect(current(part, { system, demand: { controlFuseA: 3.2 } })!.outcome).toBe('pass');
  });

  it.each([[3, 'fail'], [3.2, 'unknown'], [3.29, 'unknown'], [3.4, 'pass']])(
    'a %s Ohm coil for an old one of 4.0 to 4.2 Ohm, where fuse and contact are not known: %s', (ohmAt20C, outcome) => {
      // 1.25 times the current: 0.8 times the ohms, 3.2 to 3.36.
      const ohms: BenchRecord['ohms'] = [{ between: ['S', 'R'], ohm: { value: 4.1, plusMinus: 0.1 } }];
      expect(current(relay({ ohmAt20C }), { ohms })!.outcome).toBe(outcome);
    });

  it('compares coils at one temperature: 4.30 Ohm read at 35 C are 4.0606 Ohm at 20 C (IEC 60028)', () => {
    const ohms: BenchRecord['ohms'] = [{ between: ['S', 'R'], ohm: { value: 4.3, plusMinus: 1e-6 } }];
    expect(current(relay({ ohmAt20C: 4.0606 * 0.8 * 1.0001 }), { ohms, benchC: 35 })!.outcome).toBe('pass');
    expect(current(relay({ ohmAt20C: 4.0606 * 0.8 * 0.9999 }), { ohms, benchC: 35 })!.outcome).toBe('fail');
  });

  it('is unknown where the part does not give its ohms', () => {
    expect(current(relay(), { demand: { controlFuseA: 10 } })!.outcome).toBe('unknown');
  });

  it('lists a pull-in winding and judges what flows once the contact has closed', () => {
    const solenoid: Part = {
      ...relay(), partClass: 'shift-solenoid',
      circuit: [
        { kind: 'coil', id: 'pull', between: ['S', 'M'], nominalV: 12, ohmAt20C: 0.3 },
        { kind: 'coil', id: 'hold', between: ['S', 'case'], nominalV: 12, ohmAt20C: 1.2 },
        { kind: 'contact', id: 'h', between: ['B', 'M'], form: 'NO', coils: ['pull', 'hold'] },
      ],
    };
    const found = current(solenoid, { system: { nominalV: 12, highestV: 12 }, demand: { controlFuseA: 15 } })!;
    expect(found.outcome).toBe('pass');
    expect(found.why).toMatch(/50 A until the contact closes/);
  });
});

describe('pull-in', () => {
  const pull = (coil: Partial<CoilElement>, system: Partial<BenchRecord['system']>, demand?: BenchRecord['demand']): { outcome: string; why: string } | null => {
    const found = checkPullIn(record({ system: { nominalV: 12, ...system }, demand }), relay(coil), factsOf(relay(coil)), new Notes());
    return found && { outcome: found.outcome, why: found.why };
  };

  it('makes no demand where the record says nothing of supply, path or temperature', () => {
    expect(pull({ pullInV: 11.9 }, {})).toBeNull();
  });

  it('grows with the hot coil: 80 C makes 1.2358 of the ohms (IEC 60028)', () => {
    // ambient 40 C and 40 K above it
    expect(pull({ pullInV: 8 }, { lowestRestingV: 8 * 1.2358 + 0.001 })!.outcome).toBe('pass');
    expect(pull({ pullInV: 8 }, { lowestRestingV: 8 * 1.2358 - 0.001 })!.outcome).toBe('fail');
    expect(pull({ pullInV: 8 }, { lowestRestingV: 8 * 1.2358 - 0.001, ambientC: { min: 0, max: 30 } })!.outcome).toBe('pass');
  });

  it('takes 0.95 x nominal at rest and 0.7 x nominal for the coil where nothing is said, and lists both', () => {
    const notes = new Notes();
    const found = checkPullIn(record({ system: { nominalV: 12, ambientC: { min: 0, max: 40 } } }), relay(), factsOf(relay()), notes)!;
    expect(found.outcome).toBe('pass');
    // 11.4 V less 0.7 x 12 x 1.2358
    expect(found.why).toMatch(/1\.02 V to spare/);
    expect([...notes.assumptions].map((line) => line.split(' ')[0])).toEqual(expect.arrayContaining(['0.95', '0.7', '40']));
  });

  it('counts the drop in the start circuit, with its whole interval', () => {
    // A 4 Ohm coil is 4.9432 Ohm at 80 C; 0.5 Ohm before it leaves 0.908 of the supply.
    const coil = { pullInV: 8, ohmAt20C: 4 };
    const needs = 8 * 1.2358;
    const supply = needs / (4.9432 / 5.4432);
    expect(pull(coil, { lowestRestingV: supply + 0.005 }, { controlOhm: { value: 0.5, plusMinus: 0.0001 } })!.outcome).toBe('pass');
    expect(pull(coil, { lowestRestingV: supply - 0.005 }, { controlOhm: { value: 0.5, plusMinus: 0.0001 } })!.outcome).toBe('fail');
    expect(pull(coil, { lowestRestingV: supply }, { controlOhm: { value: 0.5, plusMinus: 0.1 } })!.outcome).toBe('unknown');
  });

  it('is unknown without the coil\'s ohms where the path has a resistance, and known where it has none', () => {
    expect(pull({ pullInV: 8 }, { lowestRestingV: 12 }, { controlOhm: { value: 0.5, plusMinus: 0.1 } })!.outcome).toBe('unknown');
    expect(pull({ pullInV: 8 }, { lowestRestingV: 12 })!.outcome).toBe('pass');
  });

  it('counts what a resistor across the coil draws over the start circuit', () => {
    // 4.9432 Ohm hot beside 20 Ohm is 3.9636 Ohm; over 0.5 Ohm the supply has to be 1 + 0.5 / 3.9636 of the coil's volts.
    const part = relay({ pullInV: 8, ohmAt20C: 4 }, [{ kind: 'resistor', between: ['R', 'S'], ohm: 20 }]);
    const supply = 8 * 1.2358 * (1 + 0.5 / 3.9636);
    const at = (lowestRestingV: number) => checkPullIn(record({ system: { nominalV: 12, lowestRestingV }, demand: { controlOhm: { value: 0.5, plusMinus: 0.0001 } } }), part, factsOf(part), new Notes())!.outcome;
    expect([at(supply - 0.005), at(supply + 0.005)]).toEqual(['fail', 'pass']);
  });

  it('takes the forward voltage of a diode in series with the coil off the supply, and that of one across it not', () => {
    const series: Part = {
      ...relay(), inside: ['x'], circuit: [
        { kind: 'diode', from: 'S', to: 'x' }, { kind: 'coil', id: 'k', between: ['x', 'R'], nominalV: 12, pullInV: 8 }, { kind: 'contact', id: 'h', between: ['B', 'M'], form: 'NO', coils: ['k'] },
      ],
    };
    const across = relay({ pullInV: 8 }, [{ kind: 'diode', from: 'R', to: 'S' }]);
    const at = (part: Part, lowestRestingV: number) => checkPullIn(record({ system: { nominalV: 12, lowestRestingV } }), part, factsOf(part), new Notes())!.outcome;
    const needs = 8 * 1.2358;
    expect([at(series, needs + 0.69), at(series, needs + 0.71)]).toEqual(['fail', 'pass']);
    expect([at(across, needs - 0.01), at(across, needs + 0.01)]).toEqual(['fail', 'pass']);
  });

  it('must stay in while cranking: 0.6 x pull-in, hot', () => {
    const hold = 0.6 * 8 * 1.2358;
    expect(pull({ pullInV: 8 }, { lowestRestingV: 12, lowestCrankingV: hold + 0.001 })!.outcome).toBe('pass');
    const short = pull({ pullInV: 8 }, { lowestRestingV: 12, lowestCrankingV: hold - 0.01 })!;
    expect(short.outcome).toBe('fail');
    expect(short.why).toMatch(/pulling in: .* V to spare; staying in while cranking .* V short/);
  });
});
