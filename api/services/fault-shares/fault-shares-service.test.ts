import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { JobState, ProveAnswer, ProveCase } from '../../../catalog-schema/index.ts';
import { prove } from '../../engine/index.ts';
import { openStore, type Store } from '../../store/index.ts';
import { makeTemporaryFile } from '../../store/temporary-file.ts';
import { done } from '../outcome.ts';
import { createFaultSharesService } from './fault-shares-service.ts';

const AT = '2026-11-25T21:00:00Z';
let temporary: ReturnType<typeof makeTemporaryFile>;
let store: Store;

beforeEach(async () => {
  temporary = makeTemporaryFile();
  store = await openStore(temporary.file);
});
afterEach(async () => {
  await store.close();
  temporary.remove();
});

const job = (id: string, revision: number, seen: ProveCase['seen'], closed: boolean): JobState => ({
  id, revision, record: { system: { nominalV: 12 } },
  document: { prove: { seen: Object.fromEntries(seen.map((one, index) => [String(index), one])) }, ...(closed && { signedOff: { at: AT, by: 'J' } }) },
}) as unknown as JobState;

const OPEN_RETURN: ProveCase['seen'] = [
  { kind: 'volts', startSwitch: true, plus: 'coil-feed', minus: 'chassis', volts: 12.5 }, { kind: 'volts', startSwitch: true, plus: 'coil-return', minus: 'chassis', volts: 12.5 },
];

function createService(jobs: JobState[], now = () => new Date(AT)) {
  const asked: (ProveCase | undefined)[] = [];
  const answer = (crankCase: ProveCase, shares?: object): ProveAnswer => {
    asked.push(crankCase);
    expect(shares).toBeUndefined();
    return prove(crankCase, { carriers: false });
  };
  return { asked, service: createFaultSharesService(store, { list: async () => jobs }, { prove: async (crankCase, shares) => done(answer(crankCase, shares)) }, { now }) };
}

describe('the shop\'s shares of faults', () => {
  it('are none while nothing was set and no job closed', async () => {
    const { service, asked } = createService([job('a', 1, OPEN_RETURN, false)]);
    expect(await service.current()).toBeUndefined();
    expect((await service.read()).used.every(({ n }) => n === 0)).toBe(true);
    expect(asked).toEqual([]);
  });

  it('are kept in the database as they were set, and replace those before', async () => {
    const { service } = createService([]);
    await service.write({ own: { 'relay-contacts': 0.4, none: 0 }, by: 'J', at: AT });
    await service.write({ own: { 'relay-contacts': 0.5 }, by: 'J', at: AT });
    const again = createService([]).service;
    expect((await again.read()).own).toEqual({ 'relay-contacts': 0.5 });
    expect((await again.current())!['relay-contacts']).toBeCloseTo(0.5 / 1.39, 9);
  });

  it('count what signed-off jobs proved, each weighed once by the product\'s own shares', async () => {
    const jobs = [job('a', 1, OPEN_RETURN, true), job('b', 1, [{ kind: 'sound', heard: 'one-click' }], true), job('c', 1, OPEN_RETURN, false)];
    const { service, asked } = createService(jobs);
    const { used } = await service.read();
    expect(used.filter(({ n }) => n > 0)).toMatchObject([{ fault: 'coil-return', n: 1 }]);
    await service.read();
    expect(asked).toHaveLength(2);
    jobs[0] = job('a', 2, [], true);
    expect((await service.read()).used.every(({ n }) => n === 0)).toBe(true);
  });
});
