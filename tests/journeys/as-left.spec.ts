import AxeBuilder from '@axe-core/playwright';
import { expect, test, type APIRequestContext, type Page } from '@playwright/test';
import { randomUUID } from 'node:crypto';
import type { AsLeftAnswer, BenchRecord, JobState, RewireAnswer } from '../../catalog-schema/index.ts';
import { completeChecklist } from './complete-checklist.ts';
import { ServedProduct } from './served-product.ts';

// The As left step: one step at a time to the sign-off by keyboard alone, readings judged at once, one sheet on paper, a sign-off that lapses.

const product = new ServedProduct();
test.beforeAll(() => product.start());
test.afterAll(() => product.close());
test.use({ actionTimeout: 30_000 });

/** A job of its own like the sweeper's, with a sixth wire, its first fit chosen. */
async function startJob(request: APIRequestContext): Promise<string> {
  const jobs = await (await request.get(`${product.base}/api/jobs`)).json() as JobState[];
  const sweeper = jobs.find((job) => job.document.title.startsWith('Quay sweeper'))!.record;
  const tap = sweeper.wires!.find((wire) => wire.leadsTo === 'tap')!;
  const record: BenchRecord = { ...sweeper, wires: [...sweeper.wires!, { ...tap, tag: 'W6', colour: 'BU' }] };
  const id = randomUUID();
  const at = new Date().toISOString();
  await request.post(`${product.base}/api/jobs`, { data: { id, title: 'Sweeper with six wires', machine: 'Quay sweeper 3', customer: 'Tarn Quay yard', record, at } });
  const fit = await (await request.post(`${product.base}/api/fit`, { data: { record, most: 1 } })).json() as { fits: { partId: string }[] };
  const { partId } = fit.fits[0]!;
  const { plans } = await (await request.post(`${product.base}/api/rewire`, { data: { record, partId } })).json() as RewireAnswer;
  const { revision } = await (await request.get(`${product.base}/api/jobs/${id}`)).json() as JobState;
  const chosen = await request.post(`${product.base}/api/jobs/${id}/edits`, { data: { edits: [{ id: randomUUID(), field: ['chosen'], value: { partId, plan: plans[0] }, base: revision, at }] } });
  expect(chosen.ok(), await chosen.text()).toBe(true);
  return id;
}

async function openAsLeft(page: Page, id: string): Promise<void> {
  await page.goto(`${product.base}/jobs/${id}/as-left`);
  // The engine is asked about the part first, on a machine that may be busy.
  await expect(page.locator('#step-title')).toBeVisible({ timeout: 30_000 });
}

const readList = async (request: APIRequestContext, id: string): Promise<AsLeftAnswer> => await (await request.get(`${product.base}/api/jobs/${id}/as-left`)).json() as AsLeftAnswer;
const openStep = (page: Page, words: RegExp): Promise<void> => page.locator('.step-list button').filter({ hasText: words }).first().click();

/** Nothing that axe finds against WCAG 2.2 AA, in both grounds, nothing wider than the screen, nothing too small for a thumb in a glove. */
async function holds(page: Page): Promise<void> {
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme });
    const found = await new AxeBuilder({ page }).withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']).analyze();
    expect.soft(found.violations.map(({ id, nodes }) => `${colorScheme} ${id}: ${nodes.map((node) => node.target.join(' ')).join(', ')}`)).toEqual([]);
  }
  expect.soft(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
  const small = await page.locator('as-left-screen').evaluate((screen) => [...screen.querySelectorAll<HTMLElement>('button, input, select, summary, a.button')]
    .map((target) => ({ words: target.textContent?.trim() ?? '', box: target.getBoundingClientRect() })).filter(({ box }) => box.height > 0 && box.height < 48).map(({ words }) => words));
  expect.soft(small).toEqual([]);
}

/** Moves the focus by the tab key until it lies on a control of this name in the page's main part. */
async function tabTo(page: Page, name: RegExp): Promise<void> {
  for (let pressed = 0; pressed < 80; pressed++) {
    await page.keyboard.press('Tab');
    const said = await page.evaluate(() => {
      const focused = document.activeElement as HTMLInputElement | null;
      return focused === null ? '' : `${focused.labels?.[0]?.textContent ?? ''} ${focused.textContent ?? ''}`.trim();
    });
    if (name.test(said)) return;
  }
  throw new Error(`the tab key leads to no ${name}`);
}

