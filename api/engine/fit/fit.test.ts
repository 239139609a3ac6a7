import { describe, expect, it } from 'vitest';
import { fitAnswer, type BenchRecord, type Catalogue, type CircuitElement, type CoilElement, type Fit, type Part, type Wire } from '../../../catalog-schema/index.ts';
import { fit } from './index.ts';
import { settingOf } from '../settings.ts';
import { record, relay, whole } from './sample-bench.ts';

const withoutInterlocks = (wires: Wire[]): Wire[] => wires.map((wire) => (wire.leadsTo === 'interlocked-return' ? { ...wire, leadsTo: 'chassis' } : wire));
const only = (rec: BenchRecord, part: Part): Fit => fit(rec, [part], { all: true }).fits[0]!;
const outcomeOf = (rec: BenchRecord, part: Part, criterion: string): string | undefined => only(rec, part).checks.find((check) => check.criterion === criterion)?.outcome;
const criteriaOf = (rec: BenchRecord, part: Part): string[] => only(rec, part).checks.map(({ criterion }) => criterion).toSorted();

/** The same relay with its coil to the case. */
function caseReturn(id: string, more: Partial<Part> = {}): Part {
  const part = relay(id, more);
  return { ...part, terminals: part.terminals.slice(0, 3), circuit: [{ ...(part.circuit[0] as CoilElement), between: ['S', 'case'] }, part.circuit[1]!] };
}

describe('the verdict', () => {
  it('is direct where everything goes back as it was', () => {
    const { verdict, checks, rewire, placement, kit, fitProbability, expectedCost } = only(whole(), relay('same'));
    expect(checks.filter(({ outcome }) => outcome !== 'pass')).toEqual([]);
    expect({ verdict, kit, fitProbability, expectedCost }).toEqual({ verdict: 'direct', kit: [], fitProbability: 1, expectedCost: null });
    expect(rewire!.changes).toBe(0);
    expect(placement).toEqual({ rotationDeg: 0, flipped: false, shiftMm: [0, 0], newHoles: [] });
  });

  it('is adapt with work, unproven with something unknown, no with a failure, in that precedence', () => {
    const stud = { terminals: relay('x').terminals.map((t) => (t.form === 'stud' ? { ...t, thread: 'M6' } : t)) };
    expect(only(record(), relay('work', stud)).verdict).toBe('adapt');
    expect(only(record(), relay('unknown', stud, { duty: undefined })).verdict).toBe('unproven');
    expect(only(record(), relay('fail', stud, { duty: undefined, nominalV: 24 })).verdict).toBe('no');
  });

  it('marks the criteria whose failure can hurt somebody', () => {
    const safe = only(record({ space: { lengthMm: 99, widthMm: 99, heightMm: 99 } }), relay('same')).checks;
    expect(safe.filter(({ safety }) => safety).map(({ criterion }) => criterion).toSorted()).toEqual(['coil-duty', 'coil-voltage', 'interlock', 'wiring']);
  });
});

