import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { BenchRecord, Catalogue, Fit, FitHistory, Part } from '../../../catalog-schema/index.ts';
import { settingOf } from '../settings.ts';
import { fit, type FitOptions } from './index.ts';
import { record, relay, whole } from './sample-bench.ts';

const only = (part: Part, rec = whole(), options: FitOptions = {}): Fit => fit(rec, [part], { all: true, ...options }).fits[0]!;
const of = (id: string, catalogue: Catalogue, rec = whole(), options: FitOptions = {}): Fit => fit(rec, catalogue, { all: true, ...options }).fits.find(({ partId }) => partId === id)!;
const asked = (inrushA: { value: number; plusMinus: number }): BenchRecord => whole({ inrushA });

describe('the probability that a part works', () => {
  it('is 1 where every check passes for sure, with or without work, and 0 where one fails', () => {
    expect(only(relay('p')).fitProbability).toBe(1);
    expect(only(relay('p', { terminals: relay('x').terminals.map((t) => (t.form === 'stud' ? { ...t, thread: 'M10' } : t)) })).fitProbability).toBe(1);
    expect(only(relay('p', {}, { nominalV: 24 })).fitProbability).toBe(0);
  });

  it('of a measured demand is that of its normal error, the half-width being two sigma', () => {
    // Standard normal table (Abramowitz and Stegun 26.1): 0.5, 0.841345, 0.977250, 0.158655
    for (const [rated, wanted] of [[200, 0.5], [210, 0.841345], [220, 0.97725], [190, 0.158655]] as const) {
      expect(only(relay('p', {}, {}, { inrushA: rated }), asked({ value: 200, plusMinus: 20 })).fitProbability).toBeCloseTo(wanted, 5);
    }
    expect(only(relay('p', {}, {}, { inrushA: 220 }), asked({ value: 200, plusMinus: 20 })).verdict).toBe('direct');
    expect(only(relay('p', {}, {}, { inrushA: 179 }), asked({ value: 200, plusMinus: 20 })).fitProbability).toBe(0);
  });

  it('of the pull-in is that of the measured resistance of the start circuit', () => {
    // Hot coil at 80 C: 4 x 1.2358 = 4.9432 Ohm, needs 7 x 1.2358 = 8.6506 V; at 11.4 V the path may have 4.9432 x (11.4 / 8.6506 - 1) = 1.5711 Ohm.
    const measured = (value: number): Fit => only(relay('p'), whole({ controlOhm: { value, plusMinus: 0.4 } }));
    expect(measured(1.5711).fitProbability).toBeCloseTo(0.5, 3);
    expect(measured(1.3711).fitProbability).toBeCloseTo(0.8413, 3);
    expect(measured(1.1).checks.find(({ criterion }) => criterion === 'pull-in')!.outcome).toBe('pass');
    expect(measured(2).fitProbability).toBe(0);
  });

  it('of the control current is that of the old coil as read', () => {
    const { controlFuseA: _fuse, ...demand } = whole().demand!;
    const read = (value: number): Fit => only(relay('p'), { ...whole(), demand, ohms: [{ between: ['S', 'R'], ohm: { value, plusMinus: 0.5 } }] });
    // 4 Ohm draws 1.25 times what 5 Ohm does: at 5 Ohm as read it is even.
    expect(read(5).fitProbability).toBeCloseTo(0.5, 6);
    expect(read(4.75).fitProbability).toBeCloseTo(0.841345, 5);
    expect(read(4.4).checks.find(({ criterion }) => criterion === 'coil-current')!.outcome).toBe('pass');
  });

  it('of bolts that a tape decides is the room against their error, at the odds of a pattern that near', () => {
    // The holes leave 0.3 mm about a 6 mm bolt; bolts 50.6 mm apart meet holes 50 mm apart with nothing to spare, each known to 0.4 mm.
    const taped = (apart: number): BenchRecord => whole({}, { mounting: {
      holes: [{ xMm: -apart / 2, yMm: -15, diameterMm: 6.6 }, { xMm: apart / 2, yMm: -15, diameterMm: 6.6 }], boltMm: 6, plusMinusMm: 0.4, panelGrounded: true,
    } });
    const odds = settingOf('nearPatternOdds');
    const withOdds = (p: number): number => (odds * p) / (1 - p + odds * p);
    expect(only(relay('p'), taped(50.6)).checks.find(({ criterion }) => criterion === 'mounting')!.outcome).toBe('unknown');
    expect(only(relay('p'), taped(50.6)).fitProbability).toBeCloseTo(withOdds(0.5), 3);
    // Half of 0.4 mm further apart is 0.2 mm less room at each bolt: one sigma.
    expect(only(relay('p'), taped(51)).fitProbability).toBeCloseTo(withOdds(0.158655), 3);
    expect(only(relay('p'), taped(50.2)).fitProbability).toBeCloseTo(withOdds(0.841345), 3);
    expect(only(relay('p'), taped(50)).fitProbability).toBeGreaterThan(withOdds(0.93));
  });

  it('of a value the part does not give is how often its relatives hold, and its class beside them: (held + 1) / (known + 2)', () => {
    const silent = relay('silent', { sealing: undefined });
    const rec = whole({ minSealing: 'IP65' });
    const others = [relay('a', { sealing: 'IP66' }), relay('b', { sealing: 'IP65' }), relay('c', { sealing: 'IP54' }), relay('d', { sealing: undefined })];
    // Of the class at large 2 of 3 hold, (2 + 1) / (3 + 2); with that as one part's worth, 2 of the 3 that fail nothing else: (2 + 0.6) / (3 + 1).
    // The three that say share bracket and body, and are as alike as a part can be that leaves its sealing unsaid.
    const [prior, alike, other] = [settingOf('kinPrior'), settingOf('kinUnknown'), settingOf('kinOther')];
    expect(of('silent', [silent, ...others], rec).fitProbability).toBeCloseTo((prior * 2.6 / 4 + 2 * alike) / (prior + 3 * alike), 6);
    // A plug-in relay says nothing of it; one for another voltage of the class at large, (2 + 1) / (4 + 2), and as a less likely relative.
    const strangers = [relay('x', { partClass: 'plug-in-relay', sealing: 'IP00' }), relay('y', { sealing: 'IP00' }, { nominalV: 24 })];
    expect(of('silent', [silent, ...others, ...strangers], rec).fitProbability).toBeCloseTo((prior * 2.5 / 4 + 2 * alike) / (prior + (3 + other) * alike), 6);
    expect(of('silent', [silent], rec).fitProbability).toBe(0.5);
    expect(of('silent', [silent, ...others, ...strangers], rec).verdict).toBe('unproven');
  });

  it('multiplies what is independent, and counts once what hangs on the same unknown', () => {
    const catalogue = [relay('two', { sealing: undefined }, { duty: undefined })];
    expect(of('two', catalogue, whole({ minSealing: 'IP65' })).fitProbability).toBe(0.25);
    const bare = only(relay('p'), { system: { nominalV: 12 }, partClass: 'start-relay', mounting: record().mounting! });
    expect(bare.checks.filter(({ outcome }) => outcome === 'unknown').map(({ criterion }) => criterion)).toEqual(['wiring', 'interlock', 'stud']);
    // Wiring and interlock hang on the wires with all else that is not recorded: the one part there is goes on the bolts, so it is taken for the removed one.
    expect(bare.fitProbability).toBeGreaterThan(0.9);
    expect(bare.fitProbability).toBeLessThan(settingOf('removedWiringAlike') * settingOf('endHolds') + 0.01);
  });

  it('is a number from 0 to 1 with six decimals, whatever is missing', () => {
    const maybe = <T>(value: T) => fc.option(fc.constant(value), { nil: undefined });
    const parts = fc.record({ sealing: maybe('IP54'), ambientC: maybe({ min: -20, max: 60 }), body: maybe({ lengthMm: 80, widthMm: 50, heightMm: 60 }), mounting: maybe(relay('x').mounting) });
    const coils = fc.record({ ohmAt20C: maybe(4), pullInV: maybe(7), duty: maybe({ type: 'continuous' as const }) });
    const demands = fc.record({ inrushA: maybe({ value: 300, plusMinus: 90 }), controlOhm: maybe({ value: 1.4, plusMinus: 0.3 }), minSealing: maybe('IP65'), from: maybe({ batteryCcaA: 300 }) });
    fc.assert(fc.property(parts, coils, demands, maybe('M8'), (part, coil, demand, number) => {
      const drop = <T extends object>(value: T): T => JSON.parse(JSON.stringify(value)) as T;
      const rec = drop(record({ demand, ...(number && { marked: { numbers: [number] } }), space: { lengthMm: 80, widthMm: 50, heightMm: 60 } }));
      const { fitProbability } = only(drop({ ...relay('p', { numbers: [{ issuer: 'Works', number: 'M-8' }] }, coil), ...part }) as Part, rec);
      expect(fitProbability).toBeGreaterThanOrEqual(0);
      expect(fitProbability).toBeLessThanOrEqual(1);
      expect(Math.round(fitProbability! * 1e6) / 1e6).toBe(fitProbability);
    }), { numRuns: 60, seed: 5 });
  });
});

