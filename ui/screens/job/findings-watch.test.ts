import { describe, expect, it } from 'vitest';
import type { BenchRecord, Fit, FitAnswer, FitHistory } from '../../../catalog-schema/index.ts';
import type { Desk, WorkSheet } from '../../client/index.ts';
import type { FitQuestion } from '../../worker/index.ts';
import { FindingsWatch, LISTED_AT_ONCE, LISTED_WHOLE } from './findings-watch.ts';

const settle = (): Promise<void> => new Promise((resolve) => { setTimeout(resolve, 0); });
const sheetOf = (nominalV: number): WorkSheet => ({ record: { system: { nominalV } }, document: {} } as WorkSheet);

/** An engine that answers when the test says so, and remembers what it was asked. */
function makeEngine() {
  const asked: number[] = [];
  const open: (() => void)[] = [];
  let fails = false;
  const fit = (record: BenchRecord): Promise<FitAnswer> => new Promise((resolve, reject) => {
    asked.push(record.system.nominalV);
    open.push(() => (fails ? reject(new Error('no')) : resolve({ considered: record.system.nominalV, fits: [], measureNext: [], worthUnit: 'bit', cautions: [], assumptions: [] })));
  });
  const desk = { shop: { open: () => Promise.resolve(), parts: { size: 0, fetch: () => Promise.resolve() }, history: [] }, engine: { fit, identify: () => Promise.resolve(undefined) } } as unknown as Desk;
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

  describe('asks', () => {
    const fitOf = (partId: string): Fit => ({ partId, verdict: 'direct', fitProbability: 1, expectedCost: null, checks: [], rewire: null, placement: null, kit: [] });
    const sheet = (document: object): WorkSheet => ({ record: { system: { nominalV: 12 } }, document } as unknown as WorkSheet);

    /** A shop of so many parts whose history comes with its opening, and an engine that knows two fits. */
    function makeShop(parts: number) {
      const asked: FitQuestion[] = [];
      const history: FitHistory = [{ partId: 'a', held: 2, cameBack: 1 }];
      const shop = { parts: { size: 0, fetch: () => Promise.resolve() }, history: [] as FitHistory, open: () => Promise.resolve() };
      shop.open = () => {
        if (shop.parts.size > 0) return Promise.resolve();
        shop.history = history;
        shop.parts.size = parts;
        return Promise.resolve();
      };
      const fit = (_record: BenchRecord, question: FitQuestion): Promise<FitAnswer> => {
        asked.push(question);
        const fits = question.only?.partIds?.map(fitOf) ?? [fitOf('a'), fitOf('b')];
        return Promise.resolve({ considered: parts, fits, measureNext: [], worthUnit: 'bit', cautions: [], assumptions: [] });
      };
      const watch = new FindingsWatch({ shop, engine: { fit, identify: () => Promise.resolve(undefined) } } as unknown as Desk);
      return { watch, asked, shop, history };
    }

    it('once with what the shop has learned and the kind of machine, for every part of a small catalogue', async () => {
      const { watch, asked, history } = makeShop(3);
      watch.look(sheet({ machine: 'Hedge Shredder, petrol' }));
      await settle();
      watch.look(sheet({ machine: 'hedge shredder' }));
      await settle();
      expect(asked).toEqual([{ history, machineKind: 'hedge shredder', all: true }]);
      expect(watch.findings).toMatchObject({ listed: 2, question: { history, machineKind: 'hedge shredder' } });
    });

    it('once though the shop tells of its opening before the question is put', async () => {
      const { watch, asked, shop } = makeShop(3);
      const open = shop.open;
      shop.open = async () => {
        await open();
        watch.look(sheet({}));
      };
      watch.look(sheet({}));
      await settle();
      expect(asked.map(({ history }) => history?.length)).toEqual([1]);
    });

    it('again when the shop has learned something', async () => {
      const { watch, asked, shop } = makeShop(3);
      watch.look(sheet({}));
      await settle();
      shop.history = [];
      watch.look(sheet({}));
      await settle();
      expect(asked.map(({ history }) => history?.length)).toEqual([1, 0]);
    });

    it('for the first fits of a large catalogue, and for the chosen part by name where they do not reach it', async () => {
      const { watch, asked, history } = makeShop(LISTED_WHOLE + 1);
      watch.look(sheet({ chosen: { partId: 'z', plan: null } }));
      await settle();
      expect(asked).toEqual([{ history, most: LISTED_AT_ONCE }, { history, all: true, only: { partIds: ['z'] } }]);
      expect(watch.findings.fit?.fits.map(({ partId }) => partId)).toEqual(['a', 'b', 'z']);
      expect(watch.findings.listed).toBe(2);
    });
  });
});
