import { describe, expect, it } from 'vitest';
import type { BenchRecord, Fit, FitAnswer } from '../../../catalog-schema/index.ts';
import type { EngineClient, FitQuestion } from '../../worker/index.ts';
import { LISTED_AT_ONCE } from '../job/findings-watch.ts';
import { NO_FILTER } from './fit-filter.ts';
import { LongerList } from './longer-list.ts';

const settle = (): Promise<void> => new Promise((resolve) => { setTimeout(resolve, 0); });
const record: BenchRecord = { system: { nominalV: 12 } };
const question: FitQuestion = { machineKind: 'pump' };

/** An engine with so many fits under every filter, which answers when the test says so. */
function makeList(count: number) {
  const asked: FitQuestion[] = [];
  const open: (() => void)[] = [];
  const fit = (_: BenchRecord, put: FitQuestion): Promise<FitAnswer> => new Promise((resolve, reject) => {
    asked.push(put);
    const fits = Array.from({ length: Math.min(count, put.most!) }, (_each, row) => ({ partId: String(row) } as Fit));
    open.push(() => (count < 0 ? reject(new Error('no')) : resolve({ considered: 9_999, fits, measureNext: [], worthUnit: 'bit', cautions: [], assumptions: [] })));
  });
  return { list: new LongerList({ fit } as unknown as EngineClient), asked, answer: async (which = 0) => { open.splice(which, 1)[0]!(); await settle(); } };
}

describe('the list of a large catalogue', () => {
  it('asks for the first fits under the filter, and for so many more each time', async () => {
    const { list, asked, answer } = makeList(LISTED_AT_ONCE + 5);
    list.look(record, question, NO_FILTER);
    await answer();
    expect(list.state).toMatchObject({ complete: false, working: false });
    expect(list.state.rows).toHaveLength(LISTED_AT_ONCE);
    list.more();
    expect(list.state.rows).toHaveLength(LISTED_AT_ONCE);
    await answer();
    expect(list.state).toMatchObject({ complete: true });
    expect(asked.map(({ most, only, machineKind }) => [most, only?.verdicts?.length, machineKind])).toEqual([[LISTED_AT_ONCE, 3, 'pump'], [2 * LISTED_AT_ONCE, 3, 'pump']]);
  });

  it('asks once while nothing changes, and keeps its length when the answer is worked out anew', async () => {
    const { list, asked, answer } = makeList(500);
    list.look(record, question, NO_FILTER);
    list.look(record, question, NO_FILTER);
    await answer();
    list.more();
    await answer();
    list.look(record, { ...question }, NO_FILTER);
    expect(asked.map(({ most }) => most)).toEqual([LISTED_AT_ONCE, 2 * LISTED_AT_ONCE, 2 * LISTED_AT_ONCE]);
  });

  it('shows only the answer to the newest question', async () => {
    const { list, answer } = makeList(3);
    list.look(record, question, NO_FILTER);
    list.look(record, question, { ...NO_FILTER, verdict: 'no' });
    await answer(1);
    const shown = list.state;
    await answer();
    expect(list.state).toBe(shown);
  });

  it('says why where the engine fails', async () => {
    const { list, answer } = makeList(-1);
    list.look(record, question, NO_FILTER);
    await answer();
    expect(list.state).toMatchObject({ working: false, rows: [] });
    expect(list.state.failed).toContain('no');
  });
});
