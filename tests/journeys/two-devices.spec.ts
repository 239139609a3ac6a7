import AxeBuilder from '@axe-core/playwright';
import { expect, test, type Browser, type BrowserContext, type Locator, type Page } from '@playwright/test';
import type { JobState, LoggedEdit } from '../../catalog-schema/index.ts';
import { ServedProduct } from './served-product.ts';

// Two devices on one job, both without a network: what they write in different fields is merged, what they write in one field is kept
// twice until a person chooses, and both show the same in the end. Then one that is closed before it could send anything.

const product = new ServedProduct();
test.beforeAll(() => product.start());
test.afterAll(() => product.close());

/** A device of its own: nothing is shared with the other but the server. */
async function openDevice(browser: Browser, name: string, viewport: { width: number; height: number }): Promise<{ context: BrowserContext; page: Page; complaints: string[] }> {
  const context = await browser.newContext({ viewport });
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(error.message));
  await page.goto(`${product.base}/settings`);
  await page.getByLabel('Your name').fill(name);
  await page.getByLabel('Your name').blur();
  return { context, page, complaints };
}

async function choose(page: Page, group: string, option: string): Promise<void> {
  await page.getByRole('group', { name: group, exact: true }).locator('label').filter({ hasText: option }).first().click();
}

const openWire = (page: Page, tag: string): Promise<void> => page.locator('button.wire-row').filter({ hasText: tag }).click();
const allSent = (page: Page): Promise<void> => expect(page.getByText('all sent')).toBeVisible();
const choices = (page: Page): Locator => page.locator('choice-list > details');

/** Nothing that axe finds against WCAG 2.2 AA in both grounds, nothing wider than the screen, nothing too small for a thumb in a glove. */
async function lookAt(page: Page, where: string): Promise<void> {
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme });
    const found = await new AxeBuilder({ page }).withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']).analyze();
    expect.soft(found.violations.map(({ id, nodes }) => `${where} ${colorScheme} ${id}: ${nodes.map((node) => node.target.join(' ')).join(', ')}`)).toEqual([]);
  }
  expect.soft(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth), `${where} is wider than the screen`).toBeLessThanOrEqual(0);
  const small = await page.evaluate(() => [...document.querySelectorAll<HTMLElement>('.answers button, .answers summary, .answers input, .choice-list > summary, .choice-together button')]
    .map((target) => ({ box: target.getBoundingClientRect(), name: target.textContent ?? '' })).filter(({ box }) => box.width > 0 && (box.height < 48 || box.width < 48)).map(({ name }) => name.trim()));
  expect.soft(small, `${where}: targets under 48 px`).toEqual([]);
}

