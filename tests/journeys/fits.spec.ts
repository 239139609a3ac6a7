import AxeBuilder from '@axe-core/playwright';
import { expect, test, type Locator, type Page } from '@playwright/test';
import type { BenchRecord, FitAnswer, JobState, Part, PartOutcome, Prices } from '../../catalog-schema/index.ts';
import { ServedProduct } from './served-product.ts';
import { signOffJob } from './sign-off-job.ts';

// The Fits step: what a part costs and how likely it works, filters, side by side, true size on paper, no network, what the shop learns.

const product = new ServedProduct();
test.beforeAll(() => product.start());
test.afterAll(() => product.close());

async function findJob(page: Page, title: string): Promise<JobState> {
  const jobs = await (await page.request.get(`${product.base}/api/jobs`)).json() as JobState[];
  return jobs.find((job) => job.document.title.startsWith(title))!;
}

async function openFits(page: Page, title: string): Promise<JobState> {
  const job = await findJob(page, title);
  await page.goto(`${product.base}/jobs/${job.id}/fits`);
  await expect(page.locator('.fit-row').first()).toBeVisible();
  return job;
}

/** Nothing that axe finds against WCAG 2.2 AA, in both grounds, and nothing wider than the screen. */
async function holds(page: Page): Promise<void> {
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme });
    const found = await new AxeBuilder({ page }).withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']).analyze();
    expect.soft(found.violations.map(({ id, nodes }) => `${colorScheme} ${id}: ${nodes.map((node) => node.target.join(' ')).join(', ')}`)).toEqual([]);
  }
  expect.soft(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
}

const moneyOf = (text: string): number => Number(/([\d,]+\.\d\d)/.exec(text.replaceAll(' ', ''))![1]!.replaceAll(',', ''));
const listedIds = async (page: Page): Promise<string[]> => (await page.locator('.fit-row .number').allTextContents()).map((text) => text.trim());
const rowOf = (page: Page, partId: string): Locator => page.locator('.fit-line').filter({ has: page.getByText(partId, { exact: true }) });

/** The fits as the server gives them for a record, with its own prices. */
async function askServer(page: Page, record: BenchRecord): Promise<FitAnswer> {
  const prices = await (await page.request.get(`${product.base}/api/prices`)).json() as Prices;
  const response = await page.request.post(`${product.base}/api/fit`, { data: { record, prices, all: true } });
  expect(response.status()).toBe(200);
  return await response.json() as FitAnswer;
}

test('the list says verdict, work, place, cost and likelihood, and filters by keyboard', async ({ page }) => {
  const job = await openFits(page, 'Quay sweeper');
  const answer = await askServer(page, job.record);
  const mayGoOn = answer.fits.filter(({ verdict }) => verdict !== 'no');
  expect(await listedIds(page)).toEqual(mayGoOn.slice(0, 25).map(({ partId }) => partId));
  const first = page.locator('.fit-line').first();
  await expect(first).toContainText(/Goes on/);
  expect(moneyOf((await first.locator('.figure-inline').textContent())!)).toBe(mayGoOn[0]!.expectedCost!.total);
  await expect(first).toContainText(/to work, .*%/);
  await expect(first).toContainText(/bin \w+, \d+ free|comes /);

  await test.step('arrow keys go through the verdicts; the refused give their reason', async () => {
    await page.getByRole('radio', { name: `May go on (${mayGoOn.length})` }).focus();
    for (let step = 0; step < 4; step++) await page.keyboard.press('ArrowRight');
    await expect(page.getByRole('radio', { name: `Will not do (${answer.fits.length - mayGoOn.length})` })).toBeChecked();
    const refused = page.locator('.fit-line').first();
    await expect(refused).toContainText('Will not do');
    await expect(refused.locator('.row-what')).toHaveText(/^[A-Z][\w -]+: .{10,}/);
    await page.getByRole('radio', { name: 'May go on' }).check({ force: true });
  });

  await test.step('the shelf and each supplier are choices with their counts', async () => {
    const place = page.getByLabel('From');
    const shelf = (await place.locator('option').allTextContents()).find((text) => text.includes('our shelf'))!.trim();
    const count = Number(/\((\d+)\)/.exec(shelf)![1]);
    expect(count).toBeGreaterThan(0);
    expect(count).toBeLessThan(mayGoOn.length);
    await place.selectOption({ label: shelf });
    expect(await listedIds(page)).toHaveLength(count);
    const supplier = (await place.locator('option').allTextContents())[2]!.trim();
    await place.selectOption({ label: supplier });
    expect(await listedIds(page)).toHaveLength(Number(/\((\d+)\)/.exec(supplier)![1]));
  });
});