describe('a marked number', () => {
  const number = (n: string) => [{ issuer: 'Works', number: n }];
  const doubtful = (id: string, more: Partial<Part> = {}): Part => relay(id, more, { duty: undefined });
  const marked = whole({}, { marked: { numbers: ['wk 100/a'] } });
  const own = 1 - 0.5 * (1 - settingOf('ownNumberTrust'));
  const claim = 1 - 0.5 * (1 - settingOf('claimTrust'));

  it('raises what is in doubt of the part that carries it, however it is written', () => {
    expect(of('p', [doubtful('p', { numbers: number('WK-100.A') }), doubtful('q')], marked).fitProbability).toBeCloseTo(own, 6);
    expect(of('q', [doubtful('p', { numbers: number('WK-100.A') }), doubtful('q')], marked).fitProbability).toBe(0.5);
    expect(of('p', [doubtful('p', { numbers: number('WK-0100.A') })], marked).fitProbability).toBe(0.5);
  });

  it('goes over to successors, near and far', () => {
    const catalogue = [doubtful('old', { numbers: number('WK100A'), supersededBy: ['mid'] }), doubtful('mid', { supersededBy: ['new'] }), doubtful('new')];
    expect(of('mid', catalogue, marked).fitProbability).toBeCloseTo(own, 6);
    expect(of('new', catalogue, marked).fitProbability).toBeCloseTo(own, 6);
  });

  it('is worth less as a claim of interchange, and so for one part of a kit', () => {
    expect(of('p', [doubtful('p', { replaces: number('WK100A') })], marked).fitProbability).toBeCloseTo(claim, 6);
    const kit = [doubtful('old', { numbers: number('WK100A'), supersededBy: ['a', 'b'] }), doubtful('a'), doubtful('b')];
    expect(of('a', kit, marked).fitProbability).toBeCloseTo(claim, 6);
    expect(claim).toBeLessThan(own);
  });

  it('overrides no check and turns no unknown into a pass', () => {
    const wrong = relay('wrong', { numbers: number('WK100A') }, { nominalV: 24 });
    expect(only(wrong, marked)).toMatchObject({ verdict: 'no', fitProbability: 0 });
    const found = only(doubtful('p', { numbers: number('WK100A') }), marked);
    expect(found.verdict).toBe('unproven');
    expect(found.checks.find(({ criterion }) => criterion === 'coil-duty')!.outcome).toBe('unknown');
  });

  it('of signs alone says nothing', () => {
    const answer = fit(whole({}, { marked: { numbers: ['--'] } }), [doubtful('p', { numbers: number('--') })]);
    expect(answer.fits[0]!.fitProbability).toBe(0.5);
    expect(answer.assumptions.join()).not.toMatch(/marked number/);
  });
});

