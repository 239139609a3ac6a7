import { describe, expect, it } from 'vitest';
import type { BenchRecord, Plan } from '../../../catalog-schema/index.ts';
import type { Desk, WorkSheet } from '../../client/index.ts';
import type { AsLeftBasis } from '../../worker/index.ts';
import { BasisWatch } from './basis-watch.ts';

const plan: Plan = { wires: [], jumpers: [], leftOff: [], bareTerminals: [], changes: 0, states: [] };
const sheetOf = (partId: string | undefined, nominalV = 12): WorkSheet => ({
  record: { system: { nominalV } }, document: { title: 't', record: {}, ...(partId === undefined ? {} : { chosen: { partId, plan } }) },
}) as unknown as WorkSheet;

/** A desk whose engine answers when the test says so. */
function makeDesk(): { desk: Desk; asked: { record: BenchRecord; partId: string; answer: (basis?: AsLeftBasis) => void; fail: () => void }[] } {
  const asked: { record: BenchRecord; partId: string; answer: (basis?: AsLeftBasis) => void; fail: () => void }[] = [];
  const engine = {
    asLeft: (record: BenchRecord, partId: string) => new Promise<AsLeftBasis | undefined>((resolve, reject) => {
      asked.push({ record, partId, answer: (basis) => resolve(basis), fail: () => reject(new Error('no memory')) });
    }),
  };
  return { desk: { engine, shop: { open: async () => {}, parts: { size: 3 } } } as unknown as Desk, asked };
}
const basisOf = (partId: string): AsLeftBasis => ({ partId, verdict: 'direct', plan, plans: [plan], placement: null, kit: [] });
const settle = (): Promise<void> => new Promise((resolve) => { setTimeout(resolve); });

describe('what a checklist stands on', () => {
  it('is asked once for one state of record and choice, and not where nothing is chosen', async () => {
    const { desk, asked } = makeDesk();
    const watch = new BasisWatch(desk);
    watch.look(sheetOf(undefined));
    watch.look(sheetOf('p1'));
    watch.look(sheetOf('p1'));
    await settle();
    expect(asked.map(({ partId }) => partId)).toEqual(['p1']);
    asked[0]!.answer(basisOf('p1'));
    await settle();
    expect(watch.basis?.partId).toBe('p1');
  });

  it('is nothing at once when the record changes, and the late answer to the old question is not shown', async () => {
    const { desk, asked } = makeDesk();
    const watch = new BasisWatch(desk);
    watch.look(sheetOf('p1'));
    await settle();
    watch.look(sheetOf('p1', 24));
    expect(watch.basis).toBeUndefined();
    asked[0]!.answer(basisOf('p1'));
    await settle();
    expect(watch.basis).toBeUndefined();
    expect(asked.map(({ record }) => record.system.nominalV)).toEqual([12, 24]);
    asked[1]!.answer(basisOf('p1'));
    await settle();
    expect(watch.basis?.partId).toBe('p1');
  });

  it('says why there is none where the engine failed', async () => {
    const { desk, asked } = makeDesk();
    const watch = new BasisWatch(desk);
    watch.look(sheetOf('p1'));
    await settle();
    asked[0]!.fail();
    await settle();
    expect(watch.basis).toBeUndefined();
    expect(watch.failed).toContain('no memory');
  });
});