describe('what is demanded', () => {
  const bare: BenchRecord = { system: { nominalV: 12 } };
  it('of a relay, always: voltage, form, wiring, interlock, duty, mounting, and studs where it has them', () => {
    const always = ['coil-duty', 'coil-voltage', 'contact-form', 'interlock', 'mounting', 'stud', 'wiring'];
    expect(criteriaOf(bare, relay('r'))).toEqual(always);
    expect(criteriaOf(bare, relay('c', { partClass: 'contactor' }))).toEqual(always);
    const tabs = relay('p', { partClass: 'plug-in-relay', terminals: relay('x').terminals.map(({ id }) => ({ id, form: 'tab' as const })) });
    expect(criteriaOf(bare, tabs)).toEqual(always.filter((criterion) => criterion !== 'stud'));
  });

  it('of a starter, always: voltage, rotation, pinion, mounting, stud; wiring and interlock when it carries a coil', () => {
    const starter: Part = { id: 's', partClass: 'starter-motor', title: 's', terminals: [{ id: 'B', form: 'stud' }], circuit: [{ kind: 'motor', between: ['B', 'case'] }] };
    const wanted: BenchRecord = { partClass: 'starter-motor', system: { nominalV: 12 } };
    expect(criteriaOf(wanted, starter)).toEqual(['mounting', 'pinion', 'rotation', 'stud', 'voltage']);
    const withCoil: Part = { ...relay('x', { partClass: 'starter-motor' }), circuit: [...relay('x').circuit, { kind: 'motor', between: ['M', 'case'] }] };
    expect(criteriaOf(wanted, withCoil)).toEqual(['interlock', 'mounting', 'pinion', 'rotation', 'stud', 'voltage', 'wiring']);
  });

  it('more only where the record asks for it', () => {
    const asked = record({
      system: { nominalV: 12, interlocks: 'in-return', ambientC: { min: -20, max: 40 }, lowestRestingV: 12 },
      space: { lengthMm: 99, widthMm: 99, heightMm: 99 },
      demand: { inrushA: 100, continuousA: 10, controlFuseA: 15, minSealing: 'IP54' },
    });
    expect(criteriaOf(asked, relay('r'))).toEqual(expect.arrayContaining(['ambient', 'coil-current', 'contact-continuous', 'contact-inrush', 'pull-in', 'sealing', 'space', 'tab']));
    expect(criteriaOf(record(), relay('c', { partClass: 'contactor' }))).toContain('contact-inrush');
  });

  it('polarity, where the part has a diode', () => {
    const diode: CircuitElement = { kind: 'diode', from: 'R', to: 'S' };
    const part = relay('d');
    expect(outcomeOf(record(), part, 'polarity')).toBeUndefined();
    expect(outcomeOf(record(), { ...part, circuit: [...part.circuit, diode] }, 'polarity')).toBe('pass');
  });
});