test('two devices edit one job without a network and come to one record', async ({ browser, request }) => {
  test.slow();
  const kim = await openDevice(browser, 'Kim', { width: 390, height: 844 });
  const lee = await openDevice(browser, 'Lee', { width: 820, height: 1180 });
  const jobs = await (await request.get(`${product.base}/api/jobs`)).json() as JobState[];
  const { id } = jobs.find((job) => (job.record.terminals?.length ?? 0) >= 4 && job.record.wires === undefined)!;
  const read = async (): Promise<JobState> => await (await request.get(`${product.base}/api/jobs/${id}`)).json() as JobState;
  const terminals = (await read()).record.terminals!.map((terminal) => terminal.id);

  await test.step('one hangs two wires, the other sees them', async () => {
    await kim.page.goto(`${product.base}/jobs/${id}/as-found`);
    for (const [terminal, leadsTo] of [[terminals[0]!, 'battery'], [terminals[1]!, 'starter']] as const) {
      await kim.page.locator(`[data-terminal="${terminal}"]`).click();
      await choose(kim.page, 'Where does it lead?', leadsTo);
    }
    await allSent(kim.page);
    await lee.page.goto(`${product.base}/jobs/${id}/as-found`);
    await expect(lee.page.locator('button.wire-row')).toHaveCount(2);
  });

  await test.step('both lose the network and go on', async () => {
    for (const { context } of [kim, lee]) await context.setOffline(true);
    await openWire(kim.page, 'W1');
    await choose(kim.page, 'Colour', 'RD');
    await openWire(kim.page, 'W2');
    await choose(kim.page, 'Colour', 'BK');
    await openWire(lee.page, 'W1');
    await choose(lee.page, 'Size', '16 mm²');
    await openWire(lee.page, 'W2');
    await choose(lee.page, 'Colour', 'BN');
    for (const { page } of [kim, lee]) await expect(page.getByText('2 not sent')).toBeVisible();
    expect((await read()).record.wires?.map(({ colour, areaMm2 }) => [colour, areaMm2])).toEqual([[undefined, undefined], [undefined, undefined]]);
  });

  await test.step('the network comes back, first to one, then to the other', async () => {
    await kim.context.setOffline(false);
    await allSent(kim.page);
    await lee.context.setOffline(false);
    await allSent(lee.page);
    const job = await read();
    expect(job.record.wires?.map(({ tag, colour, areaMm2 }) => [tag, colour, areaMm2])).toEqual([['W1', 'RD', 16], ['W2', 'BK', undefined]]);
    expect(job.conflicts).toMatchObject([{ field: ['record', 'wires', 'W2', 'colour'], why: 'other-value', standing: { value: 'BK', author: 'Kim' }, held: { value: 'BN', author: 'Lee' } }]);
  });

  await test.step('both are shown both answers, at the wire and in the list', async () => {
    for (const { page } of [lee, kim]) {
      await expect(choices(page).getByText('1 entry waits for your choice')).toBeVisible({ timeout: 30_000 });
      const here = page.locator('wire-editor field-choice .answers');
      await expect(here.getByText('Wire W2, colour')).toBeVisible();
      await expect(here.locator('.choice-side').first()).toContainText(/Stands now\s*BK\s*Kim/);
      await expect(here.locator('.choice-side').last()).toContainText(/Waits\s*BN\s*Lee/);
      await expect(page.locator('button.wire-row').filter({ hasText: 'W2' })).toContainText('waits for your choice');
    }
    await choices(kim.page).locator('summary').first().click();
    await lookAt(kim.page, 'a choice on a phone');
    await lookAt(lee.page, 'a choice on a tablet');
  });

  await test.step('one chooses by the keyboard alone, and both show the same', async () => {
    const take = kim.page.locator('choice-list').getByRole('button', { name: 'Take BN' });
    await choices(kim.page).locator('summary').first().focus();
    for (let tabs = 0; tabs < 4 && !await take.evaluate((button) => button === document.activeElement); tabs++) await kim.page.keyboard.press('Tab');
    await expect(take).toBeFocused();
    await kim.page.keyboard.press('Enter');
    await expect(choices(kim.page)).toHaveCount(0);
    await allSent(kim.page);
    await expect(choices(lee.page)).toHaveCount(0, { timeout: 30_000 });
    for (const { page } of [kim, lee]) await expect(page.locator('button.wire-row').filter({ hasText: 'W2' })).toContainText('BN');
    const job = await read();
    expect(job.conflicts).toEqual([]);
    expect(job.record.wires?.map(({ colour }) => colour)).toEqual(['RD', 'BN']);
  });

  await test.step('the log has every edit once, with who made it where', async () => {
    const edits = await (await request.get(`${product.base}/api/jobs/${id}/edits`)).json() as LoggedEdit[];
    const made = edits.filter((edit) => edit.device !== undefined);
    expect(new Set(made.map((edit) => edit.id)).size).toBe(made.length);
    expect(made.map(({ author, field, value }) => [author, field.at(-1), value]).slice(2)).toEqual([
      ['Kim', 'colour', 'RD'], ['Kim', 'colour', 'BK'], ['Lee', 'areaMm2', 16], ['Lee', 'colour', 'BN'], ['Kim', 'colour', 'BN'],
    ]);
    expect(new Set(made.map((edit) => edit.device)).size).toBe(2);
  });
  for (const { context, complaints } of [kim, lee]) {
    expect(complaints).toEqual([]);
    await context.close();
  }
});

