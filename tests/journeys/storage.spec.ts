import AxeBuilder from '@axe-core/playwright';
import { expect as expectSoon, test, type Page } from '@playwright/test';
import type { JobState } from '../../catalog-schema/index.ts';
import { readDevice, visitOnce } from './kept-on-device.ts';
import { ServedProduct } from './served-product.ts';

// A page that is made ready for no network is busy: on a slow machine an answer may take longer than elsewhere.
const expect = expectSoon.configure({ timeout: 20_000 });

// A device that cannot keep what is entered, and one whose browser has cleared what was kept: both are said, on every page, in words.

const product = new ServedProduct();
test.beforeAll(() => product.start());
test.afterAll(() => product.close());

async function findFaults(page: Page, what: string): Promise<void> {
  // Otherwise the strip of steps lies over what is scrolled beneath it.
  await page.evaluate(() => scrollTo(0, 0));
  const { violations } = await new AxeBuilder({ page }).withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']).analyze();
  expect.soft(violations.map(({ id, nodes }) => `${what} ${id}: ${nodes.map((node) => node.target.join(' ')).join(', ')}`)).toEqual([]);
  expect.soft(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth), `${what} is wider than the screen`).toBeLessThanOrEqual(0);
}

async function openBench(page: Page): Promise<JobState> {
  const jobs = await (await page.request.get(`${product.base}/api/jobs`)).json() as JobState[];
  const job = jobs.find(({ document }) => document.title.startsWith('Quay sweeper'))!;
  await page.goto(`${product.base}/jobs/${job.id}/bench`);
  await expect(page.getByRole('heading', { name: 'Bench', level: 1 })).toBeVisible();
  return job;
}

async function enter(page: Page, label: string, entry: string): Promise<void> {
  await page.getByLabel(label).fill(entry);
  await page.getByLabel(label).blur();
}

test.use({ viewport: { width: 390, height: 844 } });

test('a full disk is said at once, what was kept stays, and work goes on when there is room again', async ({ browser }) => {
  const context = await browser.newContext({ viewport: { width: 390, height: 844 } });
  const page = await context.newPage();
  // The browser's own answer when there is no more room, as the device would give it.
  await page.addInitScript(() => {
    const device = { full: false };
    Object.assign(window, { device });
    for (const name of ['add', 'put'] as const) {
      const real = IDBObjectStore.prototype[name];
      IDBObjectStore.prototype[name] = function write(this: IDBObjectStore, ...given: Parameters<typeof real>) {
        if (device.full) throw new DOMException('no room', 'QuotaExceededError');
        return real.apply(this, given);
      };
    }
  });
  const turn = (full: boolean): Promise<void> => page.evaluate((now) => { (window as unknown as { device: { full: boolean } }).device.full = now; }, full);
  await visitOnce(page, product.base);
  const job = await openBench(page);
  await context.setOffline(true);
  await enter(page, 'Fuse of the start circuit', '12 A');
  await expect.poll(async () => (await readDevice(page)).edits.length).toBe(1);

  await turn(true);
  await enter(page, 'Longest time held', '8 s');
  // Put before the person wherever on the page they are; then it stands at the top.
  const dialog = page.getByRole('dialog');
  await expect(dialog.getByText('This device is full: what you enter cannot be kept on it.')).toBeVisible();
  await findFaults(page, 'a full device, told');
  await dialog.getByRole('button', { name: 'I have read this' }).click();
  await expect(dialog).toBeHidden();
  await expect(page.getByRole('alert').getByText('This device is full')).toBeVisible();
  await expect(page.getByLabel('Longest time held'), 'it stands in the page all the same').toHaveValue(/8/);
  expect((await readDevice(page)).edits).toHaveLength(1);
  await findFaults(page, 'a full device');

  await turn(false);
  await enter(page, 'Inrush through the contact', '175');
  await expect(page.getByRole('alert').getByText('This device is full')).toBeHidden();
  await context.setOffline(false);
  await page.evaluate(() => dispatchEvent(new Event('online')));
  await expect.poll(async () => ((await (await page.request.get(`${product.base}/api/jobs/${job.id}`)).json()) as JobState).record.demand, { timeout: 30_000 })
    .toMatchObject({ controlFuseA: 12, longestOnS: 8 });
  await context.close();
});

test('a store that the browser has cleared is told, with how much waited in it', async ({ browser }) => {
  const context = await browser.newContext({ viewport: { width: 390, height: 844 } });
  const first = await context.newPage();
  await visitOnce(first, product.base);
  await openBench(first);
  await context.setOffline(true);
  await enter(first, 'Fuse of the start circuit', '11 A');
  await expect.poll(async () => (await readDevice(first)).edits.length).toBe(1);
  await expect(first.getByText('1 thing waits to be sent: server not reached')).toBeVisible();
  await first.close();

  const page = await context.newPage();
  const session = await context.newCDPSession(page);
  await session.send('Storage.clearDataForOrigin', { origin: product.base, storageTypes: 'indexeddb' });
  await page.goto(product.base);
  await expect(page.getByText(/This browser has cleared what was kept here since the last visit. 1 thing was waiting to be sent, the oldest since/)).toBeVisible();
  await findFaults(page, 'a cleared store');
  await page.getByRole('button', { name: 'I have read this' }).click();
  await expect(page.getByText(/This browser has cleared/)).toBeHidden();
  await context.setOffline(false);
  await page.reload();
  await expect(page.locator('jobs-screen a.row').first()).toBeVisible();
  await expect(page.getByText(/This browser has cleared/)).toBeHidden();
  await context.close();
});
