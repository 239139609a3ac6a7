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

  it('a dirty post gives a click and no start, or a rattle where it is worse', () => {
    const heard = [-1.5, -1, -0.5, 0, 0.5, 1].map((severity) => settle({ fault: 'battery-connection', place: 'plus-post' }, severity));
    expect(heard.every(({ relay }) => relay !== 'out')).toBe(true);
    expect(heard.filter(({ motion }) => motion !== 'normal').length).toBeGreaterThanOrEqual(4);
    expect(heard.some(({ relay, motion }) => relay === 'in' && (motion === 'stalled' || motion === 'slow'))).toBe(true);
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
  const said: Observation[] = [
    ...[true, false].flatMap((startSwitch) => (['nothing', 'one-click', 'rapid-clicks', 'hum', 'grinding'] as const).map((heard): Observation => ({ kind: 'sound', startSwitch, heard }))),
    ...[true, false].flatMap((startSwitch) => (['nothing', 'slow'] as const).map((seen): Observation => ({ kind: 'crank', startSwitch, seen }))),
  ];

  it('never comes from sounds and from not cranking or cranking slowly: alone, in pairs, many times over, or all together', () => {
    const systems = [{ nominalV: 12 }, { nominalV: 6 }, { nominalV: 24, batteryCcaA: 120, ambientC: -15 }];
    said.forEach((one, i) => {
      expect(ask([one, one, one, one], systems[i % 3], { threshold: 0.5 }).proven).toBeNull();
      said.slice(i + 1).forEach((other, k) => {
        expect(ask([one, other], systems[(i + k) % 3], { threshold: 0.5 }).proven, `${JSON.stringify(one)} ${JSON.stringify(other)}`).toBeNull();
      });
    });
    expect(ask(said, {}, { threshold: 0.5 }).proven).toBeNull();
  });

  it('is "none" when cranking was seen to be normal', () => {
    expect(ask([{ kind: 'crank', seen: 'normal' }])).toMatchObject({ proven: 'none', orderable: null });
  });

  it('that nothing is wrong comes from nothing but seeing it crank', () => {
    const good: Observation[] = [on('battery+', 'battery-', 11.9), on('starter-stud', 'starter-case', 11.2), { kind: 'amps', startSwitch: true, amps: 85 }, { kind: 'crank', startSwitch: false, seen: 'nothing' }];
    expect(ask(good, { batteryCcaA: 230 }, { threshold: 0.5 }).proven).toBeNull();
    expect(ask([...good, { kind: 'crank', seen: 'normal' }], { batteryCcaA: 230 }).proven).toBe('none');
  });

  it('is not made of a coil\'s feed while post and cable may pass too little for it', () => {
    const answer = ask([{ kind: 'crank', seen: 'nothing' }, { kind: 'sound', heard: 'nothing' }, on('coil-feed', 'chassis', 6.81), on('battery+', 'battery-', 12.74)]);
    expect(answer.proven).toBeNull();
    expect(answer.faults.slice(0, 2).map(({ fault }) => fault)).toEqual(['coil-feed', 'battery-connection']);
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

  it('is not made against another fault by a sound alone where the readings are the same', () => {
    // Post or cable: the fall lies between the post and the relay's stud, and only what keeps the relay in differs.
    const answer = ask([{ kind: 'sound', heard: 'one-click' }, { kind: 'crank', seen: 'nothing' }, on('battery+', 'starter-stud', 9.95), on('relay-battery-stud', 'relay-starter-stud', 0.05), on('battery+', 'relay-battery-stud', 9.85)]);
    expect(answer.proven).toBeNull();
    expect(answer.faults.slice(0, 2).map(({ fault }) => fault).toSorted()).toEqual(['battery-cable', 'battery-connection']);
    const settling = answer.nextTest.slice(0, 3).map(({ ask: asked }) => JSON.stringify(asked));
    expect(settling.some((asked) => asked.includes('battery+clamp'))).toBe(true);
  });

  it('of a dead battery comes from its volts at rest, however few they are', () => {
    for (const volts of [2.1, 6.3, 10.4]) expect(ask([{ kind: 'sound', heard: 'nothing' }, { kind: 'crank', seen: 'nothing' }, off('battery+', 'battery-', volts)]).faults[0]!.fault).toBe('battery-weak');
  });

  it('is the same whichever probe was where, and in whatever order things were seen', () => {
    const seen: Observation[] = [{ kind: 'sound', heard: 'nothing' }, on('coil-feed', 'chassis', 12.5), on('coil-return', 'chassis', 12.5)];
    const turned: Observation[] = [on('chassis', 'coil-return', -12.5), { kind: 'sound', heard: 'nothing' }, on('chassis', 'coil-feed', -12.5)];
    expect(ask(seen)).toMatchObject({ proven: 'coil-return', orderable: null });
    expect(ask(turned).proven).toBe('coil-return');
  });

  it('is of a stuck relay when the engine cranks with the switch off', () => {
    expect(ask([{ kind: 'crank', startSwitch: false, seen: 'normal' }, off('relay-starter-stud', 'chassis', 11)])).toMatchObject({ proven: 'relay-stuck-closed', orderable: 'start-relay' });
  });

  it.each([[6, 1], [12, 2], [24, 4]])('comes alike on %i V', (nominalV, scale) => {
    const half = scale / 2;
    expect(ask([{ kind: 'sound', heard: 'one-click' }, on('relay-battery-stud', 'relay-starter-stud', 12.5 * half), on('coil-feed', 'coil-return', 12 * half)], { nominalV }).proven).toBe('relay-contacts');
    expect(ask([{ kind: 'crank', seen: 'slow' }, off('battery+', 'battery-', 11.5 * half), on('battery+', 'battery-', 6 * half)], { nominalV }).proven).toBe('battery-weak');
  });

  it('names what it hangs on, most first', () => {
    const { carriedBy } = ask([{ kind: 'crank', seen: 'nothing' }, { kind: 'sound', heard: 'one-click' }, on('coil-feed', 'coil-return', 11.9), { kind: 'bridge-studs', seen: 'normal' }]);
    expect(carriedBy[0]!.path).toBe('seen[3]');
    expect(carriedBy[0]!.why).toMatch(/^studs bridged: normal: without it relay-contacts would be \d+ % probable, with it 9\d/);
    expect(ask([{ kind: 'sound', heard: 'one-click' }]).carriedBy).toEqual([]);
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
  it('takes again what quarrels with the rest before anything else', () => {
    const { conflicts, nextTest } = ask([off('battery+', 'battery-', -12.6), { kind: 'crank', seen: 'nothing' }]);
    expect(conflicts[0]!.paths).toEqual(['seen[0]']);
    expect(nextTest[0]).toMatchObject({ ask: { kind: 'volts', startSwitch: false, plus: 'battery+', minus: 'battery-' } });
    expect(nextTest[0]!.test).toMatch(/^Once more: /);
  });

  it('has its steps, its cautions and what each result would mean', () => {
    const { nextTest } = ask([{ kind: 'sound', heard: 'one-click' }, { kind: 'crank', seen: 'nothing' }]);
    for (const { how, outcomes, cautions, ask: asked } of nextTest) {
      expect(how.length).toBeGreaterThanOrEqual(2);
      expect(outcomes.length).toBeGreaterThanOrEqual(1);
      const sum = outcomes.reduce((all, { chance }) => all + chance, 0);
      expect(sum).toBeGreaterThan(0.9);
      expect(sum).toBeLessThan(1.001);
      for (const { leaves } of outcomes) expect(leaves[0]!.probability).toBeGreaterThan(0);
      if ('startSwitch' in asked && asked.startSwitch) expect(cautions.join()).toMatch(/Before START is held/);
    }
    expect(nextTest.find(({ ask: { kind } }) => kind === 'bridge-studs')!.cautions.join()).toMatch(/bypasses every interlock/);
    const across = nextTest.find(({ ask: asked }) => asked.kind === 'volts' && asked.plus === 'relay-battery-stud' && asked.minus === 'relay-starter-stud')!;
    // Full volts across the studs: the contact does not close.
    expect(across.outcomes.at(-1)).toMatchObject({ reads: expect.stringMatching(/^above /), leaves: [{ fault: 'relay-contacts' }, {}, {}] });
  });

  it('says of the checks that benches customarily make that they have no source', () => {
    const { nextTest } = ask([]);
    for (const kind of ['sound', 'turn-by-hand', 'battery-load', 'bridge-studs']) {
      const found = nextTest.filter(({ ask: asked }) => asked.kind === kind);
      for (const { practice } of found) expect(practice).toBe('common practice, no source');
    }
    expect(nextTest.some(({ practice }) => practice === null)).toBe(true);
  });

  it('turns an engine once more that was stiff, and no third time', () => {
    const standing: Observation[] = [{ kind: 'crank', seen: 'nothing' }, on('battery+', 'battery-', 9.4), on('starter-stud', 'starter-case', 8.2), { kind: 'turn-by-hand', seen: 'stiff' }];
    const asks = (seen: Observation[]): boolean => ask(seen, { batteryCcaA: 230 }).nextTest.some(({ ask: { kind } }) => kind === 'turn-by-hand');
    expect(asks(standing)).toBe(true);
    expect(asks([...standing, { kind: 'turn-by-hand', seen: 'stiff' }])).toBe(false);
  });

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