test('a third answer can be typed, and what the server refuses is shown until it is mended', async ({ browser, request }) => {
  const { context, page } = await openDevice(browser, 'Kim', { width: 390, height: 844 });
  const { id, revision } = (await (await request.get(`${product.base}/api/jobs`)).json() as JobState[]).at(-1)!;
  const read = async (): Promise<JobState> => await (await request.get(`${product.base}/api/jobs/${id}`)).json() as JobState;
  const edit = { field: ['machine'], base: revision, at: '2026-11-25T10:00:00Z' };
  for (const [n, value] of [[1, 'Float, 12 V'], [2, 'Float, 24 V']] as const) {
    const uuid = (kind: number): string => `0000000${kind}-0000-4000-8000-00000000000${n}`;
    await request.post(`${product.base}/api/jobs/${id}/edits`, { data: { edits: [{ ...edit, id: uuid(1), device: uuid(2), author: `Hand ${n}`, value }] } });
  }
  await page.goto(`${product.base}/jobs/${id}/record`);
  const here = page.locator('record-screen field-choice .answers');
  await expect(here).toContainText('Hand 1, on another device');
  await here.locator('summary', { hasText: 'Or write something else' }).click();
  await here.getByRole('textbox').fill('Float, 48 V');
  await here.getByRole('button', { name: 'Use this' }).click();
  await expect(here).toHaveCount(0);
  await expect.poll(async () => { const job = await read(); return [job.document.machine, job.conflicts.length]; }).toEqual(['Float, 48 V', 0]);

  let refuse = true;
  await page.route('**/edits', (route) => (refuse && route.request().method() === 'POST' ? route.fulfill({
    status: 422, contentType: 'application/problem+json', body: JSON.stringify({ title: 'The input was refused', detail: '', faults: [{ line: 'customer: not on the list' }] }),
  }) : route.continue()));
  await page.getByText('Change the job’s name').click();
  await page.getByLabel('Customer', { exact: true }).fill('Harbor');
  await page.getByLabel('Customer', { exact: true }).blur();
  const refused = page.locator('choice-list').getByText('The server did not take one thing you entered');
  await expect(refused).toBeVisible();
  await expect(page.locator('choice-list')).toContainText('customer: not on the list');
  await page.reload();
  await expect(refused, 'after the page was loaded again').toBeVisible();
  await lookAt(page, 'a refused entry');
  refuse = false;
  await page.locator('choice-list').locator('summary', { hasText: 'Or write something else' }).click();
  await page.locator('choice-list').getByRole('textbox').fill('The harbour office');
  await page.locator('choice-list').getByRole('button', { name: 'Use this' }).click();
  await expect(refused).toHaveCount(0);
  await expect.poll(async () => (await read()).document.customer).toBe('The harbour office');
  await context.close();
});

test('what was entered without a network outlives the page', async ({ browser, request }) => {
  const { context, page } = await openDevice(browser, 'Kim', { width: 820, height: 1180 });
  const jobs = await (await request.get(`${product.base}/api/jobs`)).json() as JobState[];
  const { id } = jobs[0]!;
  await page.goto(`${product.base}/jobs/${id}/record`);
  await page.getByText('Change the job’s name').click();
  await context.setOffline(true);
  await page.getByLabel('Customer').fill('The lock keeper');
  await page.getByLabel('Customer').blur();
  await expect(page.getByText('1 not sent')).toBeVisible();
  await page.close();
  await context.setOffline(false);
  const next = await context.newPage();
  await next.goto(product.base);
  await expect.poll(async () => (await (await request.get(`${product.base}/api/jobs/${id}`)).json() as JobState).document.customer).toBe('The lock keeper');
  await next.goto(`${product.base}/jobs/${id}/record`);
  await allSent(next);
  await context.close();
});
