import { describe, expect, it } from 'vitest';
import { FAULTS, type Observation, type ProveAnswer, type ProveCase } from '../../../catalog-schema/index.ts';
import { createState, CrankingCircuit } from './cranking-circuit.ts';
import { loadTestLimitV } from './fault-table.ts';
import { listHypotheses, type Hypothesis } from './hypotheses.ts';
import { DRAWS, MachineMaker, SEVERITY } from './machine.ts';
import { prove } from './prove.ts';

const ask = (seen: Observation[], system: Partial<ProveCase['system']> = {}, more: Partial<ProveCase> = {}): ProveAnswer => prove({ system: { nominalV: 12, ...system }, seen, ...more });
const on = (plus: string, minus: string, volts: number): Observation => ({ kind: 'volts', startSwitch: true, plus, minus, volts } as Observation);
const off = (plus: string, minus: string, volts: number): Observation => ({ kind: 'volts', startSwitch: false, plus, minus, volts } as Observation);
const shareOf = (answer: ProveAnswer, fault: string): number => answer.faults.find((one) => one.fault === fault)!.probability;

/** An ordinary 12 V machine with a fault of some severity, as the circuit settles it at START. */
function settle(way: Partial<Hypothesis> & Pick<Hypothesis, 'fault'>, severity = 0) {
  const circuit = new CrankingCircuit();
  const z = new Float64Array(DRAWS);
  z[SEVERITY] = severity;
  const hypothesis = { share: 1, ...way };
  circuit.lay(new MachineMaker({ nominalV: 12, batteryCcaA: 230 }).make(z, hypothesis), hypothesis);
  return circuit.settle('on', createState());
}

describe('what is heard and seen follows from the circuit', () => {
  it('an ordinary machine without a fault pulls in and cranks', () => {
    expect(settle({ fault: 'none' })).toMatchObject({ relay: 'in', motion: 'normal' });
  });

  it('a weak battery makes the relay chatter: its own inrush takes the coil its volts, and no rule says so', () => {
    expect(settle({ fault: 'battery-weak' }, 2)).toMatchObject({ relay: 'chatters' });
    expect(settle({ fault: 'battery-connection', place: 'plus-post' }, 1)).toMatchObject({ relay: 'chatters' });
  });

  it('burnt contacts give one click and nothing more', () => {
    expect(settle({ fault: 'relay-contacts', place: 'contact', open: true })).toMatchObject({ relay: 'in', motion: 'dead' });
  });

  it.each([['relay-coil-open', 'coil'], ['coil-feed', 'feed'], ['coil-return', 'return']] as const)('%s gives silence', (fault, place) => {
    expect(settle({ fault, place, open: true })).toMatchObject({ relay: 'out', motion: 'dead' });
  });

  it('a locked engine and a dragging starter stand and take current; a slipping drive spins', () => {
    expect(settle({ fault: 'engine-locked' }).motion).toBe('stalled');
    expect(settle({ fault: 'starter-dragging' }, 1).motion).toBe('stalled');
    expect(settle({ fault: 'starter-drive' }).motion).toBe('spinning');
  });
});