const READINGS: readonly (readonly [RegExp, string])[] = [
  [/measure the coil/, '4 ohm'], [/amps from the battery/, '10 mA'], [/volts across the coil/, '11.4'], [/across the contact/, '0.12'], [/plus post/, '0.3'], [/starter’s case/, '0.1'],
];

test('keyboard alone leads from the first step to the sign-off', async ({ page, request }) => {
  const id = await startJob(request);
  await openAsLeft(page, id);
  const title = page.locator('#step-title');
  await tabTo(page, /Who does these steps/);
  await page.keyboard.type('J. Doe');
  await page.keyboard.press('Enter');
  const { steps } = await readList(request, id);
  for (const step of steps) {
    if (await page.locator('#signed-by').isVisible()) break;
    const said = (await title.textContent())!.trim();
    const reading = READINGS.find(([words]) => words.test(said));
    if (reading !== undefined && step.kind !== 'studs-open') {
      await tabTo(page, /The meter shows/);
      await page.keyboard.type(reading[1]);
      await page.keyboard.press('Enter');
      if (/measure the coil/.test(said)) {
        // A coil of other ohms than this catalogue's would be judged bad: it may be left out, so its reading is taken back.
        if (await page.getByText('Outside the limit.').isVisible()) await tabTo(page, /Not done after all/).then(() => page.keyboard.press('Enter'));
        await tabTo(page, /^(Next step|Step after)$/);
      } else await tabTo(page, /^Next step$/);
    } else await tabTo(page, /^(Done, next step|Reads open|It runs and stops|It stays out|It does that)$/);
    await page.keyboard.press('Enter');
    await expect(async () => expect(await page.locator('#signed-by').isVisible() || (await title.textContent())!.trim() !== said).toBe(true)).toPass();
  }
  await expect(page.locator('#signed-by')).toHaveValue('J. Doe');
  await tabTo(page, /Who signs/);
  await page.keyboard.press('Enter');
  await expect(page.getByText(/Signed off by J\. Doe/).first()).toBeVisible();
  await expect(async () => expect((await readList(request, id)).signOff).toMatchObject({ state: 'stands', by: 'J. Doe' })).toPass();
  expect((await readList(request, id)).steps.filter((step) => step.required).every((step) => step.mark === 'done' && step.tick?.by === 'J. Doe')).toBe(true);
});

test('a reading is judged at once and says what to do next, and a step that went wrong keeps the machine from its release', async ({ page, request }) => {
  const id = await startJob(request);
  await page.setViewportSize({ width: 390, height: 844 });
  await openAsLeft(page, id);
  await completeChecklist(page, 'Ans');
  await holds(page);
  await openStep(page, /across the contact/);
  const meter = page.locator('as-left-step').getByLabel('The meter shows', { exact: true });
  await meter.fill('0.31 V');
  await meter.press('Enter');
  await expect(page.getByText('Outside the limit.')).toBeVisible();
  await expect(page.getByText(/Move the probes from the studs to the lugs/)).toBeVisible();
  await expect(page.locator('sign-off-form').getByText(/the meter showed 0.31 V, outside the limit/)).toBeVisible();
  await expect(page.locator('#signed-by')).toBeHidden();
  await holds(page);
  await meter.fill('0.2');
  await meter.press('Enter');
  await expect(page.getByText('Within the limit.')).toBeVisible();
  await openStep(page, /seat switch/);
  await page.getByRole('button', { name: 'It does not do that' }).click();
  await expect(page.getByText(/must not be released. Find out why/)).toBeVisible();
  await expect(page.locator('#signed-by')).toBeHidden();
  await page.getByRole('button', { name: 'It does that' }).click();
  await expect(page.locator('#signed-by')).toBeVisible();
});