test.describe('on a phone', () => {
  test.use({ viewport: { width: 390, height: 844 } });

  test('one opened adds its cost up, marks what bears on safety, and shows each wire\'s way', async ({ page }) => {
    await openFits(page, 'Quay sweeper');
    await page.getByRole('link', { name: /bh-6410-12/ }).click();
    const rows = page.locator('.cost-table tbody .money');
    await expect(rows).toHaveCount(5);
    const parts = (await rows.allTextContents()).map(moneyOf);
    const total = moneyOf((await page.locator('.cost-table tfoot .money').textContent())!);
    expect(Math.round(parts.reduce((sum, part) => sum + part * 100, 0))).toBe(Math.round(total * 100));
    await expect(page.locator('p.caption').filter({ hasText: /wire W3 moves from t1 to 50/ })).toBeVisible();
    await expect(page.locator('.checks li[data-outcome="work"]').filter({ hasText: 'Wiring' })).toContainText('safety');
    // What there is to beware of stands above the wiring it speaks of.
    const [caution, wiring] = [await page.locator('.caution').filter({ hasText: 'Battery negative off first' }).boundingBox(), await page.locator('wiring-picture').boundingBox()];
    expect(caution!.y).toBeLessThan(wiring!.y);
    await holds(page);
  });

  test('three lie beside the removed part, whose column stays while the others pass', async ({ page }) => {
    await openFits(page, 'Quay sweeper');
    for (const id of ['ov-3120-12', 'slb-u1-12', 'bh-6410-12']) await rowOf(page, id).getByRole('checkbox').check();
    await expect(rowOf(page, 'pw-45-012').getByRole('checkbox')).toBeDisabled();
    await expect(page.getByText('Three parts picked')).toBeInViewport();
    await holds(page);
    await page.getByRole('link', { name: 'Lay them side by side' }).click();
    const table = page.getByRole('table', { name: 'Side by side' });
    await expect(table.getByRole('columnheader')).toHaveCount(5);
    await expect(table.locator('[data-row="cost"] [role="cell"]')).toHaveText(['', /€/, /€/, /€/]);
    await expect(table.locator('[data-row="ohms"] [role="cell"]').first()).toContainText('Ω');
    const old = table.locator('[data-row="ohms"] .beside-old');
    const before = (await old.boundingBox())!.x;
    await page.locator('.beside-scroll').evaluate((scroll) => { scroll.scrollLeft = 300; });
    await page.waitForTimeout(300);
    expect(await page.locator('.beside-scroll').evaluate((scroll) => scroll.scrollLeft)).toBeGreaterThan(50);
    expect(Math.abs((await old.boundingBox())!.x - before)).toBeLessThan(18);
    await holds(page);
    // Going back finds the picks as they were.
    await page.goBack();
    await expect(rowOf(page, 'slb-u1-12').getByRole('checkbox')).toBeChecked();
  });
});

