import { describe, expect, it } from 'vitest';
import { fitAnswer, type Catalogue, type Fit, type Part, type Prices } from '../../../catalog-schema/index.ts';
import { settingOf } from '../settings.ts';
import { fit, type FitOptions } from './index.ts';
import { record, relay, whole } from './sample-bench.ts';

const m10 = { terminals: relay('x').terminals.map((t) => (t.form === 'stud' ? { ...t, thread: 'M10x1.5' } : t)) };
const onShelf = (cost: Record<string, number>): Prices['shelf'] => Object.entries(cost).map(([partId, unitCost]) => ({ partId, onHand: 1, unitCost }));
const prices = (more: Partial<Prices> = {}): Prices => ({ currency: 'EUR', today: '2026-11-25', labourPerHour: 60, misfitCost: 100, waitCostPerDay: 10, shelf: [], suppliers: [], offers: [], ...more });
const ids = (catalogue: Catalogue, options: FitOptions): string[] => fit(record(), catalogue, options).fits.map(({ partId }) => partId);
const only = (part: Part, options: FitOptions, rec = whole()): Fit => fit(rec, [part], { all: true, ...options }).fits[0]!;

describe('the expected cost', () => {
  it('adds part, kit, labour, misfit and wait', () => {
    const offers = { suppliers: [{ id: 'north', freight: 4 }], offers: [{ supplierId: 'north', partId: 'p', price: 20, leadDays: 3 }] };
    const { expectedCost, source, minutes, fitProbability } = only(relay('p', m10, { duty: undefined }), { prices: prices({ ...offers, kitPrices: [{ item: 'ring lug', price: 2.25 }] }) });
    expect(fitProbability).toBe(0.5);
    expect(minutes).toBe(12);
    expect(expectedCost).toEqual({ currency: 'EUR', total: 24 + 4.5 + 12 + 50 + 30, part: 24, kit: 4.5, labour: 12, misfit: 50, wait: 30 });
    expect(source).toEqual({ from: 'north', qty: 1, unitPrice: 20, freight: 4, arrives: '2026-11-28' });
  });

  it('rounds each of the five half-even, and the total is their sum', () => {
    const price = prices({ currency: 'JPY', labourPerHour: 2.5, misfitCost: 3, shelf: onShelf({ p: 10.5 }), kitPrices: [{ item: 'ring lug', price: 0.75 }] });
    // 10.5 -> 10, 2 x 0.75 -> 2, 12 min at 2.5 an hour 0.5 -> 0, half of 3 -> 2
    expect(only(relay('p', m10, { duty: undefined }), { prices: price }).expectedCost).toEqual({ currency: 'JPY', total: 14, part: 10, kit: 2, labour: 0, misfit: 2, wait: 0 });
  });

  it('is null without prices, and for a part that nobody sells', () => {
    expect(only(relay('p'), {}).expectedCost).toBeNull();
    expect(only(relay('p'), { prices: prices() })).toMatchObject({ expectedCost: null, fitProbability: 1 });
    expect(only(relay('p'), { prices: prices() }).source).toBeUndefined();
  });

  it('counts what the prices leave out as nothing, and says so', () => {
    const { labourPerHour: _l, misfitCost: _m, waitCostPerDay: _w, ...bare } = prices({ shelf: onShelf({ p: 20 }) });
    const answer = fit(record(), [relay('p', m10, { duty: undefined })], { prices: bare });
    expect(answer.fits[0]!.expectedCost).toMatchObject({ labour: 0, misfit: 0, wait: 0 });
    expect(answer.assumptions).toContain('labourPerHour, misfitCost, waitCostPerDay: not given with the prices, counted as 0');
    expect(fit(record(), [relay('p')], { prices: prices({ shelf: onShelf({ p: 20 }) }) }).assumptions.join()).not.toMatch(/counted as 0/);
  });

  it('takes kit prices from the table where the list has none, and lists only those used', () => {
    const answer = fit(record(), [relay('p', m10)], { prices: prices({ shelf: onShelf({ p: 20 }) }) });
    expect(answer.fits[0]!.expectedCost!.kit).toBe(2 * settingOf('ringLugPrice'));
    expect(answer.assumptions.filter((line) => /when the prices give none/.test(line))).toHaveLength(1);
    const given = fit(record(), [relay('p', m10)], { prices: prices({ shelf: onShelf({ p: 20 }), kitPrices: [{ item: 'ring lug', price: 0 }] }) });
    expect(given.fits[0]!.expectedCost!.kit).toBe(0);
    expect(given.assumptions.join()).not.toMatch(/when the prices give none/);
  });

  it('lists the table of minutes where there is work, and says that the swap itself is not counted', () => {
    const answer = fit(record(), [relay('p', m10)], { prices: prices({ shelf: onShelf({ p: 20 }) }) });
    expect(answer.assumptions.filter((line) => / min: work: /.test(line))).toHaveLength(6);
    expect(answer.assumptions.join()).toMatch(/alike for all parts and not counted/);
  });
});