describe('what the shop has learned', () => {
  const history = (rows: [string, string | undefined, number, number][]): FitHistory =>
    rows.map(([partId, machineKind, held, cameBack]) => ({ partId, held, cameBack, ...(machineKind !== undefined && { machineKind }) }));
  const k = settingOf('historyPrior');

  it('moves the probability as a Beta posterior: (k p + held) / (k + held + came back)', () => {
    const found = only(relay('p'), whole(), { history: history([['p', undefined, 3, 2], ['q', undefined, 0, 9]]) });
    expect(found.fitProbability).toBeCloseTo((k + 3) / (k + 5), 6);
    const doubt = only(relay('p', {}, { duty: undefined }), whole(), { history: history([['p', undefined, 8, 0]]) });
    expect(doubt.fitProbability).toBeCloseTo((k * 0.5 + 8) / (k + 8), 6);
    expect(doubt.verdict).toBe('unproven');
  });

  it('counts fittings on the same kind of machine in full and others at a share', () => {
    const rows = history([['p', 'quay sweeper', 4, 1], ['p', 'crane', 10, 0], ['p', undefined, 2, 0]]);
    const share = settingOf('otherKindShare');
    const found = only(relay('p'), whole(), { history: rows, machineKind: 'quay sweeper' });
    expect(found.fitProbability).toBeCloseTo((k + 4 + 12 * share) / (k + 5 + 12 * share), 6);
    expect(found.learned).toMatchObject({ held: 4, cameBack: 1, machineKind: 'quay sweeper' });
    expect(only(relay('p'), whole(), { history: rows }).learned).toMatchObject({ held: 16, cameBack: 1 });
    expect(only(relay('p'), whole(), { history: rows, machineKind: 'pump' }).learned).toEqual(expect.not.objectContaining({ machineKind: expect.anything() }));
  });

  it('shows the counts with their 95 % Wilson interval, and names it', () => {
    const answer = fit(whole(), [relay('p'), relay('q')], { history: history([['p', undefined, 45, 5]]) });
    expect(answer.fits.find(({ partId }) => partId === 'p')!.learned).toEqual({ held: 45, cameBack: 5, low: 0.786398, high: 0.956524 });
    expect(answer.fits.find(({ partId }) => partId === 'q')!.learned).toBeUndefined();
    expect(answer.assumptions.join()).toMatch(/Wilson/);
  });

  it('never makes a part that fails a check likely', () => {
    expect(only(relay('p', {}, { nominalV: 24 }), whole(), { history: history([['p', undefined, 99, 0]]) })).toMatchObject({ verdict: 'no', fitProbability: 0 });
  });

  it('says nothing where nothing was fitted', () => {
    expect(only(relay('p'), whole(), { history: history([['p', undefined, 0, 0]]) })).toMatchObject({ fitProbability: 1 });
    expect(only(relay('p'), whole(), { history: history([['p', undefined, 0, 0]]) }).learned).toBeUndefined();
  });
});
