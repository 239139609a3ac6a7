import { beforeEach, describe, expect, it } from 'vitest';
import { AppUpdate, type WaitsFor } from './app-update.ts';

/** A browser's service workers, a page that may be in the middle of something, and what happened to it. */
function makePage(first: boolean) {
  const page = { unfinished: undefined as WaitsFor | undefined, reloads: 0, told: 0, messages: [] as unknown[] };
  const quiet: (() => void)[] = [];
  const registration = Object.assign(new EventTarget(), {
    waiting: null as ServiceWorker | null, installing: null as (EventTarget & Partial<ServiceWorker>) | null, update: () => Promise.resolve(),
  });
  const workers = Object.assign(new EventTarget(), { controller: first ? null : {}, register: () => Promise.resolve(registration) });
  const update = new AppUpdate({
    workers: workers as unknown as ServiceWorkerContainer, findUnfinished: () => page.unfinished, reload: () => { page.reloads += 1; }, onQuiet: (work) => { quiet.push(work); },
  });
  update.addEventListener('change', () => { page.told += 1; });
  const worker = { postMessage: (message: unknown) => { page.messages.push(message); } } as unknown as ServiceWorker;
  return {
    page, update,
    finishFirst: () => { workers.controller = {}; workers.dispatchEvent(new Event('controllerchange')); },
    bringNewer: () => {
      registration.installing = new EventTarget();
      registration.dispatchEvent(new Event('updatefound'));
      registration.waiting = worker;
      registration.installing.dispatchEvent(new Event('statechange'));
    },
    takeOver: () => { workers.dispatchEvent(new Event('controllerchange')); },
    goQuiet: () => { page.unfinished = undefined; for (const work of quiet) work(); },
  };
}

describe('a newer version of the page', () => {
  let page: ReturnType<typeof makePage>;
  beforeEach(async () => {
    page = makePage(false);
    await page.update.start();
  });

  it('is offered, and taken when a person says so', () => {
    page.bringNewer();
    expect([page.update.ready, page.page.messages, page.page.reloads]).toEqual([true, [], 0]);
    page.update.take();
    expect(page.page.messages).toEqual([{ type: 'SKIP_WAITING' }]);
    page.takeOver();
    expect(page.page.reloads).toBe(1);
  });

  it('is not taken while something would be lost, and says what', () => {
    page.bringNewer();
    page.page.unfinished = 'half-typed';
    page.update.take();
    expect([page.page.messages, page.update.waitsFor]).toEqual([[], 'half-typed']);
    page.goQuiet();
    page.update.take();
    expect(page.page.messages).toHaveLength(1);
  });

  it('that was taken in another window leaves this one alone until its entry is finished', () => {
    page.page.unfinished = 'half-typed';
    page.takeOver();
    expect([page.page.reloads, page.update.ready]).toEqual([0, true]);
    page.goQuiet();
    expect(page.page.reloads).toBe(1);
  });
});

describe('the first version ever', () => {
  it('is no newer version of anything: it is not offered, and its taking over loads nothing again', async () => {
    const page = makePage(true);
    await page.update.start();
    page.bringNewer();
    page.finishFirst();
    expect([page.update.ready, page.page.reloads]).toEqual([false, 0]);
    // The next one is, also in the same visit.
    page.takeOver();
    expect(page.page.reloads).toBe(1);
  });
});