describe('the traps', () => {
  it('small terminals that look alike: a return wire on a cranking feed is not offered', () => {
    const feed = caseReturn('feed');
    const part: Part = {
      ...feed, terminals: [...feed.terminals, { id: 'I', form: 'tab', tabWidthMm: 6.3, at: { xMm: 10, yMm: 0 } }],
      circuit: [...feed.circuit, { kind: 'contact', id: 'i', between: ['B', 'I'], form: 'NO', coils: ['k'] }],
    };
    const grounded = record({ system: { nominalV: 12, interlocks: 'none' }, wires: withoutInterlocks(record().wires!) });
    const found = only(grounded, part);
    expect(found.rewire?.wires.find(({ tag }) => tag === 'W4')?.to).not.toBe('I');
    expect(found.checks.find(({ criterion }) => criterion === 'wiring')!.why).toMatch(/short/i);
    expect(only(grounded, relay('safe')).verdict).toBe('direct');
  });

  it('a return that is a safety device: a coil on the case is refused, and goes on where nothing is interlocked', () => {
    expect(outcomeOf(record(), caseReturn('c'), 'interlock')).toBe('fail');
    expect(only(record(), caseReturn('c')).verdict).toBe('no');
    const free = record({ system: { nominalV: 12, interlocks: 'none' }, wires: withoutInterlocks(record().wires!) });
    expect(['direct', 'adapt']).toContain(only(free, caseReturn('c')).verdict);
  });

  it('duty: an intermittent coil in continuous use, and a continuous one', () => {
    const used = record({ demand: { continuousUse: true } });
    expect(only(used, relay('i')).verdict).toBe('no');
    expect(only(used, relay('c', {}, { duty: { type: 'continuous' } })).verdict).toBe('direct');
  });

  it('duty: a contactor rated too low for the inrush, and one that is not', () => {
    const asked = record({ demand: { inrushA: { value: 200, plusMinus: 10 } } });
    expect(only(asked, relay('c', { partClass: 'contactor' }, {}, { inrushA: 150 })).verdict).toBe('no');
    expect(only(asked, relay('c', { partClass: 'contactor' }, {}, { inrushA: 250 })).verdict).toBe('direct');
  });

  it.each([6, 24, 36, 48])('voltage: a %s V unit in the same housing', (nominalV) => {
    expect(only(record(), relay('v', {}, { nominalV })).verdict).toBe('no');
  });

  it('stud size: bigger studs ask for new lugs, hole and cable area named', () => {
    const bigger = relay('b', { terminals: relay('x').terminals.map((t) => (t.form === 'stud' ? { ...t, thread: 'M10x1.5' } : t)) });
    const found = only(record(), bigger);
    expect(found.verdict).toBe('adapt');
    expect(found.kit).toEqual([
      { item: 'ring lug', qty: 1, detail: 'hole 10.5 mm for M10x1.5, wire W1, cable 16 mm2' }, { item: 'ring lug', qty: 1, detail: 'hole 10.5 mm for M10x1.5, wire W2, cable 16 mm2' },
    ]);
  });

  it('tab width: 4.8 mm tabs ask for new receptacles', () => {
    const narrow = relay('n', { terminals: relay('x').terminals.map((t) => (t.form === 'tab' ? { ...t, tabWidthMm: 4.8 } : t)) });
    const found = only(record(), narrow);
    expect(found.verdict).toBe('adapt');
    expect(found.checks.find(({ criterion }) => criterion === 'tab')!.outcome).toBe('work');
    expect(found.kit.map(({ item }) => item)).toEqual(['receptacle', 'receptacle']);
    expect(found.kit[0]!.detail).toMatch(/4\.8 mm, wire W3, cable 1\.5 mm2/);
  });

  it('bracket: a like spacing on another pattern is no fit, slots that reach are', () => {
    const three = record({ mounting: { ...record().mounting!, holes: [...record().mounting!.holes, { xMm: 0, yMm: 20, diameterMm: 6.6 }] } });
    const holes = (y: number): Part['mounting'] => ({ ...relay('x').mounting!, holes: [...relay('x').mounting!.holes, { xMm: 0, yMm: y, diameterMm: 6.6 }] });
    expect(only(three, relay('p', { mounting: holes(10) })).verdict).toBe('no');
    expect(only(three, relay('p', { mounting: holes(20) })).verdict).toBe('direct');
    const slots = relay('s', { mounting: { ...relay('x').mounting!, holes: [-20, 20].map((xMm) => ({ xMm, yMm: -15, diameterMm: 6.6, slotMm: 12, slotAngleDeg: 0 })) } });
    expect(only(record(), slots).verdict).toBe('direct');
  });

  it('bracket: as the return of the coil on a panel that is not grounded', () => {
    const base = record({ system: { nominalV: 12, interlocks: 'none' }, wires: withoutInterlocks(record().wires!) });
    const wires = base.wires!.slice(0, 3);
    const on = (panelGrounded: boolean | undefined): Fit => only({ ...base, wires, mounting: { ...base.mounting!, panelGrounded } }, caseReturn('c'));
    expect(on(true).checks.find(({ criterion }) => criterion === 'wiring')!.outcome).toBe('pass');
    const plastic = on(false);
    expect(plastic.checks.find(({ criterion }) => criterion === 'wiring')!.outcome).toBe('work');
    expect(plastic.kit.map(({ item }) => item)).toEqual(['jumper lead']);
  });

  it('polarity: a diode keeps its plus, by a swap where needed', () => {
    const part = relay('d');
    const diode = (from: string, to: string): Part => ({ ...part, circuit: [...part.circuit, { kind: 'diode', from, to }] });
    expect(only(record(), diode('R', 'S')).verdict).toBe('direct');
    const swapped = only(record(), diode('S', 'R'));
    expect(swapped.checks.filter(({ criterion }) => criterion === 'wiring' || criterion === 'polarity').map(({ outcome }) => outcome)).toEqual(['work', 'pass']);
    expect(swapped.rewire!.wires.find(({ tag }) => tag === 'W3')!.to).toBe('R');
  });

  it('a starter with its own solenoid is wired without a starter wire: the motor is inside', () => {
    const solenoid: Part = {
      id: 's', partClass: 'starter-motor', title: 's', inside: ['m'],
      terminals: [{ id: '30', form: 'stud', thread: 'M8', at: { xMm: 0, yMm: 30 } }, { id: '50', form: 'tab', tabWidthMm: 6.3, at: { xMm: -15, yMm: 25 } }],
      circuit: [
        { kind: 'coil', id: 'pull', between: ['50', 'm'], nominalV: 12, ohmAt20C: 0.36, pullInV: 7.4, dropOutV: 2.4 },
        { kind: 'coil', id: 'hold', between: ['50', 'case'], nominalV: 12, ohmAt20C: 1.15, pullInV: 7.4, dropOutV: 2.4 },
        { kind: 'contact', id: 'main', between: ['30', 'm'], form: 'NO', coils: ['pull', 'hold'], inrushA: 500 }, { kind: 'motor', between: ['m', 'case'], ohm: 0.03 },
      ],
      mounting: { ...relay('x').mounting!, conductive: true }, starter: { nominalV: 12, rotation: 'cw', pinionTeeth: 9, pinionModuleMm: 2.117 },
    };
    const wanted: BenchRecord = {
      partClass: 'starter-motor', system: { nominalV: 12, interlocks: 'in-feed' }, mounting: record().mounting,
      terminals: solenoid.terminals.map(({ id, form, at }) => ({ id, form, at })), starter: { rotation: 'cw', pinionTeeth: 9, pinionModuleMm: 2.117 }, demand: { controlFuseA: 40 },
      wires: [
        { tag: '30', wasOn: '30', end: { form: 'ring', holeMm: 8.4 }, leadsTo: 'battery' }, { tag: '50', wasOn: '50', end: { form: 'receptacle', tabWidthMm: 6.3 }, leadsTo: 'start-switch' },
      ],
    };
    const found = only(wanted, solenoid);
    expect(found.checks.filter(({ outcome }) => outcome !== 'pass')).toEqual([]);
    expect(found.rewire!.wires.map(({ tag, to }) => `${tag} ${to}`)).toEqual(['30 30', '50 50']);
    expect(found.rewire!.bareTerminals).toEqual([]);
    expect(only({ ...wanted, mounting: { ...wanted.mounting!, panelGrounded: false } }, solenoid).checks.find(({ criterion }) => criterion === 'wiring')!.outcome).not.toBe('pass');
  });

  it('starters turn two ways', () => {
    const starter = (rotation: 'cw' | 'ccw'): Part => ({
      id: 's', partClass: 'starter-motor', title: 's', terminals: [{ id: 'B', form: 'stud', thread: 'M8' }], circuit: [{ kind: 'motor', between: ['B', 'case'] }],
      mounting: relay('x').mounting, starter: { nominalV: 12, rotation, pinionTeeth: 10, pinionModuleMm: 2.5 },
    });
    const wanted: BenchRecord = {
      partClass: 'starter-motor', system: { nominalV: 12 }, mounting: record().mounting, starter: { rotation: 'ccw', pinionTeeth: 10, pinionModuleMm: 2.5 },
      wires: [{ tag: 'W1', wasOn: 'B', end: { form: 'ring', holeMm: 8.4 }, leadsTo: 'starter' }],
    };
    expect(only(wanted, starter('cw')).verdict).toBe('no');
    expect(only(wanted, starter('ccw')).verdict).toBe('direct');
  });

  it('lower coil ohms: more current than fuse or contact bear', () => {
    const weak = record({ system: { ...record().system, highestV: 15 }, demand: { controlRatingA: 5 } });
    expect(only(weak, relay('low', {}, { ohmAt20C: 2 })).verdict).toBe('no');
    expect(only(weak, relay('ok', {}, { ohmAt20C: 4 })).verdict).toBe('direct');
  });
});