describe('the order', () => {
  const dear = relay('a-dear');
  const worked = relay('b-worked', m10);
  const doubtful = relay('c-doubtful', {}, { duty: undefined });
  const wrong = relay('d-wrong', {}, { nominalV: 24 });

  it('with prices takes direct and adapt together by cost, then unproven, then no, however cheap', () => {
    const shelf = onShelf({ 'a-dear': 100, 'b-worked': 10, 'c-doubtful': 1, 'd-wrong': 0 });
    expect(ids([dear, worked, doubtful, wrong], { all: true, prices: prices({ shelf }) })).toEqual(['b-worked', 'a-dear', 'c-doubtful', 'd-wrong']);
  });

  it('puts a part without a price after the priced ones of its group, in the order without prices', () => {
    const shelf = onShelf({ 'b-worked': 10, 'c-doubtful': 1 });
    expect(ids([relay('z-direct'), worked, relay('a-work', m10), relay('a-doubt', {}, { duty: undefined }), doubtful], { prices: prices({ shelf }) }))
      .toEqual(['b-worked', 'z-direct', 'a-work', 'c-doubtful', 'a-doubt']);
  });

  it('without prices goes by verdict, then fitProbability, then work, then id', () => {
    const sure = { numbers: [{ issuer: 'Works', number: 'K-1' }] };
    const marked = record({ marked: { numbers: ['k1'] } });
    const catalogue = [
      relay('a', m10), relay('b', { terminals: m10.terminals.map((t) => (t.id === 'B' ? { ...t, thread: 'M8x1.25' } : t)) }), relay('c'),
      relay('e', {}, { duty: undefined }), relay('f', sure, { duty: undefined }), relay('d', {}, { duty: undefined }),
    ];
    const fits = fit(marked, catalogue).fits;
    expect(fits.map(({ partId }) => partId)).toEqual(['c', 'b', 'a', 'f', 'd', 'e']);
    expect(fits[3]!.fitProbability).toBeGreaterThan(fits[4]!.fitProbability!);
    expect(fits[4]!.fitProbability).toBe(fits[5]!.fitProbability);
  });

  it('breaks ties by id, code unit by code unit, whatever the order of the catalogue', () => {
    const tied = ['b', 'B', 'a', 'ä', 'a-1'].map((id) => relay(id));
    const shelf = onShelf(Object.fromEntries(tied.map(({ id }) => [id, 5])));
    for (const options of [{}, { prices: prices({ shelf }) }]) {
      expect(ids(tied, options)).toEqual(['B', 'a', 'a-1', 'b', 'ä']);
      expect(ids(tied.toReversed(), options)).toEqual(ids(tied, options));
    }
  });

  it('puts a superseded part after its successors only where all else is equal', () => {
    const chain = [relay('a', { supersededBy: ['m'] }), relay('m', { supersededBy: ['z'] }), relay('z'), relay('b')];
    const alike = onShelf({ a: 5, b: 5, m: 5, z: 5 });
    expect(ids(chain, { prices: prices({ shelf: alike }) })).toEqual(['b', 'z', 'm', 'a']);
    expect(ids(chain, { prices: prices({ shelf: onShelf({ a: 4.99, b: 5, m: 5, z: 5 }) }) })).toEqual(['a', 'b', 'z', 'm']);
    // The successor between them stands elsewhere in the order: a still waits for z.
    expect(ids([relay('a', { supersededBy: ['m'] }), relay('m', { supersededBy: ['z'], ...m10 }), relay('z')], {})).toEqual(['z', 'a', 'm']);
  });

  it('waits for every part of a kit', () => {
    expect(ids([relay('a', { supersededBy: ['x', 'c'] }), relay('b'), relay('c'), relay('x')], {})).toEqual(['b', 'c', 'x', 'a']);
  });
});

