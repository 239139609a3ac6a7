import { describe, expect, it } from 'vitest';
import type { Fit, FitAnswer } from '../../../catalog-schema/index.ts';
import type { FitQuestion } from '../../worker/index.ts';
import type { WorkView } from '../work-view.ts';
import { NamedFits } from './named-fits.ts';

const settle = (): Promise<void> => new Promise((resolve) => { setTimeout(resolve, 0); });
const fitOf = (partId: string): Fit => ({ partId, verdict: 'direct', fitProbability: 1, expectedCost: null, checks: [], rewire: null, placement: null, kit: [] });
const answerOf = (fits: Fit[]): FitAnswer => ({ considered: 9, fits, measureNext: [], worthUnit: 'bit', cautions: [], assumptions: [] });

function makeView(question: FitQuestion = { machineKind: 'pump' }) {
  const asked: FitQuestion[] = [];
  const view = {
    sheet: { record: {} }, findings: { fit: answerOf([fitOf('a')]), question, working: false },
    desk: { shop: { parts: new Set(['a', 'b', 'c']) }, engine: { fit: (_: object, put: FitQuestion) => { asked.push(put); return Promise.resolve(answerOf((put.only?.partIds ?? []).map(fitOf))); } } },
  } as unknown as WorkView;
  return { view, asked };
}

describe('fits of certain parts', () => {
  it('come from the list where it reaches them, and nothing is asked', () => {
    const { view, asked } = makeView();
    const named = new NamedFits();
    named.look(view, ['a']);
    expect(named.find(view, 'a')).toMatchObject({ partId: 'a' });
    expect(asked).toEqual([]);
  });

  it('are asked for by name, once, with what the list was asked with', async () => {
    const { view, asked } = makeView();
    const named = new NamedFits();
    let told = 0;
    named.addEventListener('change', () => { told += 1; });
    named.look(view, ['a', 'b', 'not-there']);
    named.look(view, ['a', 'b', 'not-there']);
    expect(named.find(view, 'b')).toBe('waiting');
    await settle();
    expect(named.find(view, 'b')).toMatchObject({ partId: 'b' });
    expect(named.find(view, 'not-there')).toBeUndefined();
    expect(asked).toEqual([{ machineKind: 'pump', all: true, only: { partIds: ['b'] } }]);
    expect(told).toBe(1);
  });

  it('are asked for again when the list was', async () => {
    const { view, asked } = makeView();
    const named = new NamedFits();
    named.look(view, ['b']);
    await settle();
    named.look({ ...view, findings: { ...view.findings, question: {} } } as WorkView, ['b']);
    await settle();
    expect(asked).toHaveLength(2);
  });
});
