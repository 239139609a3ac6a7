import { chromium, type Browser } from '@playwright/test';
import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { ServedProduct } from '../../journeys/served-product.ts';

// The first visit of a device that has nothing of the product yet, on a processor slowed down four times, from the server of this machine:
// until the list of jobs is drawn and a frame has passed, and until a job that was tapped then shows its step. Nothing here is drawn by lot.

const VISITS = 7;
const SLOWER = 4;
const MOST_MS = 2_500;

interface Visit { readonly listMs: number; readonly jobMs: number; readonly longestTaskMs: number }

const note = fileURLToPath(new URL('../../../.local/browser', import.meta.url));
const path = existsSync(note) ? readFileSync(note, 'utf8') : 'bundled';
const product = new ServedProduct();
await product.start();
const browser = await chromium.launch({
  ...(path === 'bundled' ? {} : { executablePath: path }),
  args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'],
});
try {
  // The server's own first answers are not the device's business.
  await visit(browser);
  const visits: Visit[] = [];
  for (let n = 0; n < VISITS; n++) visits.push(await visit(browser));
  for (const { listMs, jobMs, longestTaskMs } of visits) console.log(`list after ${listMs.toFixed(0)} ms, a tapped job ${jobMs.toFixed(0)} ms later, longest task ${longestTaskMs.toFixed(0)} ms`);
  const worst = Math.max(...visits.map(({ listMs }) => listMs));
  const median = visits.map(({ listMs }) => listMs).toSorted((a, b) => a - b)[Math.floor(VISITS / 2)]!;
  const job = visits.map(({ jobMs }) => jobMs).toSorted((a, b) => a - b)[Math.floor(VISITS / 2)]!;
  console.log(`first visit, processor ${SLOWER} times slower, ${VISITS} visits: usable after ${(median / 1000).toFixed(2)} s (worst ${(worst / 1000).toFixed(2)} s, bound ${MOST_MS / 1000} s), a tapped job ${(job / 1000).toFixed(2)} s later; no seed`);
  process.exitCode = median > MOST_MS ? 1 : 0;
} finally {
  await browser.close();
  await product.close();
}

async function visit(into: Browser): Promise<Visit> {
  const context = await into.newContext({ viewport: { width: 390, height: 844 } });
  const page = await context.newPage();
  const session = await context.newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate: SLOWER });
  await page.addInitScript(() => {
    const seen = { longest: 0, list: 0 };
    Object.assign(window, { seen });
    new PerformanceObserver((list) => { for (const { duration } of list.getEntries()) seen.longest = Math.max(seen.longest, duration); }).observe({ type: 'longtask', buffered: true });
    const look = (): void => {
      if (document.querySelector('jobs-screen a.row') === null) requestAnimationFrame(look);
      else requestAnimationFrame(() => { seen.list = performance.now(); });
    };
    requestAnimationFrame(look);
  });
  await page.goto(product.base);
  const listMs = await (await page.waitForFunction(() => (window as unknown as { seen: { list: number } }).seen.list || undefined)).jsonValue();
  const jobMs = await page.evaluate(async () => {
    const start = performance.now();
    document.querySelector<HTMLAnchorElement>('jobs-screen a.row')!.click();
    while (document.querySelector('job-screen h1') === null) await new Promise((resolve) => { requestAnimationFrame(resolve); });
    return performance.now() - start;
  });
  const longestTaskMs = await page.evaluate(() => (window as unknown as { seen: { longest: number } }).seen.longest);
  await context.close();
  return { listMs: listMs ?? Infinity, jobMs, longestTaskMs };
}