test('a sign-off lapses with the wires, says so wherever it stood, and is given anew', async ({ page, request }) => {
  const id = await startJob(request);
  await openAsLeft(page, id);
  await completeChecklist(page, 'Ans');
  await page.locator('#signed-by').press('Enter');
  await expect(page.getByText(/Signed off by Ans/).first()).toBeVisible();
  await expect(page.getByText('all sent')).toBeVisible();
  const { revision } = await (await request.get(`${product.base}/api/jobs/${id}`)).json() as JobState;
  await request.post(`${product.base}/api/jobs/${id}/edits`, { data: { edits: [{ id: randomUUID(), field: ['record', 'wires', 'W3', 'colour'], value: 'VT', base: revision, at: new Date().toISOString() }] } });
  await page.reload();
  await expect(page.locator('sign-off-form').getByText(/Was signed off by Ans.*has to be given anew/)).toBeVisible();
  await expect(page.getByRole('link', { name: /^As left needs a look/ })).toBeVisible();
  await expect(page.locator('sign-off-form').getByText(/ticked for another part, wiring or test/)).toBeVisible();
  await page.goto(`${product.base}/jobs/${id}/record`);
  await expect(page.getByText(/Was signed off by Ans/)).toBeVisible();
  await openAsLeft(page, id);
  await openStep(page, /Wire W3/);
  await page.getByRole('button', { name: 'Done, next step' }).click();
  await page.getByRole('button', { name: 'Sign off anew' }).click();
  await expect(page.getByText(/^Signed off by Ans/).first()).toBeVisible();
});

for (const format of ['A4', 'Letter'] as const) {
  test(`prints on one ${format} sheet, old and new wiring and room for ticks, with six wires`, async ({ page, request }) => {
    const id = await startJob(request);
    await openAsLeft(page, id);
    const blank = await page.pdf({ format });
    expect(blank.toString('latin1').match(/\/Type\s*\/Page\b/g)).toHaveLength(1);
    await page.emulateMedia({ media: 'print' });
    const sheet = page.locator('as-left-sheet');
    await expect(sheet.locator('tbody tr')).toHaveCount(6);
    await expect(sheet.locator('.box')).toHaveCount((await readList(request, id)).steps.length);
    await expect(page.locator('as-left-step')).toBeHidden();
    await page.emulateMedia({ media: null });
    await completeChecklist(page, 'Ans');
    await page.locator('#signed-by').press('Enter');
    await expect(page.getByText(/Signed off by Ans/).first()).toBeVisible();
    // Every step with who ticked it and when still fits the one sheet.
    expect((await page.pdf({ format })).toString('latin1').match(/\/Type\s*\/Page\b/g)).toHaveLength(1);
  });
}

test('another right way to wire the part is looked at, chosen, and followed by the checklist', async ({ page, request }) => {
  const id = await startJob(request);
  const { partId, plan } = (await (await request.get(`${product.base}/api/jobs/${id}`)).json() as JobState).document.chosen!;
  await page.setViewportSize({ width: 390, height: 844 });
  await page.goto(`${product.base}/jobs/${id}/fits/${encodeURIComponent(partId)}`);
  await expect(page.getByText(/ways to wire it are right/)).toBeVisible({ timeout: 30_000 });
  // One lit circuit for each position of the switches that the plan was judged in, each with its words.
  await expect(page.locator('state-picture')).toHaveCount(plan!.states.length);
  await expect(page.locator('.state-list figcaption').last()).toContainText(/START held, interlocks made, relay in, [\d.]+ A, starter turns/);
  await page.getByRole('radio', { name: /^Way 2/ }).check({ force: true });
  const moved = await page.locator('.opened ~ section h3', { hasText: 'What changes' }).locator('xpath=following-sibling::ul[1]').allTextContents();
  expect(moved.join(' ')).toMatch(/wire W\d moves from/);
  const found = await new AxeBuilder({ page }).withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']).analyze();
  expect(found.violations.map(({ id: rule, nodes }) => `${rule}: ${nodes.map((node) => node.target.join(' ')).join(', ')}`)).toEqual([]);
  expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
  await page.getByRole('button', { name: 'Choose this wiring' }).click();
  await expect(page.getByText('all sent')).toBeVisible();
  const after = (await (await request.get(`${product.base}/api/jobs/${id}`)).json() as JobState).document.chosen!.plan!;
  expect(after.wires.map(({ to }) => to)).not.toEqual(plan!.wires.map(({ to }) => to));
  await openAsLeft(page, id);
  await completeChecklist(page, 'Ans');
  await page.locator('#signed-by').press('Enter');
  await expect(page.getByText(/Signed off by Ans/).first()).toBeVisible();
  await expect(async () => expect((await readList(request, id)).signOff.state).toBe('stands')).toPass();
});
