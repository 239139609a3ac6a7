import { describe, expect, it } from 'vitest';
import type { BenchRecord, Part } from '../../../catalog-schema/index.ts';
import { factsOf } from '../part-facts.ts';
import { settingOf } from '../settings.ts';
import { UNHEARD } from './finding.ts';
import { fit } from './index.ts';
import { Kin } from './kin.ts';
import { RemovedPart } from './removed-part.ts';
import { withFacts } from './sample-part.ts';
import { relay, whole } from './sample-bench.ts';

const without = (record: BenchRecord, ...keys: (keyof NonNullable<BenchRecord['demand']>)[]): BenchRecord =>
  ({ ...record, demand: Object.fromEntries(Object.entries(record.demand!).filter(([key]) => !keys.includes(key as never))) });
const seek = (record: BenchRecord, parts: readonly Part[]): RemovedPart => new RemovedPart(record, false, [new Kin('start-relay', () => withFacts(parts))], new Map());
const chance = (record: BenchRecord, part: Part, parts: readonly Part[]): number => seek(record, parts).chanceOf(part, factsOf(part), UNHEARD);
const rated = (id: string, inrushA: number, more: Partial<Part> = {}): Part => relay(id, more, {}, { inrushA });
const together = (p: number): number => p + settingOf('demandsTogether') * (p * (1 - p)) ** 3;

