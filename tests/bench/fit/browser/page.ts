import type { BenchRecord, Prices } from '../../../../catalog-schema/index.ts';
import { createEngineClient } from '../../../../ui/worker/index.ts';
import type { PageCalls, PageTimes } from './page-calls.ts';

// The page beside the worker: what a screen does, without a screen. Its frames are watched while the worker loads and answers.

const STORE = 'bench';
const client = createEngineClient();
let prices: Prices | undefined;
let records: BenchRecord[] = [];

/** With network: puts the catalogue where a device keeps it, and starts the worker. */
async function keepCatalogue(): Promise<number> {
  const store = await caches.open(STORE);
  await store.add('/catalogue.snapshot');
  prices = await (await fetch('/prices.json')).json() as Prices;
  records = await (await fetch('/records.json')).json() as BenchRecord[];
  await client.identify({ system: { nominalV: 12 } });
  return (await (await store.match('/catalogue.snapshot'))!.arrayBuffer()).byteLength;
}

/** Without network: opens the catalogue from the device, then fits one record after the other. */
async function timeFits(most: number, warmUp: number): Promise<PageTimes> {
  const watch = watchFrames();
  const start = performance.now();
  const bytes = await (await (await caches.open(STORE)).match('/catalogue.snapshot'))!.arrayBuffer();
  const read = performance.now();
  await client.load(bytes, undefined);
  const loadMs = performance.now() - start;
  const withPrices = performance.now();
  await client.price(prices);
  const priceMs = performance.now() - withPrices;

  const fitMs: number[] = [];
  let listed = 0;
  for (const [at, record] of records.entries()) {
    // A frame in between, as between two touches of a person.
    await new Promise((resolve) => { requestAnimationFrame(resolve); });
    const asked = performance.now();
    const answer = await client.fit(record, { most });
    if (at < warmUp) continue;
    fitMs.push(performance.now() - asked);
    listed += answer.fits.length;
  }
  return { readMs: read - start, loadMs, priceMs, fitMs, listed, ...watch() };
}

/** Gaps between frames of the main thread, and tasks it was busy with for longer than 50 ms, until the returned function is called. */
function watchFrames(): () => { longestFrameMs: number; frames: number; longTasks: number[] } {
  const longTasks: number[] = [];
  const observer = new PerformanceObserver((list) => { for (const { duration } of list.getEntries()) longTasks.push(duration); });
  observer.observe({ type: 'longtask' });
  let longestFrameMs = 0;
  let frames = 0;
  let before = performance.now();
  let request = requestAnimationFrame(function look() {
    const now = performance.now();
    longestFrameMs = Math.max(longestFrameMs, now - before);
    before = now;
    frames += 1;
    request = requestAnimationFrame(look);
  });
  return () => {
    cancelAnimationFrame(request);
    observer.disconnect();
    return { longestFrameMs, frames, longTasks };
  };
}

(window as unknown as { bench: PageCalls }).bench = { keepCatalogue, timeFits };