test('the bracket prints at true size on one page, A4 and letter', async ({ page }) => {
  await openFits(page, 'Quay sweeper');
  await page.getByRole('link', { name: /slb-u1-12/ }).click();
  await expect(page.getByText('Bracket pattern at true size')).toBeVisible();
  for (const [paper, box] of [['A4', [595, 842]], ['Letter', [612, 792]]] as const) {
    await page.locator('.pattern-choice label').filter({ hasText: paper }).click();
    const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
    expect(pdf.match(/\/Type\s*\/Page\b/g)).toHaveLength(1);
    const [, width, height] = /\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)\s*\]/.exec(pdf)!;
    expect(Number(width)).toBeCloseTo(box[0], -0.5);
    expect(Number(height)).toBeCloseTo(box[1], -0.5);
    // Laid out for paper, a millimetre is 96 / 25.4 CSS px: the bolts' 52 mm and the bar's 100 mm are that long.
    await page.emulateMedia({ media: 'print' });
    const lengths = await page.locator('pattern-sheet').evaluate((sheet) => {
      const root = sheet.shadowRoot!;
      const middle = (element: Element): number => { const at = element.getBoundingClientRect(); return at.left + at.width / 2; };
      const bolts = [...root.querySelectorAll('circle.bolt')].map(middle);
      const bars = [...root.querySelectorAll('g.mark > line')].map((line) => line.getBoundingClientRect()).map(({ width: across, height: down }) => Math.max(across, down));
      return { bolts: Math.abs(bolts[1]! - bolts[0]!) / (96 / 25.4), bars: bars.map((length) => length / (96 / 25.4)) };
    });
    expect(lengths.bolts).toBeCloseTo(52, 1);
    expect(lengths.bars.filter((length) => Math.abs(length - 100) < 0.1)).toHaveLength(2);
    await page.emulateMedia({ media: null });
  }
});

test('with no network a changed reading renews the fits, and they are the server\'s', async ({ page, context }) => {
  const job = await openFits(page, 'Quay sweeper');
  const before = await listedIds(page);
  await page.getByRole('link', { name: /^Bench/ }).first().click();
  await expect(page.getByLabel('Inrush through the contact')).toBeVisible();
  await context.setOffline(true);
  const inrush = page.getByLabel('Inrush through the contact');
  await inrush.fill('430 A');
  await inrush.blur();
  await expect(page.getByText('1 not sent')).toBeVisible();
  await page.getByRole('link', { name: /^Fits/ }).first().click();
  await expect(page.getByText('parts of the catalogue compared')).toBeVisible();
  const offline = await listedIds(page);
  const costs = (await page.locator('.fit-row .figure-inline').allTextContents()).map(moneyOf);
  await page.locator('.fit-row').first().click();
  await expect(page.getByText('What was checked')).toBeVisible();
  expect(offline).not.toEqual(before);

  await context.setOffline(false);
  await expect(page.getByText('all sent')).toBeVisible({ timeout: 20_000 });
  const { record } = await (await page.request.get(`${product.base}/api/jobs/${job.id}`)).json() as JobState;
  expect(record.demand?.inrushA).not.toEqual(job.record.demand?.inrushA);
  const server = (await askServer(page, record)).fits.filter(({ verdict }) => verdict !== 'no').slice(0, 25);
  expect(offline).toEqual(server.map(({ partId }) => partId));
  expect(costs).toEqual(server.flatMap(({ expectedCost }) => (expectedCost === null ? [] : [expectedCost.total])));
  // The job is left as it was found.
  await page.getByRole('button', { name: /^Undo/ }).click();
  await expect.poll(async () => (await findJob(page, 'Quay sweeper')).record.demand?.inrushA).toEqual(job.record.demand?.inrushA);
});

test('what to measure next says what it saves, and one tap leads to its place', async ({ page }) => {
  const job = await openFits(page, 'Counter');
  const reading = page.locator('.fit-readings li').first();
  await expect(reading).toContainText(/is expected to save .*\d/);
  await reading.getByRole('link').click();
  await expect(page).toHaveURL(new RegExp(`/jobs/${job.id}/as-found`));
  await page.goto(`${product.base}/jobs/${job.id}/bench/demand-inrushA`);
  await expect(page.getByLabel('Inrush through the contact')).toBeFocused();
  const chipper = await findJob(page, 'Storm chipper');
  await page.goto(`${product.base}/jobs/${chipper.id}/as-found/${chipper.record.wires![2]!.tag}`);
  await expect(page.locator('#wire-editor-title')).toContainText(chipper.record.wires![2]!.tag);
});

