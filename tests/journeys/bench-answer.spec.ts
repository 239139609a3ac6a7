import AxeBuilder from '@axe-core/playwright';
import { expect, test, type Page } from '@playwright/test';
import type { BenchRecord, CircuitElement, IdentifyAnswer, JobState } from '../../catalog-schema/index.ts';
import { ServedProduct } from './served-product.ts';

// The Bench screen with an answer written by hand, so that what it shows can be told beforehand: on a phone, with one thumb.

const product = new ServedProduct();
test.beforeAll(() => product.start());
test.afterAll(() => product.close());
test.use({ viewport: { width: 390, height: 844 }, hasTouch: true });

const COIL: CircuitElement = { kind: 'coil', id: 'k', between: ['c', 'd'], nominalV: 12, ohmAt20C: 4.6 };
const CONTACT: CircuitElement = { kind: 'contact', id: 'm', between: ['a', 'b'], form: 'NO', coils: ['k'] };
const PLAIN: IdentifyAnswer['circuits'][number] = { form: 'isolated', probability: 0.6, circuit: [COIL, CONTACT], roles: { a: 'stud', b: 'stud', c: 'coil', d: 'coil' } };
const DIODE: IdentifyAnswer['circuits'][number] = {
  form: 'isolated-diode', probability: 0.4, circuit: [COIL, CONTACT, { kind: 'diode', from: 'd', to: 'c' }],
  roles: { a: 'battery-stud', b: 'starter-stud', c: 'coil+', d: 'coil-' },
};
const SUPPLY = 'read the ohms between c and d with a supply, plus on d, at rest';
const BEFORE: IdentifyAnswer = {
  coils: [{ between: ['c', 'd'], ohmAt20C: 4.6, nominalV: [{ volts: 12, probability: 0.9 }, { volts: 6, probability: 0.1 }], amps: 2.6, watts: 31 }],
  threads: [{ terminal: 'a', candidates: [{ thread: '1/4-20', series: 'UNC', probability: 0.55 }, { thread: 'M6 x 1', series: 'metric coarse', probability: 0.45 }] }],
  tabs: [], circuits: [DIODE, PLAIN], conflicts: [], worthUnit: 'bit', cautions: [], assumptions: [],
  measureNext: [{ what: SUPPLY, why: 'it tells a diode across the coil from none.', worth: 0.9 }, { what: 'measure the nut of a', why: 'it tells 1/4-20 from M6 x 1.', worth: 0.4 }],
};
const AFTER: IdentifyAnswer = {
  ...BEFORE, circuits: [{ ...DIODE, probability: 0.999 }], measureNext: BEFORE.measureNext.slice(1),
  conflicts: [{ paths: ['ohms[0]', 'ohms[1]'], why: 'a coil of 4.6 ohm between c and d, and c open to the case' }],
};

/** Answers `identify` by hand in place of the worker: one answer before the supply was used, another after. */
async function answerByHand(page: Page): Promise<void> {
  await page.addInitScript(({ before, after }) => {
    const Real = window.Worker;
    window.Worker = class extends Real {
      override postMessage(question: { id: number; name: string; args: [BenchRecord] }): void {
        if (question.name !== 'identify') { super.postMessage(question); return; }
        const value = question.args[0].ohms?.some(({ by }) => by === 'supply') ? after : before;
        setTimeout(() => this.dispatchEvent(new MessageEvent('message', { data: { id: question.id, ok: true, value } })));
      }
    };
  }, { before: BEFORE, after: AFTER });
}

test('the next measurement leads to its place, and the forms grow fewer', async ({ page, request }) => {
  await answerByHand(page);
  const jobs = await (await request.get(`${product.base}/api/jobs`)).json() as JobState[];
  const job = jobs.find(({ document }) => document.title.startsWith('Counter'))!;
  await page.goto(`${product.base}/jobs/${job.id}/bench`);
  const next = page.locator('next-measurement');

  await test.step('it is in view without scrolling, and says what and why', async () => {
    await expect(next).toContainText(SUPPLY);
    await expect(next).toContainText('it tells a diode across the coil from none');
    await expect(next).toBeInViewport({ ratio: 1 });
  });

  await test.step('the forms stand likeliest first, with their roles', async () => {
    await expect(page.locator('.form b')).toHaveText(['coil between two small terminals', 'coil between two small terminals, a diode across it']);
    await expect(page.locator('.form').nth(1)).toContainText('may well be, 40 %');
    await expect(page.locator('.form').nth(1).locator('circuit-picture')).toContainText('coil plus');
    await expect(page.getByText('2 of 9 forms are still possible')).toBeVisible();
  });

  await test.step('a touch sets up places, instrument, plus and plunger', async () => {
    await next.getByRole('button').tap();
    const entry = page.locator('ohm-entry');
    await expect(entry.getByRole('heading', { name: 'Between c and d' })).toBeVisible();
    await expect(entry.getByRole('radio', { name: 'supply' })).toBeChecked();
    await expect(entry.getByRole('group', { name: 'Plus on' }).getByRole('radio', { name: 'd', exact: true })).toBeChecked();
    await expect(entry.getByRole('radio', { name: 'at rest' })).toBeChecked();
    await expect(page.getByLabel('Volts across the two')).toBeFocused();
    await expect(page.locator('terminal-picture [aria-pressed="true"]')).toHaveCount(2);
  });

  await test.step('volts and amps typed on the pad become a reading', async () => {
    for (const [label, keys] of [['Volts across the two', ['1', '2']], ['Amps the supply gives', ['2', '.', '5']]] as const) {
      await page.getByLabel(label).tap();
      const pad = page.getByRole('group', { name: 'Number pad' });
      await expect(pad).toBeInViewport({ ratio: 1 });
      for (const key of keys) await pad.getByRole('button', { name: key, exact: true }).tap();
      await pad.getByRole('button', { name: 'Enter' }).tap();
    }
    await expect(page.getByText('all sent')).toBeVisible();
    const { record } = await (await request.get(`${product.base}/api/jobs/${job.id}`)).json() as JobState;
    expect(record.ohms?.at(-1)).toEqual({ between: ['c', 'd'], ohm: { value: 4.8, plusMinus: 0.096 }, by: 'supply', plusOn: 'd' });
  });

  await test.step('the forms are fewer, and readings that cannot be are marked where they stand', async () => {
    await expect(page.getByText('One form of 9 is left')).toBeVisible();
    await expect(page.locator('.form')).toHaveCount(1);
    await expect(page.locator('.form')).toContainText('as good as certain, over 99 %');
    await expect(page.locator('ohm-table .clash')).toHaveCount(2);
    await expect(page.locator('ohm-table')).toContainText('cannot be: a coil of 4.6 ohm between c and d, and c open to the case');
    await expect(next).toContainText('measure the nut of a');
    await next.getByRole('button').tap();
    await expect(page.getByLabel('Nut across flats', { exact: true }).first()).toBeFocused();
  });

  // A control half under the line that stays at the edge is too small for a finger only until the page is moved: looked at with the whole page in view.
  await page.evaluate(() => { (document.activeElement as HTMLElement).blur(); });
  await page.setViewportSize({ width: 390, height: await page.evaluate(() => document.documentElement.scrollHeight) });
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme });
    const found = await new AxeBuilder({ page }).withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']).analyze();
    expect.soft(found.violations.map(({ id, nodes }) => `${colorScheme} ${id}: ${nodes.map((node) => node.target.join(' ')).join(', ')}`)).toEqual([]);
  }
  expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
});
