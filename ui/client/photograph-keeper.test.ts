import { describe, expect, it } from 'vitest';
import { PhotographKeeper } from './photograph-keeper.ts';
import { ServiceFault } from './service.ts';

const settle = (): Promise<void> => new Promise((resolve) => { setTimeout(resolve, 0); });
const picture = new Blob(['a']);

/** A server in memory, and timers the test runs. */
function makeKeeper() {
  const stored = new Map<string, Blob>();
  const server = { answer: 'takes' as 'takes' | 'unreachable' | 'refuses', posts: 0, reads: 0 };
  const timers: (() => void)[] = [];
  const keeper = new PhotographKeeper({
    keepPhotograph: async (jobId, blob) => {
      server.posts += 1;
      if (server.answer === 'unreachable') throw new ServiceFault('unreachable', '');
      if (server.answer === 'refuses') throw new ServiceFault('refused', 'input: found text');
      stored.set(jobId, blob);
      return { hash: 'h', type: 'image/jpeg', bytes: 1, widthPx: 1, heightPx: 1 };
    },
    readPhotograph: async (jobId) => {
      server.reads += 1;
      const blob = stored.get(jobId);
      if (blob === undefined) throw new ServiceFault('not-found', '');
      return blob;
    },
  }, (work) => { timers.push(work); return () => {}; });
  return { keeper, server, timers, stored };
}

describe('photographs of this page', () => {
  it('serve at once and are sent', async () => {
    const { keeper, stored, server } = makeKeeper();
    keeper.keep('j', 'h', picture);
    expect(keeper.stateOf('h')).toEqual({ kind: 'waiting', reached: true });
    expect(await keeper.find('j', 'h')).toBe(picture);
    await settle();
    expect([stored.get('j'), keeper.waiting, keeper.stateOf('h'), server.reads]).toEqual([picture, 0, { kind: 'sent' }, 0]);
  });

  it('wait while the server is not reached, and are sent in their order when it is', async () => {
    const { keeper, server, timers, stored } = makeKeeper();
    server.answer = 'unreachable';
    keeper.keep('j', 'h', picture);
    keeper.keep('k', 'i', new Blob(['b']));
    await settle();
    expect([keeper.waiting, keeper.stateOf('h'), timers.length]).toEqual([2, { kind: 'waiting', reached: false }, 1]);
    server.answer = 'takes';
    timers.at(-1)!();
    await settle();
    expect([keeper.waiting, [...stored.keys()]]).toEqual([0, ['j', 'k']]);
  });

  it('are not sent again once refused, and say why', async () => {
    const { keeper, server } = makeKeeper();
    server.answer = 'refuses';
    keeper.keep('j', 'h', picture);
    await settle();
    expect([keeper.waiting, keeper.stateOf('h')]).toEqual([0, { kind: 'refused', why: 'input: found text' }]);
    keeper.sendNow();
    await settle();
    expect(server.posts).toBe(1);
  });

  it('are fetched once from the server where another device took them', async () => {
    const { keeper, server, stored } = makeKeeper();
    stored.set('j', picture);
    expect(await keeper.find('j', 'h')).toBe(picture);
    expect(await keeper.find('j', 'h')).toBe(picture);
    expect(server.reads).toBe(1);
    await expect(keeper.find('other', 'x')).rejects.toMatchObject({ kind: 'not-found' });
  });
});