describe('the order', () => {
  it('is by verdict, least work, id; a superseded part comes after its successors', () => {
    const m6 = relay('x').terminals.map((t) => (t.form === 'stud' ? { ...t, thread: 'M6' } : t));
    const catalogue: Catalogue = [
      relay('z-no', {}, { nominalV: 24 }), relay('y-unproven', {}, { duty: undefined }), relay('a-work', { terminals: m6 }),
      relay('b'), relay('a-old', { supersededBy: ['mid'] }), relay('mid', { supersededBy: ['new'] }), relay('new'), relay('c'),
    ];
    const ids = fit(record(), catalogue, { all: true }).fits.map(({ partId }) => partId);
    expect(ids).toEqual(['b', 'c', 'new', 'mid', 'a-old', 'a-work', 'y-unproven', 'z-no']);
    expect(fit(record(), catalogue).fits.map(({ partId }) => partId)).toEqual(ids.slice(0, -1));
    expect(fit(record(), catalogue).considered).toBe(8);
  });
});

describe('what is said beside the fits', () => {
  const cautions = (rec: BenchRecord, catalogue: Catalogue = [relay('a')]): string => fit(rec, catalogue).cautions.join('\n');

  it('warns of batteries where there are wires, of interlocks unless there are none, of capacitors from 36 V', () => {
    expect(cautions(record())).toMatch(/explosive gas[\s\S]*interlock \(seat\)/);
    expect(cautions({ system: { nominalV: 12, interlocks: 'none' } })).not.toMatch(/interlock|explosive/);
    expect(cautions({ system: { nominalV: 36 } }, [])).toMatch(/capacitors/);
    expect(cautions({ system: { nominalV: 24 } }, [])).not.toMatch(/capacitors/);
  });

  it('warns where a mark or the removed starter says another voltage', () => {
    expect(cautions(record({ marked: { coilV: 24 } }))).toMatch(/marked 24 V/);
    expect(cautions(record({ marked: { coilV: 12 } }))).not.toMatch(/marked/);
    expect(cautions({ partClass: 'starter-motor', system: { nominalV: 12 }, starter: { nominalV: 24 } }, [])).toMatch(/removed starter says 24 V/);
  });

  it('shows what a marked number means and lets it override nothing', () => {
    const wrong = relay('wrong', { numbers: [{ issuer: 'Works', number: 'AB-12' }] }, { nominalV: 24 });
    const answer = fit(record({ marked: { numbers: ['ab 12'] } }), [relay('a'), wrong]);
    expect(answer.fits.map(({ partId }) => partId)).toEqual(['a']);
    expect(answer.cautions.join()).toMatch(/wrong carries the marked number ab 12, and will not do here: coil-voltage/);
  });

  it('says each caution once', () => {
    const said = fit(record(), [relay('a'), relay('b', { partClass: 'contactor' })]).cautions;
    for (const word of [/explosive/, /interlock/, /overrides/]) expect(said.filter((line) => word.test(line))).toHaveLength(1);
  });

  it('names the wire that has to be traced', () => {
    const untraced = record({ wires: record().wires!.map((wire) => (wire.tag === 'W4' ? { ...wire, leadsTo: 'unknown' as const } : wire)) });
    const answer = fit(untraced, [relay('a')]);
    expect(answer.fits[0]!.verdict).toBe('unproven');
    expect(answer.measureNext[0]!.what).toMatch(/^where wire W4 leads/);
  });

  it('takes a strap that is right both ways before a wiring that leans on a case not known to reach battery minus', () => {
    const base = record({ system: { nominalV: 12, interlocks: 'none' }, wires: withoutInterlocks(record().wires!).slice(0, 3) });
    const answer = fit({ ...base, mounting: { ...base.mounting!, panelGrounded: undefined } }, [caseReturn('c')]);
    const wiring = answer.fits[0]!.checks.find(({ criterion }) => criterion === 'wiring')!;
    // A strap is right both ways: it is work, and nothing is left open.
    expect(wiring.outcome).toBe('work');
    expect(answer.fits[0]!.kit.map(({ item }) => item)).toEqual(['jumper lead']);
  });

  it('asks first for the reading on which most fits hang', () => {
    const noEnd = whole({}, { wires: record().wires!.map((wire) => (wire.tag === 'W1' ? { ...wire, end: undefined } : wire)) });
    const answer = fit(noEnd, [relay('a'), relay('b'), relay('c'), relay('d', {}, { duty: undefined })]);
    expect(answer.worthUnit).toBe('bit');
    expect(answer.measureNext.map(({ what }) => what)).toEqual(['ring hole of wire W1', 'duty of the coil (continuous, or the longest time on) of d']);
    const bits = (p: number): number => -p * Math.log2(p) - (1 - p) * Math.log2(1 - p);
    // Three fits hang on the ring alone, one also on its duty, which its three relatives give and hold, and the class with (3 + 0.8) / (3 + 1).
    const [prior, alike] = [settingOf('kinPrior'), settingOf('kinUnknown')];
    const duty = (prior * 0.95 + 3 * alike) / (prior + 3 * alike);
    expect(answer.measureNext.map(({ worth }) => worth)).toEqual([expect.closeTo(3.5 * bits(settingOf('endHolds')), 5), expect.closeTo(0.5 * bits(duty), 5)]);
    expect(answer.measureNext[0]!.settles).toEqual(['stud']);
    expect(fit(record(), [relay('a')]).measureNext).toEqual([]);
  });

  it('takes interlocks to sit ahead of the start-switch wire where nothing says otherwise, and lists it', () => {
    const silent = record({ system: { nominalV: 12 }, wires: withoutInterlocks(record().wires!) });
    expect(fit(silent, [relay('a')]).assumptions.join('\n')).toMatch(/ahead of|feed/i);
  });

  it('lists each default once', () => {
    const { assumptions } = fit(record({ demand: { inrushA: 100, continuousA: 20 } }), [relay('a'), relay('b')]);
    expect(new Set(assumptions).size).toBe(assumptions.length);
    expect(assumptions.filter((line) => line.includes('clamp'))).toHaveLength(1);
  });
});

