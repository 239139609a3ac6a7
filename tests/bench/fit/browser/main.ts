import { createReadStream, existsSync, readFileSync, writeFileSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { chromium } from '@playwright/test';
import { build } from 'vite';
import { createSnapshotWriter } from '../../../../api/engine/snapshot/index.ts';
import { LIMITS } from '../../../../catalog-schema/index.ts';
import { Bounds, printTimes, summarise } from '../figures.ts';
import { generateParts, type CatalogueFacts } from '../generate-catalogue.ts';
import { generatePrices } from '../generate-prices.ts';
import { generateQuery } from '../generate-query.ts';
import type { PageCalls, PageTimes } from './page-calls.ts';

// Fits in Chromium with no network: the catalogue comes from the device's own store, the product's worker answers, the main thread must not stall.
// Prices are as many as a request may carry (20,000 offers): the parts beyond have none.

const { values } = parseArgs({
  options: { parts: { type: 'string', default: '100000' }, seed: { type: 'string', default: '101' }, queries: { type: 'string', default: '150' }, 'query-seed': { type: 'string', default: '300001' }, unfriendly: { type: 'boolean', default: false } },
});
const facts: CatalogueFacts = { count: Number(values.parts), seed: Number(values.seed), unfriendly: values.unfriendly };
const WARM_UP = 20;
const MOST = 20;
const local = fileURLToPath(new URL('../../../../.local', import.meta.url));
const folder = join(local, 'bench', 'page');
const CONTENT_TYPES: Readonly<Record<string, string>> = { '.html': 'text/html; charset=utf-8', '.js': 'text/javascript', '.json': 'application/json', '.snapshot': 'application/octet-stream' };

await buildPage();
const server = await servePage();
try {
  report(await timeInBrowser(`http://127.0.0.1:${(server.address() as AddressInfo).port}`));
} finally {
  server.close();
}

async function buildPage(): Promise<void> {
  await build({
    root: import.meta.dirname, configFile: false, logLevel: 'error', worker: { format: 'es' },
    build: { outDir: folder, emptyOutDir: true, target: 'es2023', chunkSizeWarningLimit: 2000 },
  });
  const writer = createSnapshotWriter();
  for (const part of generateParts(facts)) writer.add(part);
  writeFileSync(join(folder, 'catalogue.snapshot'), new Uint8Array(writer.finish()));
  const prices = generatePrices(generateParts(facts), { seed: facts.seed, unfriendly: facts.unfriendly === true });
  writeFileSync(join(folder, 'prices.json'), JSON.stringify({ ...prices, offers: prices.offers.slice(0, LIMITS.offers) }));
  const records = Array.from({ length: WARM_UP + Number(values.queries) }, (_, at) => generateQuery(Number(values['query-seed']) + at, facts));
  writeFileSync(join(folder, 'records.json'), JSON.stringify(records));
}

function servePage(): Promise<Server> {
  const serving = createServer((request, response) => {
    const name = new URL(request.url ?? '/', 'http://local').pathname;
    const file = join(folder, name === '/' ? 'index.html' : name);
    if (!file.startsWith(folder) || !existsSync(file)) {
      response.writeHead(404).end();
      return;
    }
    response.writeHead(200, { 'content-type': CONTENT_TYPES[extname(file)] ?? 'application/octet-stream' });
    createReadStream(file).pipe(response);
  });
  return new Promise((resolve) => { serving.listen(0, '127.0.0.1', () => resolve(serving)); });
}

async function timeInBrowser(address: string): Promise<{ bytes: number; times: PageTimes; version: string }> {
  const note = join(local, 'browser');
  const named = existsSync(note) ? readFileSync(note, 'utf8') : 'bundled';
  const browser = await chromium.launch({
    ...(named === 'bundled' ? {} : { executablePath: named }),
    args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'],
  });
  try {
    const context = await browser.newContext();
    const page = await context.newPage();
    const failures: string[] = [];
    page.on('pageerror', (error) => { failures.push(error.message); });
    await page.goto(address);
    const bytes = await page.evaluate(() => (window as unknown as { bench: PageCalls }).bench.keepCatalogue());
    await context.setOffline(true);
    const reached = await page.evaluate(() => fetch('/records.json').then(() => true, () => false));
    if (reached) throw new Error('the page still reaches the network');
    const times = await page.evaluate(([most, warmUp]) => (window as unknown as { bench: PageCalls }).bench.timeFits(most, warmUp), [MOST, WARM_UP] as const);
    if (failures.length > 0) throw new Error(failures.join('; '));
    return { bytes, times, version: browser.version() };
  } finally {
    await browser.close();
  }
}

function report({ bytes, times, version }: { bytes: number; times: PageTimes; version: string }): void {
  const bounds = new Bounds();
  const fits = summarise(times.fitMs);
  const longestTask = Math.max(0, ...times.longTasks);
  const name = `${facts.count.toLocaleString('en')} parts${facts.unfriendly ? ', unfriendly' : ''}`;
  process.stdout.write(`Chromium ${version}, network off, ${name}, catalogue seed ${facts.seed}, records from seed ${values['query-seed']}\n`
    + `  snapshot of ${(bytes / 1e6).toFixed(0)} MB: out of the device's store in ${times.readMs.toFixed(0)} ms, answering after ${times.loadMs.toFixed(0)} ms; price list of ${LIMITS.offers.toLocaleString('en')} offers ready in ${times.priceMs.toFixed(0)} ms\n`
    + `${' '.repeat(54)}p50       p99\n${printTimes('fit in the worker, question and answer', fits, `  ${times.listed} fits listed`)}`
    + `  main thread: longest gap between frames ${times.longestFrameMs.toFixed(1)} ms in ${times.frames} frames, longest task over 50 ms ${longestTask.toFixed(0)} ms (${times.longTasks.length} of them)\n`);
  bounds.judge(`snapshot loaded in under 500 ms: ${times.loadMs.toFixed(0)} ms`, times.loadMs < 500);
  bounds.judge(`a fit in under 15 ms at p99: ${fits.p99.toFixed(1)} ms`, fits.p99 < 15);
  bounds.judge(`no frame over 50 ms on the main thread: ${times.longestFrameMs.toFixed(1)} ms`, times.longestFrameMs <= 50 && times.longTasks.length === 0);
  process.stdout.write(`\n${bounds.print()}bench:fit-browser seed ${facts.seed}, ${facts.count} parts: ${bounds.count - bounds.broken} of ${bounds.count} bounds held\n`);
  process.exitCode = bounds.broken > 0 ? 1 : 0;
}
