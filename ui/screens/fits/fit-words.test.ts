import { describe, expect, it } from 'vitest';
import type { Fit, Plan, Prices } from '../../../catalog-schema/index.ts';
import { sayReason, sayWhatItTakes, sayWhere } from './fit-words.ts';

const plan: Plan = {
  wires: [{ tag: '1', from: 'A', to: 'B', moved: true, newEnd: false }], jumpers: [], leftOff: ['2'], bareTerminals: [], changes: 2, states: [],
};
const fit: Fit = { partId: 'p', verdict: 'adapt', fitProbability: null, expectedCost: null, checks: [], rewire: null, placement: null, kit: [] };

describe('a fit in one line', () => {
  it('takes nothing but the part where nothing is to be done', () => {
    expect(sayWhatItTakes(fit)).toBe('nothing but the part');
  });

  it('adds up what is alike and names wires, holes and a turned bracket', () => {
    const kit = [{ item: 'ring lug', qty: 1, detail: 'wire 1' }, { item: 'jumper', qty: 1, detail: '' }, { item: 'ring lug', qty: 1, detail: 'wire 2' }];
    expect(sayWhatItTakes({ ...fit, kit, rewire: plan })).toBe('2 × ring lug, 1 × jumper, one wire on another place and one wire left off');
    const newHoles = [{ xMm: 0, yMm: 0, diameterMm: 6, in: 'panel' as const }, { xMm: 9, yMm: 0, diameterMm: 6, in: 'panel' as const }];
    expect(sayWhatItTakes({ ...fit, placement: { rotationDeg: 0, flipped: true, shiftMm: [0, 0], newHoles } })).toBe('2 new holes and bracket turned over');
  });

  it('says why it will not do by its first failed check, else by what is not shown', () => {
    const check = { safety: false, needed: '', offered: '' };
    const checks: Fit['checks'] = [
      { ...check, criterion: 'stud', outcome: 'unknown', why: 'no end given' }, { ...check, criterion: 'pull-in', outcome: 'fail', why: 'too weak' },
    ];
    expect(sayReason({ ...fit, checks })).toBe('Pull-in: too weak');
    expect(sayReason({ ...fit, checks: checks.slice(0, 1) })).toBe('Studs and lugs: no end given');
    expect(sayReason(fit)).toBe('');
  });

  it('says the bin while something is free in it', () => {
    expect(sayWhere(fit, [{ partId: 'p', bin: 'C4', onHand: 2, reserved: 0, free: 2, unitCost: 1 }], undefined)).toBe('bin C4, 2 free');
    expect(sayWhere(fit, [{ partId: 'p', bin: 'C4', onHand: 2, reserved: 2, free: 0, unitCost: 1 }], undefined)).toBe('nobody offers it');
  });

  it('says the day of the source that its cost counts with, though a bin holds one', () => {
    const prices: Prices = { currency: 'EUR', today: '2026-11-25', shelf: [], suppliers: [], offers: [] };
    const source = { from: 'north', qty: 1, unitPrice: 9, freight: 0, arrives: '2026-11-27' };
    expect(sayWhere({ ...fit, source }, [{ partId: 'p', bin: 'C4', onHand: 1, reserved: 0, free: 1, unitCost: 90 }], prices)).toBe('comes Friday');
  });
});
