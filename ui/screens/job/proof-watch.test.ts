import { describe, expect, it } from 'vitest';
import { FAULTS, type FaultSharesAnswer, type Observation, type ProveAnswer, type ProveCase } from '../../../catalog-schema/index.ts';
import type { Desk, WorkSheet } from '../../client/index.ts';
import { ProofWatch } from './proof-watch.ts';

const click: Observation = { kind: 'sound', heard: 'one-click' };
const dead: Observation = { kind: 'crank', seen: 'nothing' };
const sheetOf = (...seen: Observation[]): WorkSheet => ({
  document: { title: 't', record: {}, prove: { seen: Object.fromEntries(seen.map((entry) => [entry.kind, entry])) } }, record: { system: { nominalV: 12 } },
} as unknown as WorkSheet);
const answerTo = ({ seen }: ProveCase): ProveAnswer => ({ faults: [], proven: null, cleared: [], orderable: null, conflicts: [], nextTest: [], carriedBy: [], worthUnit: 'bit', cautions: [], assumptions: [`${seen.length} seen`] });
const shares = (own: FaultSharesAnswer['own'], n = 0): FaultSharesAnswer => ({
  own, shares: Object.fromEntries(FAULTS.map((fault) => [fault, 1 / 15])) as FaultSharesAnswer['shares'], used: [{ fault: 'battery-weak', share: 1 / 15, n, source: '', reason: '' }], assumptions: [],
});

/** A desk whose engine answers when it is let go, and whose server knows these shares. */
function makeDesk(known: FaultSharesAnswer | 'unreachable') {
  const asked: { crankCase: ProveCase; shares: unknown; answer: () => void }[] = [];
  const desk = {
    settings: { values: { instruments: undefined } },
    service: { readFaultShares: () => (known === 'unreachable' ? Promise.reject(new Error('no signal')) : Promise.resolve(known)) },
    engine: { prove: (crankCase: ProveCase, given?: unknown) => new Promise((resolve) => { asked.push({ crankCase, shares: given, answer: () => { resolve(answerTo(crankCase)); } }); }) },
  } as unknown as Desk;
  return { desk, asked };
}
const pass = async (): Promise<void> => { for (let i = 0; i < 20; i++) await Promise.resolve(); };

describe('what the evidence proves, as it changes', () => {
  it('asks nothing where nothing was seen, unless the step wants its first test', async () => {
    const { desk, asked } = makeDesk('unreachable');
    const watch = new ProofWatch(desk);
    watch.look(sheetOf(), false);
    await pass();
    expect(asked).toEqual([]);
    watch.look(sheetOf(), true);
    await pass();
    expect(asked.map(({ crankCase }) => crankCase.seen)).toEqual([[]]);
  });

  it('takes no answer for what is no longer asked, asks about the newest alone, and says meanwhile that it is not current', async () => {
    const { desk, asked } = makeDesk('unreachable');
    const watch = new ProofWatch(desk);
    watch.look(sheetOf(click), false);
    await pass();
    watch.look(sheetOf(click, dead), false);
    watch.look(sheetOf(dead, click), false);
    expect(watch.proof.current).toBe(false);
    asked[0]!.answer();
    await pass();
    expect(watch.proof.current).toBe(false);
    expect(asked.map(({ crankCase }) => crankCase.seen)).toEqual([[click], [dead, click]]);
    asked[1]!.answer();
    await pass();
    expect(watch.proof).toMatchObject({ current: true, keys: ['crank', 'sound'], answer: { assumptions: ['2 seen'] } });
  });

  it('weighs by the shop’s shares once it has set or learned some, and anew when they change', async () => {
    const { desk, asked } = makeDesk(shares({}));
    const watch = new ProofWatch(desk);
    watch.look(sheetOf(click), false);
    await pass();
    expect(asked[0]!.shares).toBeUndefined();
    asked[0]!.answer();
    await pass();
    expect(watch.proof.current).toBe(true);
    const own = shares({ 'battery-weak': 0.5 });
    watch.takeShares(own);
    expect(watch.proof.current).toBe(false);
    await pass();
    expect(asked[1]!.shares).toEqual(own.shares);
    asked[1]!.answer();
    await pass();
    expect(watch.proof).toMatchObject({ current: true, shares: own });
    watch.takeShares({ ...own, assumptions: ['said again'] });
    await pass();
    expect(asked).toHaveLength(2);
  });
});
