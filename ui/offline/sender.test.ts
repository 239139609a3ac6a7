import { describe, expect, it } from 'vitest';
import type { Reach } from '../client/index.ts';
import { NewsChannel } from './news.ts';
import { PAUSES_MS, Sender, type Drained, type Queue } from './sender.ts';

/** Locks of one browser: one holder at a time, the others in line. */
function makeLocks(): Pick<LockManager, 'request'> {
  let last: Promise<unknown> = Promise.resolve();
  return { request: ((_name: string, work: () => Promise<unknown>) => { last = last.then(work, work); return last; }) as LockManager['request'] };
}

function makePage(answers: Drained[], locks = makeLocks()) {
  const timers: { work: () => void; ms: number }[] = [];
  const reaches: Reach[] = [];
  const news = new NewsChannel(undefined);
  news.follow((each) => { if (each.kind === 'reach') reaches.push(each.reach); });
  let drains = 0;
  const queue: Queue = { drain: async () => { drains += 1; return answers.shift() ?? 'empty'; } };
  const sender = new Sender([queue], news, { locks, later: (work, ms) => { timers.push({ work, ms }); return () => {}; } });
  return { sender, timers, reaches, drains: () => drains };
}

describe('sending what waits', () => {
  it('tries again by itself while the server is not reached, ever less often, and at once when woken', async () => {
    const { sender, timers, reaches, drains } = makePage([...Array.from({ length: 6 }, (): Drained => 'unreachable'), 'empty', 'unreachable']);
    const settle = (): Promise<void> => new Promise((resolve) => { setTimeout(resolve, 1); });
    await sender.wake();
    for (let n = 0; n < 5; n++) {
      timers.at(-1)!.work();
      await settle();
    }
    expect(timers.map(({ ms }) => ms)).toEqual([...PAUSES_MS, PAUSES_MS.at(-1), PAUSES_MS.at(-1)]);
    await sender.wake();
    expect([reaches.at(-1), drains()]).toEqual(['reached', 7]);
    await sender.wake();
    expect(timers.at(-1)!.ms).toBe(PAUSES_MS[0]);
  });

  it('waits for a person after a sign-out', async () => {
    const { sender, timers, reaches } = makePage(['signed-out']);
    await sender.wake();
    expect([timers.length, reaches]).toEqual([0, ['signed-out']]);
    await sender.wake();
    expect(reaches).toEqual(['signed-out', 'reached']);
  });

  it('leaves a later queue alone while an earlier one is stuck', async () => {
    const order: string[] = [];
    const news = new NewsChannel(undefined);
    let first: Drained = 'unreachable';
    const sender = new Sender([
      { drain: async () => { order.push('jobs'); return first; } }, { drain: async () => { order.push('edits'); return 'empty'; } },
    ], news, { locks: makeLocks(), later: () => () => {} });
    await sender.wake();
    first = 'empty';
    await sender.wake();
    expect(order).toEqual(['jobs', 'jobs', 'edits']);
  });

  it('is done by one page at a time', async () => {
    const locks = makeLocks();
    let at = 0;
    let most = 0;
    const queue: Queue = {
      drain: async () => {
        at += 1;
        most = Math.max(most, at);
        await new Promise((resolve) => { setTimeout(resolve, 2); });
        at -= 1;
        return 'empty';
      },
    };
    const pages = [1, 2, 3].map(() => new Sender([queue], new NewsChannel(undefined), { locks, later: () => () => {} }));
    await Promise.all(pages.map((page) => page.wake()));
    expect(most).toBe(1);
  });

  it('sends what was queued while it was sending', async () => {
    let left = 1;
    let wake = (): void => {};
    const queue: Queue = {
      drain: async () => {
        if (left > 0) { left -= 1; wake(); }
        drains += 1;
        return 'empty';
      },
    };
    let drains = 0;
    const sender = new Sender([queue], new NewsChannel(undefined), { locks: makeLocks(), later: () => () => {} });
    wake = () => void sender.wake();
    await sender.wake();
    expect(drains).toBe(2);
  });
});
