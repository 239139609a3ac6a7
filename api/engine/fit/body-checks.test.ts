import { describe, expect, it } from 'vitest';
import type { BenchRecord, Part, Plan, StarterData, Terminal, Wire } from '../../../catalog-schema/index.ts';
import { Notes } from './finding.ts';
import { ringHoleFor } from './ring-hole.ts';
import { checkNose, checkPinion, checkPower, checkRotation, checkStarterVoltage, refuseOtherThanStarter } from './starter-checks.ts';
import { checkStud } from './stud.ts';
import { checkAmbient, checkSealing, checkSpace } from './surroundings.ts';
import { checkTab } from './tab.ts';

const bare: Part = { id: 'p', partClass: 'start-relay', title: 'p', terminals: [], circuit: [] };
const record = (more: Partial<BenchRecord> = {}): BenchRecord => ({ system: { nominalV: 12 }, ...more });

function planOf(wires: readonly Wire[], to: string, newEnd = false): Plan {
  return { wires: wires.map(({ tag, wasOn }) => ({ tag, from: wasOn, to, moved: false, newEnd })), jumpers: [], leftOff: [], bareTerminals: [], changes: 0, states: [] };
}

describe('space', () => {
  const room = { lengthMm: 80, widthMm: 50, heightMm: 60 };
  const space = (lengthMm: number, widthMm: number, heightMm: number): string => checkSpace(record({ space: room }), { ...bare, body: { lengthMm, widthMm, heightMm } })!.outcome;
  it.each([[80, 50, 60, 'pass'], [50, 80, 60, 'pass'], [80.1, 50, 60, 'fail'], [51, 51, 60, 'fail'], [60, 50, 80, 'fail'], [80, 50, 60.1, 'fail']])(
    'a body of %s x %s x %s mm: %s', (l, w, h, outcome) => expect(space(l, w, h)).toBe(outcome));
  it.each([
    [79, 49, 59, 'pass'], [49, 79, 59, 'pass'], [80, 49, 59, 'unknown'], [79, 49, 61, 'unknown'], [51, 81, 59, 'unknown'], [79, 49, 61.1, 'fail'], [81.1, 49, 59, 'fail'], [81, 81, 59, 'fail'],
  ])('a body of %s x %s x %s mm in a room known to 1 mm: %s', (l, w, h, outcome) => {
    expect(checkSpace(record({ space: { ...room, plusMinusMm: 1 } }), { ...bare, body: { lengthMm: l, widthMm: w, heightMm: h } })!.outcome).toBe(outcome);
  });
  it('asks for the room again where the tape decides, and says how likely it is enough', () => {
    const tall = checkSpace(record({ space: { ...room, plusMinusMm: 1 } }), { ...bare, body: { lengthMm: 60, widthMm: 40, heightMm: 60.5 } })!;
    // One sigma short: 0.1587 of a normal distribution lies beyond it.
    expect(tall.probability).toBeCloseTo(0.1587, 4);
    expect(tall.readings).toEqual([{ what: 'the room on the machine, with a steel rule or a caliper instead of a tape', from: 'bench' }]);
    expect(tall.why).toBe('as measured it is 0.5 mm too large, and the room is known to 1 mm only');
  });
  it('is left out where nothing is asked, unknown where the part is silent', () => {
    expect(checkSpace(record(), { ...bare, body: room })).toBeNull();
    expect(checkSpace(record({ space: room }), bare)!.outcome).toBe('unknown');
  });
});

