import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { asLeftAnswer, customerRecord, type AsLeftAnswer, type AsLeftStepAnswer, type JobState, type RewireAnswer } from '../../catalog-schema/index.ts';
import { benchRecord, makeUuid, openTestApp, type TestApp } from './open-test-app.ts';

// Over HTTP nobody reaches a sign-off with anything open, whatever edits are sent.

let server: TestApp;
let job = 0;
let edits = 100;
const at = '2026-11-25T10:00:00Z';
beforeAll(async () => { server = await openTestApp(); });
afterAll(() => server.close());

const record = {
  ...benchRecord, system: { nominalV: 12, interlocks: 'both', interlockList: [{ name: 'Seat', acts: 'return' }, { name: 'Neutral', acts: 'feed' }] },
  wires: benchRecord.wires.map((wire) => (wire.tag === 'W4' ? { ...wire, leadsTo: 'interlocked-return' } : wire)),
};

const path = (): string => `/api/jobs/${makeUuid(job)}`;
const readJob = async (): Promise<JobState> => (await server.get(path())).json() as Promise<JobState>;
const readList = async (query = ''): Promise<AsLeftAnswer> => (await server.get(`${path()}/as-left${query}`)).json() as Promise<AsLeftAnswer>;

/** One act: these fields, made by somebody who knows all. */
async function send(...changes: readonly [string[], unknown][]): Promise<Response> {
  const { revision: base } = await readJob();
  const batch = changes.map(([field, value]) => ({ id: makeUuid(++edits), field, value, base, at, author: 'J' }));
  return server.post(`${path()}/edits`, { edits: batch });
}
const pathsOf = async (response: Response): Promise<string[]> => (await response.json() as { faults: { path: string }[] }).faults.map((fault) => fault.path);

function tickOf(step: AsLeftStepAnswer): object {
  return { at, by: 'J', of: step.of, ...(step.limit !== null ? { reading: step.limit.low ?? step.limit.high } : step.asksOutcome ? { outcome: 'good' } : {}) };
}
async function tickAllBut(...ids: string[]): Promise<void> {
  const { steps } = await readList();
  const sent = await send(...steps.filter((step) => !ids.includes(step.id)).map((step): [string[], unknown] => [['asLeft', step.id], tickOf(step)]));
  expect(sent.status, await sent.clone().text()).toBe(200);
}
const signature = async (): Promise<object> => ({ at, by: 'J', of: (await readList()).signOff.of });
const sign = async (): Promise<Response> => send([['signedOff'], await signature()]);
async function expectUnsigned(): Promise<void> {
  expect((await readJob()).document.signedOff).toBeUndefined();
  expect((await readList()).signOff.state).toBe('none');
}

beforeEach(async () => {
  job += 1;
  await server.post('/api/jobs', { id: makeUuid(job), title: 'Mixer', record, at });
  const { plans } = await (await server.post('/api/rewire', { record, partId: 'p1' })).json() as RewireAnswer;
  const chosen = await send([['chosen'], { partId: 'p1', plan: plans[0], title: 'Relay' }]);
  expect(chosen.status, await chosen.clone().text()).toBe(200);
});

test('the checklist reads by its schema, in either unit, and is not there for a job that is not', async () => {
  expect(asLeftAnswer.safeParse(await readList('?unit=inch')).error).toBeUndefined();
  expect((await server.get(`${path()}/as-left?unit=furlong`)).status).toBe(422);
  expect((await server.get(`/api/jobs/${makeUuid(999)}/as-left`)).status).toBe(404);
});

test('the customer’s page reads by its schema, and says what would settle what nobody measured, then what was', async () => {
  const readPage = async () => customerRecord.parse(await (await server.get(`${path()}/record`)).json());
  expect((await readPage()).found).toMatchObject({ proven: false, settles: expect.stringContaining('heavy studs') as string });
  await send([['prove', 'seen', 'volts battery+ battery- off'], { kind: 'volts', startSwitch: false, plus: 'battery+', minus: 'battery-', volts: 12.6 }]);
  const page = await readPage();
  expect(page.measured).toEqual([{ what: 'Volts, plus post to minus post, start switch off', showed: '12.6 V', carries: false }]);
  expect(page.replaced.evidence).toMatchObject({ proven: null, orderable: false });
  expect((await server.get(`/api/jobs/${makeUuid(999)}/record`)).status).toBe(404);
});

test('a job with every step closed is signed off, and says so', async () => {
  await tickAllBut();
  expect((await readList()).blocks).toEqual([]);
  expect((await sign()).status).toBe(200);
  expect((await readList()).signOff).toMatchObject({ state: 'stands', by: 'J' });
});