describe('what the removed part says of demands that nobody recorded', () => {
  const noInrush = without(whole(), 'inrushA');
  const least = settingOf('removedRatingShare');

  it('is nothing where all is recorded', () => {
    expect(chance(whole(), rated('p', 10), [rated('a', 400), rated('b', 100)])).toBe(1);
  });

  it('falls with the own rating of a part, evenly from that of the removed one to the least share of it', () => {
    const parts = [rated('old', 400)];
    const chances = [500, 400, 300, 200, 150].map((inrushA) => chance(noInrush, rated('p', inrushA), parts));
    expect(chances[0]).toBeGreaterThan(0.95);
    expect(chances[1]).toBe(chances[0]);
    expect(chances[2]).toBeCloseTo(together((0.75 - least) / (1 - least)), 1);
    // A little is left to a removed part that is none of the catalogue.
    expect(Math.abs(chances[3]! - together((0.5 - least) / (1 - least)))).toBeLessThan(0.1);
    expect(chances[4]).toBeLessThan(0.08);
  });

  it('is the mean over what the removed part may have been, by the weight of what was read of it (Bayes)', () => {
    // Two coils of 4 and 4.4 Ohm, read as 4.2 with nothing to tell them apart by: log-normal, at equal distances but for the logarithm.
    const { controlFuseA: _fuse, ...demand } = noInrush.demand!;
    const read = (ohm: number): BenchRecord => ({ ...noInrush, demand, ohms: [{ between: ['S', 'R'], ohm: { value: ohm, plusMinus: 0.2 } }] });
    const strong = relay('strong', {}, { ohmAt20C: 4 }, { inrushA: 400 });
    const weak = relay('weak', {}, { ohmAt20C: 4.4 }, { inrushA: 100 });
    const small = rated('p', 100);
    const weigh = (ohm: number, coil: number): number => {
      const [low, high] = [ohm - 0.2, ohm + 0.2];
      const sigma = Math.hypot(settingOf('removedCoilSpread'), Math.log(high / low) / 4);
      return Math.exp(-(((Math.log(coil) - Math.log(low * high) / 2) / sigma) ** 2) / 2) + settingOf('removedWrong');
    };
    for (const ohm of [3.9, 4.1, 4.2, 4.3, 4.5]) {
      const [s, w] = [weigh(ohm, 4), weigh(ohm, 4.4)];
      expect(chance(read(ohm), small, [strong, weak])).toBeCloseTo(together(w / (s + w)), 2);
    }
  });

  it('holds for all demands together in a part like the removed one, and each by itself in others', () => {
    const bare: BenchRecord = { system: { nominalV: 12 }, partClass: 'start-relay', terminals: whole().terminals!, mounting: whole().mounting! };
    const parts = [relay('a'), relay('b', { body: { lengthMm: 60, widthMm: 30, heightMm: 40 } })];
    expect(chance(bare, parts[0]!, parts)).toBeGreaterThan(0.5);
    const poor = relay('p', { body: { lengthMm: 90, widthMm: 60, heightMm: 70 }, sealing: 'IP20' }, { duty: { type: 'intermittent', maxOnS: 8 } }, { inrushA: 200, continuousA: 50 });
    expect(chance(bare, poor, parts)).toBeLessThan(0.02);
  });

  it('believes a marked number over likeness', () => {
    const parts = [rated('strong', 400, { numbers: [{ issuer: 'Works', number: 'K-1' }] }), rated('weak', 100)];
    const judge = (numbers: string[]): number => fit({ ...noInrush, marked: { numbers } }, [...parts, rated('p', 100)]).fits.find(({ partId }) => partId === 'p')!.fitProbability!;
    expect(judge(['K-1'])).toBeLessThan(0.05);
    expect(judge([])).toBeGreaterThan(0.4);
  });

  it('is little worth where the catalogue has one part and the record says nothing of the removed one', () => {
    const bare: BenchRecord = { system: { nominalV: 12 }, partClass: 'start-relay' };
    expect(chance(bare, relay('p'), [relay('p')])).toBeLessThan(0.9);
  });

  it('leaves a part likely that passes all that is recorded, where the removed one is none of the catalogue', () => {
    const elsewhere = { holes: [{ xMm: -40, yMm: 0, diameterMm: 6.6 }, { xMm: 41, yMm: 0, diameterMm: 6.6 }] };
    const { space: _space, ...rest } = without(whole(), 'minSealing', 'continuousA');
    const strangers = [relay('a', { mounting: elsewhere }, { ohmAt20C: 9 }), relay('b', { mounting: elsewhere, sealing: 'IP20' }, {}, { continuousA: 30 })];
    const other = { ...rest, terminals: rest.terminals!.map((terminal) => ({ ...terminal, id: `x${terminal.id}`, ...(terminal.thread && { thread: 'M6x1' }) })) };
    expect(chance(other, relay('p'), strangers)).toBeGreaterThan(0.75);
  });

  it('takes what a part leaves unsaid from its relatives', () => {
    const silent = relay('p', {}, {}, { inrushA: undefined });
    const family = [rated('a', 400), rated('b', 400), rated('c', 400)];
    const other = { mounting: { holes: [{ xMm: 0, yMm: 0, diameterMm: 6.6 }, { xMm: 80, yMm: 0, diameterMm: 6.6 }] }, body: { lengthMm: 75, widthMm: 45, heightMm: 50 } };
    const strangers = [rated('x', 40, other), rated('y', 40, other)];
    expect(chance(noInrush, silent, [...family, ...strangers])).toBeGreaterThan(0.95);
  });

  it('is said among the assumptions, once, with its settings', () => {
    const { assumptions } = fit(noInrush, [rated('a', 400), rated('b', 300)]);
    expect(assumptions.filter((line) => /removedRatingShare/.test(line))).toHaveLength(1);
    expect(assumptions.join()).toMatch(/not all that a machine asks is recorded \(contact-inrush\)/);
    expect(fit(whole(), [rated('a', 400)]).assumptions.join()).not.toMatch(/removed part met it/);
  });

  it('is never more than that of one of the demands alone: a reading that settles one leaves the rest', () => {
    const { wires: _wires, mounting: _mounting, ...bare } = whole();
    const parts = [relay('a'), relay('b', { mounting: { holes: [{ xMm: 0, yMm: 0, diameterMm: 6.6 }, { xMm: 80, yMm: 0, diameterMm: 6.6 }] } }), relay('c', { sealing: 'IP20' })];
    const removed = seek(without(bare, 'minSealing', 'inrushA'), parts);
    for (const part of [...parts, rated('p', 150)]) {
      const all = removed.chanceOf(part, factsOf(part), UNHEARD);
      for (const criterion of ['wiring', 'mounting', 'sealing', 'contact-inrush'] as const) expect(all).toBeLessThanOrEqual(removed.chanceOfCriterion(part, factsOf(part), criterion) + 1e-12);
    }
  });

  it('decides no check', () => {
    const [found] = fit(noInrush, [rated('a', 900), rated('p', 50)]).fits.filter(({ partId }) => partId === 'p');
    expect(found).toMatchObject({ verdict: 'direct' });
    expect(found!.fitProbability).toBeLessThan(0.8);
  });
});
