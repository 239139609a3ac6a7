import AxeBuilder from '@axe-core/playwright';
import { expect, test } from '@playwright/test';
import type { JobState, OfferState } from '../../catalog-schema/index.ts';
import { BURNT, PATIENCE, tellSeen } from './prove-machine.ts';
import { beginJob } from './record-four-wires.ts';
import { ServedProduct } from './served-product.ts';

// Every screen, on a phone, in the light and the dark theme: nothing that axe finds against WCAG 2.2 AA, nothing wider than the screen,
// no error in the page, and an answer within the time a person notices.

const product = new ServedProduct();
test.beforeAll(() => product.start());
test.afterAll(() => product.close());
test.use({ viewport: { width: 390, height: 844 } });

const STEPS = ['prove', 'as-found', 'bench', 'fits', 'get', 'as-left', 'record'] as const;

for (const colorScheme of ['light', 'dark'] as const) {
  test(`every screen holds on a phone, ${colorScheme}`, async ({ page, request }) => {
    // There are many screens, and each is looked through by axe.
    test.setTimeout(240_000);
    await page.emulateMedia({ colorScheme });
    const complaints: string[] = [];
    page.on('pageerror', (error) => complaints.push(error.message));
    page.on('console', (message) => { if (message.type() === 'error') complaints.push(message.text()); });
    const jobs = await (await request.get(`${product.base}/api/jobs`)).json() as JobState[];
    const sweeper = jobs.find((job) => job.document.title.startsWith('Quay sweeper'))!;
    // An order with everything on it: in part received, wrong and damaged ones, a return.
    const order = '00000000-0000-4000-8000-0000000000a1';
    const [offer] = await (await request.get(`${product.base}/api/suppliers/holmwick-starter-works/offers`)).json() as OfferState[];
    const at = new Date().toISOString();
    const named = (n: number): string => `00000000-0000-4000-8000-0000000000b${n}`;
    await request.post(`${product.base}/api/orders`, { data: { id: order, supplierId: 'holmwick-starter-works', at, lines: [{ lineId: named(1), partId: offer!.offer.partId, qty: 3, serves: [{ id: named(2), jobId: sweeper.id, qty: 2 }] }] } });
    const acted = await request.post(`${product.base}/api/orders/${order}/acts`, { data: { acts: [
      { kind: 'approved', id: named(3), at }, { kind: 'sent', id: named(4), at }, { kind: 'received', id: named(5), at, lines: [{ lineId: named(1), good: 1, damaged: 1, wrong: 1, bin: 'A1' }] },
      { kind: 'returned', id: named(6), at, lineId: named(1), qty: 1, reason: 'damaged' },
    ] } });
    expect(acted.status()).toBe(200);
    const draft = '00000000-0000-4000-8000-0000000000a2';
    await request.post(`${product.base}/api/orders`, { data: { id: draft, supplierId: 'holmwick-starter-works', at, lines: [{ lineId: named(7), partId: offer!.offer.partId, qty: 1 }] } });
    const paths = ['/', '/orders', `/orders/${order}`, `/orders/${draft}`, '/suppliers', '/suppliers/holmwick-starter-works', '/start', '/counter', '/settings', '/sign-in', '/gauge', '/waiting', '/shelf', '/shelf/part/ov-3120-12', '/shelf/count', '/shelf/labels/A4', '/find/D%20l188', ...STEPS.map((step) => `/jobs/${sweeper.id}/${step}`), `/jobs/${sweeper.id}/bench/photograph`];
    // Begun, and proven: what the drawing and the page say then.
    const [begun, proven] = [await beginJob(page, product.base), await beginJob(page, product.base)];
    await tellSeen(request, product.base, begun, BURNT.slice(0, 2));
    await tellSeen(request, product.base, proven, BURNT);
    // A job that wants a part, so that there is a plan.
    await request.post(`${product.base}/api/jobs/${begun}/edits`, { data: { edits: [{ id: named(8), field: ['chosen'], value: { partId: 'slb-u1-12', plan: null }, base: 0, at }] } });
    paths.push('/plan', '/plan/reorder', `/jobs/${begun}/get`, `/jobs/${begun}/prove`, `/jobs/${proven}/prove`, `/jobs/${proven}/record`);
    for (const path of paths) {
      await page.goto(`${product.base}${path}`);
      await expect(page.locator('h1').first()).toBeVisible();
      if (path === `/jobs/${proven}/prove`) await expect(page.locator('.crank-verdict[data-proven="true"]')).toBeVisible({ timeout: PATIENCE });
      if (path === '/plan') await expect(page.locator('.plan-fill').first()).toBeVisible({ timeout: PATIENCE });
      if (path === '/plan/reorder') await expect(page.locator('.plan-other').first()).toBeVisible();
      if (path.startsWith('/find')) await expect(page.locator('.found-part').first()).toBeVisible();
      if (path.endsWith('/fits')) await expect(page.locator('.fit-row').first()).toBeVisible();
      const found = await new AxeBuilder({ page }).withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']).analyze();
      expect.soft(found.violations.map(({ id, nodes }) => `${path} ${id}: ${nodes.map((node) => node.target.join(' ')).join(', ')}`)).toEqual([]);
      expect.soft(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth), `${path} is wider than the screen`).toBeLessThanOrEqual(0);
    }
    expect(complaints).toEqual([]);
  });
}

test('moving between steps answers before a person notices', async ({ page, request }) => {
  const jobs = await (await request.get(`${product.base}/api/jobs`)).json() as JobState[];
  await page.goto(`${product.base}/jobs/${jobs[0]!.id}/fits`);
  await expect(page.locator('.fit-row').first()).toBeVisible();
  const times: number[] = [];
  for (let round = 0; round < 3; round++) {
    for (const [link, heading] of [['Bench', 'Bench'], ['As found', 'As found'], ['Fits', 'Fits'], ['Get', 'Get']] as const) {
      // Measured inside the page, from the click to the frame that shows the step: the test's own round trips do not count.
      times.push(await page.evaluate(async ([name, title]) => {
        const anchor = [...document.querySelectorAll<HTMLAnchorElement>('a')].find((a) => a.textContent?.trim().startsWith(name))!;
        const start = performance.now();
        anchor.click();
        while (document.querySelector('h1')?.textContent?.trim() !== title) await new Promise((resolve) => requestAnimationFrame(resolve));
        return performance.now() - start;
      }, [link, heading] as const));
    }
  }
  const median = times.toSorted((a, b) => a - b)[Math.floor(times.length / 2)]!;
  console.log(`a step shows in ${median.toFixed(0)} ms (median of ${times.length}, worst ${Math.max(...times).toFixed(0)} ms)`);
  expect(median).toBeLessThan(100);
});
