import { afterEach, expect, test } from 'vitest';
import type { BenchRecord } from '../../../catalog-schema/index.ts';
import { makePart } from '../sample-data.ts';
import { CatalogueFiles } from './catalogue-files.ts';
import { EngineQueue, type EngineLimits } from './engine-queue.ts';

// A thread that does what the text of a `find` task says, so that the queue can be tried without the engine.
const THREAD = new URL(`data:text/javascript,${encodeURIComponent(`
  import { parentPort, threadId } from 'node:worker_threads';
  let parts = [];
  parentPort.on('message', (message) => {
    if (message.kind === 'catalogue') { parts = message.parts; return; }
    const { id, task } = message;
    if (task.text === 'hang') for (;;);
    if (task.text === 'exit') process.exit(3);
    if (task.text === 'throw') throw new Error('thrown out of turn');
    if (task.text === 'fail') return parentPort.postMessage({ id, error: 'found nothing to divide by' });
    const until = Date.now() + 20;
    while (Date.now() < until);
    parentPort.postMessage({ id, answer: { text: task.text, parts: parts.map((part) => part.id), threadId } });
  });
`)}`);

let queue: EngineQueue;
afterEach(() => queue.close());

type Answer = { text: string; parts: string[]; threadId: number };
function open(limits: Partial<EngineLimits> = {}) {
  queue = new EngineQueue({ waiting: 4, taskMs: 5_000, ...limits }, THREAD);
  return async (text: string, parts = [makePart('a')]): Promise<Answer | string> => {
    const outcome = await queue.run({ kind: 'find', text, shop: [] }, parts);
    return outcome.ok ? outcome.value as unknown as Answer : outcome.refusal.kind;
  };
}

test('tasks are answered in turn, each with its own answer', async () => {
  const ask = open();
  const answers = await Promise.all(['1', '2', '3'].map((text) => ask(text)));
  expect(answers.map((answer) => (answer as Answer).text)).toEqual(['1', '2', '3']);
});

test('a task is computed against the catalogue that stood when it was asked', async () => {
  const ask = open();
  const answers = await Promise.all([ask('1', [makePart('a')]), ask('2', [makePart('b')]), ask('3', [makePart('c')])]);
  expect(answers.map((answer) => (answer as Answer).parts)).toEqual([['a'], ['b'], ['c']]);
});

test('as many may wait as the limit says, and the next is turned away at once', async () => {
  const ask = open({ waiting: 2 });
  const answers = await Promise.all(['1', '2', '3', '4'].map((text) => ask(text)));
  expect(answers.map((answer) => typeof answer === 'string' ? answer : answer.text)).toEqual(['1', '2', '3', 'busy']);
  expect(await ask('5')).toMatchObject({ text: '5' });
});

test('a task that takes too long is ended, and those behind it are answered by a new thread', async () => {
  const ask = open({ taskMs: 1_500 });
  const [first, hung, behind] = await Promise.all([ask('1'), ask('hang'), ask('2')]);
  expect(hung).toBe('busy');
  expect(behind).toMatchObject({ text: '2', parts: ['a'] });
  expect((behind as Answer).threadId).not.toBe((first as Answer).threadId);
});

test.each([['fail', 'found nothing to divide by'], ['throw', 'thrown out of turn'], ['exit', 'ended']])(
  'a task whose thread does "%s" fails alone', async (text, why) => {
    const ask = open();
    const [broken, next] = await Promise.allSettled([ask(text), ask('2')]);
    expect(broken).toMatchObject({ status: 'rejected', reason: { message: expect.stringContaining(why) as string } });
    expect(next).toMatchObject({ status: 'fulfilled', value: { text: '2' } });
  },
);

test('closing fails what is under way and what waits, instead of leaving it open', async () => {
  const ask = open();
  const asked = Promise.allSettled([ask('hang'), ask('2')]);
  await new Promise((resolve) => setTimeout(resolve, 100));
  await queue.close();
  expect((await asked).map((each) => each.status)).toEqual(['rejected', 'rejected']);
  await expect(ask('3')).rejects.toThrow('closed');
});

test('the engine itself answers on its thread', async () => {
  queue = new EngineQueue();
  const record: BenchRecord = { partClass: 'start-relay', system: { nominalV: 12 } };
  const outcome = await queue.run({ kind: 'fit', record, wishes: { all: true } }, [makePart('a')]);
  expect(outcome).toMatchObject({ ok: true, value: { considered: 1, fits: [{ partId: 'a' }] } });
});

test('a large catalogue is written on a thread of its own, and answers as a small one does, also after another', async () => {
  const record: BenchRecord = { partClass: 'start-relay', system: { nominalV: 12 } };
  const large = ['a', 'b', 'c'].map((id) => makePart(id));
  queue = new EngineQueue({ waiting: 4, taskMs: 20_000 }, undefined, new CatalogueFiles(3));
  const ask = async (parts = large) => {
    const outcome = await queue.run({ kind: 'fit', record, wishes: { all: true } }, parts);
    return outcome.ok ? outcome.value.fits.map(({ partId }) => partId) : outcome.refusal.kind;
  };
  expect(await ask()).toEqual(['a', 'b', 'c']);
  expect(await queue.run({ kind: 'find', text: 'b', shop: [] }, large)).toMatchObject({ ok: true });
  expect(await ask()).toEqual(['a', 'b', 'c']);
  expect(await ask([makePart('d')])).toEqual(['d']);
  expect(await ask(large.slice(0))).toEqual(['a', 'b', 'c']);
});

test('while a large catalogue is not ready, who asks for a fit is told so, and others are answered', async () => {
  queue = new EngineQueue({ waiting: 4, taskMs: 1 }, undefined, new CatalogueFiles(1));
  const fitted = queue.run({ kind: 'fit', record: { system: { nominalV: 12 } }, wishes: {} }, [makePart('a')]);
  expect(await fitted).toMatchObject({ ok: false, refusal: { kind: 'busy', why: expect.stringContaining('being made ready') as string } });
});