describe('what is listed', () => {
  const catalogue = [relay('a'), relay('b', m10), relay('c', {}, { duty: undefined }), relay('d', {}, { nominalV: 24 })];
  const price = prices({
    shelf: [{ partId: 'a', onHand: 1, reserved: 1, unitCost: 5 }, ...onShelf({ b: 7, d: 1 })], suppliers: [{ id: 'north', freight: 0 }, { id: 'south', freight: 0 }],
    offers: [{ supplierId: 'north', partId: 'a', price: 9, leadDays: 0 }, { supplierId: 'south', partId: 'c', price: 9, leadDays: 0, validUntil: '2026-11-24' }],
  });

  it('is at most so many, the best', () => {
    expect(ids(catalogue, { most: 2 })).toEqual(['a', 'b']);
    expect(ids(catalogue, { most: 99 })).toEqual(['a', 'b', 'c']);
    expect(fit(record(), catalogue, { most: 1 }).considered).toBe(4);
  });

  it('is narrowed by verdict, shelf, supplier and id before it is cut', () => {
    expect(ids(catalogue, { only: { verdicts: ['adapt', 'unproven'] } })).toEqual(['b', 'c']);
    expect(ids(catalogue, { only: { verdicts: ['no'] } })).toEqual(['d']);
    expect(ids(catalogue, { only: { onShelf: true }, prices: price })).toEqual(['b']);
    expect(ids(catalogue, { only: { onShelf: true }, all: true, prices: price })).toEqual(['b', 'd']);
    expect(ids(catalogue, { only: { supplierId: 'north' }, prices: price })).toEqual(['a']);
    expect(ids(catalogue, { only: { supplierId: 'south' }, prices: price })).toEqual([]);
    expect(ids(catalogue, { only: { partIds: ['c', 'b', 'nowhere'] }, most: 1 })).toEqual(['b']);
  });

  it('is nothing on a shelf that no prices tell of, and that is said', () => {
    const answer = fit(record(), catalogue, { only: { onShelf: true } });
    expect(answer.fits).toEqual([]);
    expect(answer.assumptions.join()).toMatch(/no prices are given/);
  });

  it('alone is spoken of: readings, cautions and assumptions', () => {
    const noDuty = fit(record(), catalogue, { most: 2 });
    expect(noDuty.measureNext).toEqual([]);
    expect(noDuty.assumptions.join()).not.toMatch(/evenly spaced/);
    expect(fit(record(), catalogue).measureNext.map(({ what }) => what)).toEqual([expect.stringMatching(/^duty of the coil .* of c$/)]);
  });
});

describe('what to measure next, with prices', () => {
  const noEnd = record({ wires: record().wires!.map((wire) => (wire.tag === 'W1' ? { ...wire, end: undefined } : wire)) });

  it('is worth what it is expected to save, in the currency', () => {
    const asked = whole({ inrushA: { value: 200, plusMinus: 100 } });
    const parts = [relay('sure', {}, {}, { inrushA: 900 }), relay('cheap', {}, {}, { inrushA: 200 })];
    const answer = fit(asked, parts, { prices: prices({ shelf: onShelf({ sure: 60, cheap: 20 }) }) });
    expect(answer.worthUnit).toBe('EUR');
    // Now the cheap one at 20 + half of 100, or the sure one at 60: after the reading 20 or 60, each with one half.
    expect(answer.measureNext).toEqual([expect.objectContaining({ what: 'inrush of the starter, with a narrower tolerance', worth: 20, settles: ['contact-inrush'], from: 'bench' })]);
    expect(fitAnswer.parse(JSON.parse(JSON.stringify(answer)))).toEqual(JSON.parse(JSON.stringify(answer)));
  });

  it('leaves out a reading that can change no choice', () => {
    const answer = fit(noEnd, [relay('only')], { prices: prices({ shelf: onShelf({ only: 5 }) }) });
    expect(answer.fits[0]!.verdict).toBe('unproven');
    expect(answer.measureNext).toEqual([]);
  });

  it('asks for the wires to be traced where kinds of circuit are in doubt', () => {
    const untraced = record({ wires: record().wires!.map((wire) => (wire.tag === 'W4' ? { ...wire, leadsTo: undefined } : wire)) });
    const isolated = relay('isolated');
    const grounded: Part = { ...relay('grounded'), terminals: isolated.terminals.slice(0, 3), circuit: [{ ...(isolated.circuit[0] as { kind: 'coil' } & Part['circuit'][number]), between: ['S', 'case'] } as Part['circuit'][number], isolated.circuit[1]!] };
    const answer = fit(untraced, [isolated, grounded], { prices: prices({ shelf: onShelf({ isolated: 20, grounded: 20 }) }) });
    expect(answer.measureNext.map(({ what }) => what)).toEqual([expect.stringMatching(/^where wire W4 leads/)]);
    // The removed part had the terminals of the isolated one; tracing saves no more than what a misfit of it is expected to cost.
    const [first, second] = answer.fits;
    expect([first!.partId, second!.partId]).toEqual(['isolated', 'grounded']);
    expect(answer.measureNext[0]!.worth).toBeGreaterThan(0);
    expect(answer.measureNext[0]!.worth).toBeLessThan(first!.expectedCost!.misfit);
  });
});
