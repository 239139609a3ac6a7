import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect as expectSoon, test, type Page } from '@playwright/test';
import { build } from 'vite';
import type { JobState } from '../../catalog-schema/index.ts';
import { readDevice, visitOnce } from './kept-on-device.ts';
import { ServedProduct } from './served-product.ts';

// A page that is made ready for no network is busy: on a slow machine an answer may take longer than elsewhere.
const expect = expectSoon.configure({ timeout: 20_000 });

// Two versions of the page, one after the other on one server: the second upgrades the device's database. What waited is still there, the
// newer version is offered and not forced, and not taken in the middle of an entry.

const root = fileURLToPath(new URL('../..', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'journey-versions-'));
const served = join(folder, 'served');
const product = new ServedProduct({ screens: served });

test.beforeAll(async () => {
  test.setTimeout(180_000);
  cpSync(process.env['LUGWRIGHT_UI'] ?? join(root, '.local', 'ui'), served, { recursive: true });
  await build({
    configFile: join(root, 'vite.config.ts'), logLevel: 'error', build: { outDir: join(folder, 'newer'), emptyOutDir: true },
    // The next version of the product as far as a device is concerned: one more step for its database.
    plugins: [{
      name: 'next-version', enforce: 'pre',
      transform: (code: string, id: string): string | undefined => {
        if (!id.endsWith('/open-database.ts')) return undefined;
        const next = code.replace(/(createObjectStore\('device'\);\s*\},\n)(\];)/, "$1  (database) => { (database as unknown as IDBDatabase).createObjectStore('added-later'); },\n$2");
        if (next === code) throw new Error('the steps of the database were not found');
        return next;
      },
    }],
  });
  await product.start();
});
test.afterAll(async () => {
  await product.close();
  rmSync(folder, { recursive: true, force: true });
});

const readVersion = (page: Page): Promise<number | undefined> => page.evaluate(async () => (await indexedDB.databases()).find(({ name }) => name === 'lugwright')?.version);

test('a newer version is offered, taken when nothing is half-typed, and finds all that waited', async ({ browser }) => {
  const context = await browser.newContext({ viewport: { width: 820, height: 1180 } });
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(error.message));
  await visitOnce(page, product.base);
  const jobs = await (await page.request.get(`${product.base}/api/jobs`)).json() as JobState[];
  const job = jobs.find(({ document }) => document.title.startsWith('Quay sweeper'))!;
  await page.goto(`${product.base}/jobs/${job.id}/bench`);
  await expect(page.getByRole('heading', { name: 'Bench', level: 1 })).toBeVisible();
  expect(await readVersion(page)).toBe(1);

  // The page's own files can be had, the shop's data cannot.
  await context.route('**/api/**', (route) => route.abort());
  const enter = async (label: string, entry: string): Promise<void> => {
    await page.getByLabel(label).fill(entry);
    await page.getByLabel(label).blur();
  };
  await enter('Fuse of the start circuit', '12 A');
  await enter('Longest time held', '8 s');
  await expect.poll(async () => (await readDevice(page)).edits.length).toBe(2);
  const waited = await readDevice(page);

  await test.step('the newer version is there: it is offered, and waits for an entry that is half-typed', async () => {
    await page.getByLabel('Inrush through the contact').click();
    await page.keyboard.type('17');
    rmSync(served, { recursive: true });
    cpSync(join(folder, 'newer'), served, { recursive: true });
    await page.evaluate(async () => { await (await navigator.serviceWorker.ready).update(); });
    await expect(page.getByText('A new version is ready.')).toBeVisible({ timeout: 30_000 });
    await expect(page.getByText('It can be used once the entry you are at is finished.')).toBeVisible();
    await expect(page.getByRole('button', { name: 'Use it now' })).toBeHidden();
    await expect(page.getByLabel('Inrush through the contact')).toHaveValue('17');
  });

  await test.step('finish the entry, and take it', async () => {
    await page.keyboard.type('5');
    await page.keyboard.press('Tab');
    await expect.poll(async () => (await readDevice(page)).edits.length).toBe(3);
    await page.getByRole('button', { name: 'Use it now' }).click();
    await expect.poll(() => readVersion(page).catch(() => undefined), { timeout: 30_000 }).toBe(2);
    await expect(page.getByRole('heading', { name: 'Bench', level: 1 })).toBeVisible();
    await expect(page.getByText('A new version is ready.')).toBeHidden();
  });

  await test.step('everything that waited is there, and arrives', async () => {
    const now = await readDevice(page);
    expect(now.edits.slice(0, 2)).toEqual(waited.edits);
    expect(now.edits).toHaveLength(3);
    await expect(page.getByLabel('Fuse of the start circuit')).toHaveValue(/12/);
    await context.unroute('**/api/**');
    await page.evaluate(() => dispatchEvent(new Event('online')));
    await expect.poll(async () => (await readDevice(page)).edits.length, { timeout: 30_000 }).toBe(0);
    const after = await (await page.request.get(`${product.base}/api/jobs/${job.id}`)).json() as JobState;
    expect(after.record.demand).toMatchObject({ controlFuseA: 12, longestOnS: 8 });
    expect(after.revision).toBe(job.revision + 3);
  });
  expect(complaints).toEqual([]);
  await context.close();
});