test('a part that came back costs more and works less likely from then on', async ({ page }) => {
  const job = await openFits(page, 'Deck scrubber');
  const partId = (await listedIds(page))[0]!;
  const before = moneyOf((await rowOf(page, partId).locator('.figure-inline').textContent())!);
  await signOffJob(page.request, product.base, job.id, partId, 'Ans');
  await page.goto(`${product.base}/jobs/${job.id}/record`);
  await page.getByRole('button', { name: 'It came back' }).click();
  await expect(page.getByRole('button', { name: 'Keep it' })).toBeDisabled();
  await page.getByRole('radio', { name: 'it worked, then failed' }).check({ force: true });
  await page.getByLabel('In your own words').fill('welded after a week');
  await holds(page);
  await page.getByRole('button', { name: 'Keep it' }).click();
  await expect(page.getByText('came back: it worked, then failed')).toBeVisible();
  const outcomes = await (await page.request.get(`${product.base}/api/outcomes?jobId=${job.id}`)).json() as PartOutcome[];
  expect(outcomes).toMatchObject([{ partId, result: 'came-back', reason: 'failed', words: 'welded after a week', machineKind: 'deck scrubber' }]);

  await page.getByRole('link', { name: /^Fits/ }).first().click();
  await expect(rowOf(page, partId)).toBeVisible();
  const after = moneyOf((await rowOf(page, partId).locator('.figure-inline').textContent())!);
  expect(after).toBeGreaterThan(before);
  await rowOf(page, partId).getByRole('link').click();
  await expect(page.getByText('held on no machine, came back on 1')).toBeVisible();
  await expect(page.getByText(/the share that holds lies between 0 and \d+ % \(95 % interval\)/)).toBeVisible();
});

test('of a large catalogue the first fits are shown, and more on asking', async ({ page }) => {
  const parts = await (await page.request.get(`${product.base}/api/catalogue`)).json() as Part[];
  const many = Array.from({ length: 8 }, (_, copy) => parts.map((part): Part => (
    copy === 0 ? part : { ...part, id: `${part.id}#${copy}`, ...(part.supersededBy === undefined ? {} : { supersededBy: part.supersededBy.map((id) => `${id}#${copy}`) }) }
  ))).flat();
  await page.route('**/api/catalogue', (route) => route.fulfill({ json: many }));
  // Without the server's snapshot the worker makes its own of the parts.
  await page.route('**/api/catalogue/snapshot*', (route) => route.fulfill({ status: 503, body: '' }));
  await openFits(page, 'Quay sweeper');
  await expect(page.getByText(`${many.length} parts of the catalogue compared`)).toBeVisible();
  await expect(page.getByText('The best 60 under this filter.')).toBeVisible();
  const more = page.getByRole('button', { name: /Show/ });
  for (let rows = 25; rows < 75; rows += 25) {
    await expect(page.locator('.fit-row')).toHaveCount(rows);
    await more.click();
  }
  await expect(page.locator('.fit-row')).toHaveCount(75);
  expect(new Set(await listedIds(page)).size).toBe(75);
  await page.getByRole('radio', { name: 'Goes on as it is' }).check({ force: true });
  await expect(page.getByRole('radio', { name: /Goes on as it is \(24\)/ })).toBeChecked();
  await page.getByRole('radio', { name: 'Will not do' }).check({ force: true });
  await expect(page.locator('.fit-row').first()).toContainText('Will not do');
  // One that the list does not reach opens all the same.
  const refused = (await listedIds(page))[20]!;
  await page.locator('.fit-line').nth(20).getByRole('link').click();
  await expect(page.getByText('What was checked')).toBeVisible();
  await expect(page.locator('.opened-facts .number').first()).toHaveText(refused);
});
