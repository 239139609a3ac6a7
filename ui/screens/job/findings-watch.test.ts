import { describe, expect, it } from 'vitest';
import type { BenchRecord, FitAnswer } from '../../../catalog-schema/index.ts';
import type { Desk, WorkSheet } from '../../client/index.ts';
import { FindingsWatch } from './findings-watch.ts';

const settle = (): Promise<void> => new Promise((resolve) => { setTimeout(resolve, 0); });
const sheetOf = (nominalV: number): WorkSheet => ({ record: { system: { nominalV } } } as WorkSheet);

/** An engine that answers when the test says so, and remembers what it was asked. */
function makeEngine() {
  const asked: number[] = [];
  const open: (() => void)[] = [];
  let fails = false;
  const fit = (record: BenchRecord): Promise<FitAnswer> => new Promise((resolve, reject) => {
    asked.push(record.system.nominalV);
    open.push(() => (fails ? reject(new Error('no')) : resolve({ considered: record.system.nominalV, fits: [], measureNext: [], worthUnit: 'bit', cautions: [], assumptions: [] })));
  });
  const desk = { shop: { open: () => Promise.resolve() }, engine: { fit, identify: () => Promise.resolve(undefined) } } as unknown as Desk;
  return { watch: new FindingsWatch(desk), asked, answer: async () => { open.shift()?.(); await settle(); }, failNext: (on: boolean) => { fails = on; } };
}

describe('what the engine says of a record that is being worked on', () => {
  it('is asked for once, and not again while nothing changes', async () => {
    const { watch, asked, answer } = makeEngine();
    watch.look(sheetOf(12));
    watch.look(sheetOf(12));
    await settle();
    await answer();
    watch.look(sheetOf(12));
    await settle();
    expect(asked).toEqual([12]);
    expect(watch.findings).toMatchObject({ working: false, failed: '', fit: { considered: 12 } });
  });

  it('leaves out the records in between when many changes come during one answer', async () => {
    const { watch, asked, answer } = makeEngine();
    for (const volts of [6, 12, 24, 36, 48]) { watch.look(sheetOf(volts)); await settle(); }
    expect(asked).toEqual([6]);
    await answer();
    expect(watch.findings.working).toBe(true);
    expect(asked).toEqual([6, 48]);
    await answer();
    expect(watch.findings).toMatchObject({ working: false, fit: { considered: 48 } });
  });

  it('keeps the last answer when one fails, and asks again only when told to', async () => {
    const { watch, asked, answer, failNext } = makeEngine();
    watch.look(sheetOf(12));
    await settle();
    await answer();
    failNext(true);
    watch.look(sheetOf(24));
    await settle();
    await answer();
    expect(watch.findings).toMatchObject({ working: false, fit: { considered: 12 } });
    expect(watch.findings.failed).toContain('no');
    watch.look(sheetOf(24));
    await settle();
    expect(asked).toEqual([12, 24]);
    failNext(false);
    watch.askAgain(sheetOf(24));
    await settle();
    await answer();
    expect(watch.findings).toMatchObject({ failed: '', fit: { considered: 24 } });
  });
});