describe('a sign-off is refused', () => {
  test('with a fault that names each open step', async () => {
    const response = await sign();
    expect(response.status).toBe(422);
    const open = (await readList()).steps.filter((step) => step.required).map((step) => `asLeft.${step.id}`);
    expect(open.length).toBeGreaterThan(10);
    expect(await pathsOf(response)).toEqual(open);
    await expectUnsigned();
  });

  test.each(['interlock-Seat', 'interlock-Neutral', 'read-standing-current', 'battery-on'])('while %s alone is open', async (id) => {
    await tickAllBut(id);
    expect(await pathsOf(await sign())).toEqual([`asLeft.${id}`]);
    await expectUnsigned();
  });

  test.each([
    ['bad', { outcome: 'bad' }, 'interlock-Seat'], ['without an outcome', { outcome: undefined }, 'interlock-Seat'], ['without a name', { by: undefined }, 'interlock-Seat'],
    ['of another state', { of: 'x' }, 'interlock-Seat'], ['without a reading', { reading: undefined }, 'read-contact-drop'], ['beyond its limit', { reading: 0.21 }, 'read-contact-drop'],
    ['beyond its limit the other way about', { reading: -0.21 }, 'read-contact-drop'],
  ])('by a tick that is %s', async (_what, changed, id) => {
    await tickAllBut(id);
    const step = (await readList()).steps.find((each) => each.id === id)!;
    expect((await send([['asLeft', id], { ...tickOf(step), ...changed }])).status).toBe(200);
    expect(await pathsOf(await sign())).toEqual([`asLeft.${id}`]);
    await expectUnsigned();
  });

  test('by a reading of nothing, which is no reading and is not taken at all', async () => {
    await tickAllBut('read-contact-drop');
    const step = (await readList()).steps.find(({ id }) => id === 'read-contact-drop')!;
    expect((await send([['asLeft', step.id], { ...tickOf(step), reading: null }])).status).toBe(422);
    // Field by field the reading is taken away again, and with it what closed the step.
    expect((await send([['asLeft', step.id], tickOf(step)], [['asLeft', step.id, 'reading'], null])).status).toBe(200);
    expect(await pathsOf(await sign())).toEqual(['asLeft.read-contact-drop']);
  });

  test('in one batch with ticks of steps that nobody asks for', async () => {
    await tickAllBut('interlock-Seat');
    const wrong: [string[], unknown][] = [[['asLeft', 'interlock-seat'], { at, by: 'J', outcome: 'good' }], [['asLeft', 'everything'], { at, by: 'J', outcome: 'good' }]];
    expect((await send(...wrong, [['signedOff'], await signature()])).status).toBe(422);
    await expectUnsigned();
    expect((await readJob()).document.asLeft).not.toHaveProperty('everything');
  });

  test('written piece by piece, by another word of the same, or for another state', async () => {
    expect((await send([['signedOff'], {}])).status).toBe(422);
    expect((await send([['signedOff', 'at'], at], [['signedOff', 'by'], 'J'])).status).toBe(422);
    await tickAllBut();
    expect(await pathsOf(await send([['signedOff'], { at, by: 'J' }]))).toEqual(['signedOff.of']);
    expect(await pathsOf(await send([['signedOff'], { ...await signature(), of: 'x' }]))).toEqual(['signedOff.of']);
    expect(await pathsOf(await send([['signedOff'], { ...await signature(), by: '  ' }]))).toEqual(['signedOff.by']);
    await expectUnsigned();
  });

  test('in the batch that takes the interlocks off the list, where the wires still speak of them', async () => {
    await tickAllBut('interlock-Seat', 'interlock-Neutral');
    expect(await pathsOf(await send([['record', 'system', 'interlockList'], []], [['signedOff'], await signature()]))).toContain('record.system.interlockList');
    expect(await pathsOf(await send([['record', 'system', 'interlockList'], null], [['signedOff'], await signature()]))).toContain('record.system.interlockList');
    await expectUnsigned();
  });

  test('for a wiring that is none of the right ones', async () => {
    await tickAllBut();
    const { chosen } = (await readJob()).document;
    const swapped = chosen!.plan!.wires.map((wire) => ({ ...wire, to: wire.to === 't2' ? 't1' : wire.to }));
    await send([['chosen'], { ...chosen, plan: { ...chosen!.plan!, wires: swapped } }]);
    await tickAllBut();
    expect(await pathsOf(await sign())).toEqual(['chosen.plan']);
    await send([['chosen', 'partId'], 'no-such-part']);
    expect(await pathsOf(await sign())).toEqual(['chosen.partId']);
  });

  test('late, from a device that did not know: it is held with its reason, and nothing is signed', async () => {
    await tickAllBut('interlock-Seat');
    const of = (await readList()).signOff.of;
    const { revision } = await readJob();
    const device = '11111111-1111-4111-8111-111111111111';
    await send([['notes'], 'somebody else wrote meanwhile']);
    const late = { id: makeUuid(++edits), field: ['signedOff'], value: { at, by: 'J', of }, base: revision, at, device };
    const response = await server.post(`${path()}/edits`, { edits: [late] });
    expect(response.status).toBe(200);
    await expectUnsigned();
    expect(JSON.stringify((await readJob()).conflicts)).toContain('interlock-Seat');
  });
});

test.each<[string, [string[], unknown]]>([
  ['a wire', [['record', 'wires', 'W1', 'colour'], 'BU']], ['a tick', [['asLeft', 'mount'], null]], ['an interlock', [['record', 'system', 'interlockList'], [{ name: 'Seat', acts: 'return' }]]],
])('a sign-off lapses when %s changes after it, and has to be given anew', async (_what, change) => {
  await tickAllBut();
  await sign();
  expect((await send(change)).status).toBe(200);
  expect((await readList()).signOff).toMatchObject({ state: 'lapsed', by: 'J' });
  // The first signature does not come back to life by being sent once more.
  const { signedOff } = (await readJob()).document;
  expect((await send([['signedOff'], { ...signedOff, by: 'K' }])).status).toBe(422);
});