describe('sealing', () => {
  const sealing = (minSealing: string, given?: string): string | undefined => checkSealing(record({ demand: { minSealing } }), { ...bare, ...(given && { sealing: given }) })?.outcome;
  it.each([
    ['IP54', 'IP54', 'pass'], ['IP54', 'IP55', 'pass'], ['IP54', 'IP45', 'fail'], ['IP54', 'IP53', 'fail'],
    ['IP65', 'IP67', 'fail'], ['IP66', 'IP68', 'fail'], ['IP64', 'IP67', 'pass'], ['IP67', 'IP68', 'pass'], ['IP67', 'IP66', 'fail'], ['IP65', 'IP66', 'pass'],
    ['IPX4', 'IP54', 'pass'], ['IP54', 'IPX4', 'unknown'], ['IP5X', 'IP5X', 'pass'], ['IP54', 'IP5X', 'unknown'], ['IP00', 'IPXX', 'pass'],
  ])('%s asked, %s given: %s', (asked, given, outcome) => expect(sealing(asked, given)).toBe(outcome));
  it('is unknown where the part is silent', () => expect(sealing('IP54')).toBe('unknown'));
});

describe('ambient', () => {
  const ambient = (min: number, max: number): string => checkAmbient(record({ system: { nominalV: 12, ambientC: { min: -20, max: 40 } } }), { ...bare, ambientC: { min, max } })!.outcome;
  it.each([[-20, 40, 'pass'], [-30, 85, 'pass'], [-19, 85, 'fail'], [-30, 39, 'fail']])('a part for %s to %s C: %s', (min, max, outcome) => expect(ambient(min, max)).toBe(outcome));
});

describe('stud', () => {
  const wire = (end?: Wire['end']): Wire => ({ tag: 'W1', wasOn: 'B', areaMm2: 16, ...(end && { end }) });
  const stud = (thread: string | undefined, end: Wire['end'], form: Terminal['form'] = 'stud') => {
    const part: Part = { ...bare, terminals: [{ id: 'B', form, ...(thread && { thread }) }] };
    const wires = [wire(end)];
    return checkStud(record({ wires }), part, planOf(wires, 'B'), new Notes());
  };
  const ring = (holeMm: number): Wire['end'] => ({ form: 'ring', holeMm });

  it.each([
    ['M8', 8.09, 'work'], ['M8', 8.1, 'pass'], ['M8', 8.4, 'pass'], ['M8', 9.5, 'pass'], ['M8', 9.51, 'work'],
    ['M6', 8.4, 'work'], ['5/16-18', 8, 'work'], ['5/16-18', 8.04, 'pass'], ['3/8-16', 9.6, 'work'], ['1/4-20', 6.5, 'pass'], ['#10-32', 5.3, 'pass'],
  ])('on %s a ring of %s mm: %s', (thread, holeMm, outcome) => expect(stud(thread, ring(holeMm))!.outcome).toBe(outcome));

  it('asks for a lug with the hole and the cable area it takes', () => {
    expect(stud('M8x1.25', ring(6.5))!.kit).toEqual([{ item: 'ring lug', qty: 1, detail: 'hole 8.4 mm for M8x1.25, wire W1, cable 16 mm2' }]);
  });

  it('buys no lug that its own rule would refuse', () => {
    for (const thread of ['M5', 'M6', 'M8', 'M10', 'M12', '#10-32', '1/4-20', '5/16-18', '3/8-16', '1/2-13']) {
      const holeMm = ringHoleFor(thread)!;
      expect(stud(thread, ring(holeMm))!.outcome).toBe('pass');
    }
  });

  it('is unknown without the end of the wire, or without the thread', () => {
    expect(stud('M8', undefined)!.outcome).toBe('unknown');
    expect(stud(undefined, ring(8.4))!.outcome).toBe('unknown');
  });

  it('looks at rings under screws too, and is left out where there is neither', () => {
    expect(stud('M5', ring(5.3), 'screw')!.outcome).toBe('pass');
    expect(stud('M5', ring(8.4), 'screw')!.outcome).toBe('work');
    expect(stud(undefined, { form: 'receptacle', tabWidthMm: 6.3 }, 'tab')).toBeNull();
  });

  it('is unknown of a part with studs where no wire is recorded', () => {
    expect(checkStud(record(), { ...bare, terminals: [{ id: 'B', form: 'stud', thread: 'M8' }] }, null, new Notes())!.outcome).toBe('unknown');
  });
});