describe('a proof', () => {
  const manySounds: Observation[] = [{ kind: 'sound', heard: 'rapid-clicks' }, { kind: 'sound', heard: 'rapid-clicks' }, { kind: 'sound', heard: 'rapid-clicks' }, { kind: 'crank', seen: 'nothing' }];

  it('never comes from sounds and from not cranking or cranking slowly alone', () => {
    for (const heard of ['nothing', 'one-click', 'rapid-clicks', 'hum', 'grinding'] as const) {
      expect(ask([...manySounds.slice(3), ...Array.from({ length: 6 }, () => ({ kind: 'sound', heard }) as const)], {}, { threshold: 0.5 }).proven).toBeNull();
    }
    expect(ask([...manySounds, { kind: 'crank', seen: 'slow' }], {}, { threshold: 0.5 }).proven).toBeNull();
  });

  it('is "none" when cranking was seen to be normal', () => {
    expect(ask([{ kind: 'crank', seen: 'normal' }])).toMatchObject({ proven: 'none', orderable: null });
  });

  // common practice, no source: the four customary checks
  it('has the relay contacts when it clicks, cranks with the studs bridged and has good volts at the coil', () => {
    const answer = ask([{ kind: 'sound', heard: 'one-click' }, on('coil-feed', 'coil-return', 11.9), { kind: 'bridge-studs', seen: 'normal' }]);
    expect(answer).toMatchObject({ proven: 'relay-contacts', orderable: 'start-relay' });
  });

  it('clears the relay when it does not crank with the studs bridged', () => {
    const answer = ask([{ kind: 'sound', heard: 'one-click' }, on('coil-feed', 'coil-return', 11.9), { kind: 'bridge-studs', seen: 'nothing' }]);
    expect(answer.proven).not.toBe('relay-contacts');
    expect(shareOf(answer, 'relay-contacts')).toBeLessThan(0.05);
  });

  it('does not clear the relay for want of a click', () => {
    const answer = ask([{ kind: 'sound', heard: 'nothing' }, { kind: 'crank', seen: 'nothing' }]);
    expect(answer.cleared).not.toContain('relay-coil-open');
    expect(shareOf(answer, 'relay-coil-open')).toBeGreaterThan(0.05);
  });

  it('finds the dirty post behind a click and no start', () => {
    const answer = ask([{ kind: 'sound', heard: 'one-click' }, { kind: 'crank', seen: 'nothing' }, on('battery+', 'battery-', 12.3), on('battery+', 'battery+clamp', 7.4)], { batteryCcaA: 230 });
    expect(answer).toMatchObject({ proven: 'battery-connection', orderable: null });
  });

  it('is kept from a reading that no single fault explains, and says which', () => {
    const answer = ask([on('battery+', 'battery-', 12.5), on('relay-battery-stud', 'relay-starter-stud', 12.4), on('starter-stud', 'starter-case', 10.2)]);
    expect(answer.proven).toBeNull();
    expect(answer.conflicts.flatMap(({ paths }) => paths).length).toBeGreaterThan(0);
  });

  it('tells a locked engine from a dragging starter by turning the engine by hand, and by nothing else', () => {
    const standing = [{ kind: 'sound', heard: 'one-click' }, { kind: 'crank', seen: 'nothing' }, on('battery+', 'battery-', 9.4), on('starter-stud', 'starter-case', 8.2), { kind: 'amps', startSwitch: true, amps: 270 }, off('battery+', 'battery-', 12.7), { kind: 'crank', startSwitch: false, seen: 'nothing' }] as Observation[];
    const before = ask(standing, { batteryCcaA: 230 });
    expect(before.proven).toBeNull();
    expect(before.nextTest[0]!.ask).toEqual({ kind: 'turn-by-hand' });
    expect(ask([...standing, { kind: 'turn-by-hand', seen: 'free' }], { batteryCcaA: 230 })).toMatchObject({ proven: 'starter-dragging', orderable: 'starter' });
    const locked = ask([...standing, { kind: 'turn-by-hand', seen: 'locked' }], { batteryCcaA: 230 });
    expect(locked).toMatchObject({ proven: 'engine-locked', orderable: null });
    expect(locked.cleared).toEqual(expect.arrayContaining(['starter-open', 'starter-dragging', 'starter-drive']));
  });

  it('pays for a battery only after it failed a load test; before, that test is proposed', () => {
    const weak = [{ kind: 'sound', heard: 'rapid-clicks' }, off('battery+', 'battery-', 11.8), on('battery+', 'battery-', 7)] as Observation[];
    const before = ask(weak, { batteryCcaA: 230, ambientC: 21 });
    expect(before).toMatchObject({ proven: 'battery-weak', orderable: null, nextTest: [{ ask: { kind: 'battery-load' } }] });
    const load = (volts: number): Observation => ({ kind: 'battery-load', ratioOfCca: 0.5, seconds: 15, volts: { value: volts, plusMinus: 0.05 } });
    expect(ask([...weak, load(7.2)], { batteryCcaA: 230, ambientC: 21 })).toMatchObject({ proven: 'battery-weak', orderable: 'battery' });
  });
});

describe('the next test', () => {
  it('bridges the studs only after every meter reading that tells something', () => {
    const { nextTest } = ask([{ kind: 'sound', heard: 'one-click' }, { kind: 'crank', seen: 'nothing' }]);
    const risks = nextTest.map(({ risk }) => risk);
    expect(risks.indexOf('high')).toBe(risks.length - 1);
  });

  it('leaves out what there is no instrument for', () => {
    const { nextTest } = ask([{ kind: 'crank', seen: 'nothing' }], {}, { instruments: ['meter'] });
    expect(nextTest.map(({ ask: { kind } }) => kind)).not.toContain('amps');
    const bare = ask([{ kind: 'sound', heard: 'one-click' }, { kind: 'crank', seen: 'nothing' }], {}, { instruments: [] });
    expect(bare.nextTest.some(({ ask: { kind } }) => kind === 'volts')).toBe(false);
    expect(bare.nextTest.some(({ ask: { kind } }) => kind === 'bridge-studs')).toBe(true);
  });
});

describe('shares', () => {
  it('add up to one, before and after evidence', () => {
    for (const seen of [[], [{ kind: 'sound', heard: 'hum' }], [on('battery+', 'battery-', 10)]] as Observation[][]) {
      expect(ask(seen).faults.reduce((sum, { probability }) => sum + Math.round(probability * 1e6), 0)).toBe(1_000_000);
    }
    expect(listHypotheses().reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
  });

  it('may be the shop\'s own', () => {
    const answer = prove({ system: { nominalV: 12 }, seen: [] }, { shares: { 'starter-drive': 5 } });
    expect(answer.faults[0]!.fault).toBe('starter-drive');
  });

  it('name every fault once, most likely first', () => {
    const { faults } = ask([{ kind: 'sound', heard: 'one-click' }]);
    expect(faults.map(({ fault }) => fault).toSorted()).toEqual([...FAULTS].toSorted());
    expect(faults.map(({ probability }) => probability)).toEqual(faults.map(({ probability }) => probability).toSorted((a, b) => b - a));
  });
});

describe('a load test', () => {
  // customary table of the battery industry for half the CCA and 15 s, as the reference data has it
  it.each([[21.1, 9.6], [10, 9.4], [-17.8, 8.5], [30, 9.6], [-30, 8.5], [12.8, 9.45]])('at %s C fails below %s V', (celsius, volts) => {
    expect(loadTestLimitV(celsius, 0.5, 12)).toBeCloseTo(volts, 2);
    expect(loadTestLimitV(celsius, 0.5, 24)).toBeCloseTo(2 * volts, 2);
  });
});