describe('the answer', () => {
  const rec = record({ demand: { inrushA: 150, controlFuseA: 15 }, space: { lengthMm: 90, widthMm: 60, heightMm: 70 } });
  const catalogue: Catalogue = [
    relay('a'), caseReturn('b'), relay('c', { partClass: 'contactor' }, { duty: { type: 'continuous' } }, { inrushA: 155 }), relay('d', {}, { ohmAt20C: undefined }),
    relay('e', { mounting: undefined }), relay('f', { terminals: relay('x').terminals.map((t) => (t.form === 'stud' ? { ...t, thread: '5/16-24' } : t)) }),
  ];

  it('has the contract\'s shape', () => {
    expect(fitAnswer.safeParse(fit(rec, catalogue, { all: true })).error).toBeUndefined();
    expect(fitAnswer.safeParse(fit({ system: { nominalV: 12 } }, catalogue)).error).toBeUndefined();
    expect(fit(rec, [])).toMatchObject({ considered: 0, fits: [] });
  });

  it('does not depend on the order of the catalogue, nor change what it is given', () => {
    const before = JSON.stringify([rec, catalogue]);
    expect(fit(rec, catalogue.toReversed(), { all: true })).toEqual(fit(rec, catalogue, { all: true }));
    expect(JSON.stringify([rec, catalogue])).toBe(before);
  });

  it('does not depend on what terminals are called', () => {
    const names: Record<string, string> = { B: 't9', M: 't7', S: 't3', R: 't1', case: 'case' };
    const rename = (part: Part): Part => ({
      ...part, terminals: part.terminals.map((t) => ({ ...t, id: names[t.id]! })),
      circuit: part.circuit.map((e) => (e.kind === 'diode' ? e : { ...e, between: [names[e.between[0]]!, names[e.between[1]]!] as [string, string] })),
    });
    const plain = fit(rec, catalogue, { all: true }).fits.map(({ partId, verdict, checks }) => [partId, verdict, checks.map(({ outcome }) => outcome)]);
    const renamed = fit(rec, catalogue.map(rename), { all: true }).fits.map(({ partId, verdict, checks }) => [partId, verdict, checks.map(({ outcome }) => outcome)]);
    expect(renamed).toEqual(plain);
  });

  it('never loses a candidate when a tolerance is loosened', () => {
    const listed = (r: BenchRecord): string[] => fit(r, catalogue).fits.map(({ partId }) => partId).toSorted();
    for (const [tight, loose] of [
      [record({ demand: { inrushA: { value: 160, plusMinus: 1 } } }), record({ demand: { inrushA: { value: 160, plusMinus: 20 } } })],
      [record({ mounting: { ...record().mounting!, plusMinusMm: 0.1 } }), record({ mounting: { ...record().mounting!, plusMinusMm: 2 } })],
      [record({ ohms: [{ between: ['S', 'R'], ohm: { value: 5.2, plusMinus: 0.1 } }] }), record({ ohms: [{ between: ['S', 'R'], ohm: { value: 5.2, plusMinus: 1 } }] })],
    ] as const) {
      expect(listed(loose)).toEqual(expect.arrayContaining(listed(tight)));
    }
  });
});