describe('tab', () => {
  const tab = (tabWidthMm: number | undefined, end: Wire['end'], newEnd = false): string | undefined => {
    const wires: Wire[] = [{ tag: 'W3', wasOn: 'S', ...(end && { end }) }];
    const part: Part = { ...bare, terminals: [{ id: 'S', form: 'tab', ...(tabWidthMm !== undefined && { tabWidthMm }) }] };
    return checkTab(record({ wires }), part, planOf(wires, 'S', newEnd), new Notes())?.outcome;
  };
  const receptacle = (tabWidthMm: number): Wire['end'] => ({ form: 'receptacle', tabWidthMm });
  it('passes a receptacle of the tab\'s width only', () => {
    expect(tab(6.3, receptacle(6.3))).toBe('pass');
    expect(tab(6.3, receptacle(4.8), true)).toBe('work');
    expect(tab(4.8, receptacle(6.3), true)).toBe('work');
    expect(tab(6.3, receptacle(6.0))).toBe('pass');
    expect(tab(6.3, receptacle(5.9))).toBe('work');
  });
  it('is unknown without the width or the end', () => {
    expect(tab(undefined, receptacle(6.3))).toBe('unknown');
    expect(tab(6.3, undefined)).toBe('unknown');
  });
});

describe('a starter', () => {
  const old: StarterData = { rotation: 'ccw', pinionTeeth: 10, pinionModuleMm: 2.54, powerKw: 0.8, noseMm: 40 };
  const outcomes = (own: StarterData, removed: StarterData = old, partClass: Part['partClass'] = 'starter-motor'): Record<string, string> => {
    const [wanted, part, notes]: [BenchRecord, Part, Notes] = [record({ partClass: 'starter-motor', starter: removed }), { ...bare, partClass, starter: own }, new Notes()];
    const found = [
      refuseOtherThanStarter(part), checkStarterVoltage(wanted, part), checkRotation(wanted, part), checkPinion(wanted, part, notes), checkPower(wanted, part),
      checkNose(wanted, part, notes),
    ];
    return Object.fromEntries(found.flatMap((finding) => (finding ? [[finding.criterion, finding.outcome]] : [])));
  };
  const like: StarterData = { ...old, nominalV: 12 };

  it('matches in everything', () => {
    expect(outcomes(like)).toEqual({ voltage: 'pass', rotation: 'pass', pinion: 'pass', power: 'pass', nose: 'pass' });
  });

  it('must turn the same way, mesh, reach and suit the machine\'s voltage', () => {
    expect(outcomes({ ...like, rotation: 'cw' })['rotation']).toBe('fail');
    expect(outcomes({ ...like, pinionTeeth: 9 })['pinion']).toBe('fail');
    expect(outcomes({ ...like, pinionModuleMm: 2.5 })['pinion']).toBe('fail');
    expect(outcomes({ ...like, pinionModuleMm: 25.4 / 10 })['pinion']).toBe('pass');
    expect(outcomes({ ...like, nominalV: 24 })['voltage']).toBe('fail');
    expect(outcomes({ ...like, powerKw: 0.79 })['power']).toBe('fail');
    expect(outcomes({ ...like, powerKw: 0.9 })['power']).toBe('pass');
    expect(outcomes({ ...like, noseMm: 40.5 })['nose']).toBe('pass');
    expect(outcomes({ ...like, noseMm: 40.6 })['nose']).toBe('fail');
  });

  it('is compared with the machine\'s voltage, whatever the removed one says', () => {
    expect(outcomes(like, { ...old, nominalV: 24 })['voltage']).toBe('pass');
  });

  it('is unknown where either side is silent, and answers power and nose only where they are asked', () => {
    expect(outcomes({})).toEqual({ voltage: 'unknown', rotation: 'unknown', pinion: 'unknown', power: 'unknown', nose: 'unknown' });
    expect(outcomes(like, {})).toEqual({ voltage: 'pass', rotation: 'unknown', pinion: 'unknown' });
  });

  it('is not replaced by a relay', () => {
    expect(outcomes(like, old, 'start-relay')).toEqual({ rotation: 'fail' });
  });
});
