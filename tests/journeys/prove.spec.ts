import { expect, test } from '@playwright/test';
import type { JobState } from '../../catalog-schema/index.ts';
import { DEAD_MACHINES, PATIENCE, proveOn } from './prove-machine.ts';
import { beginJob, TELEPHONE } from './record-four-wires.ts';
import { ServedProduct } from './served-product.ts';

// A click is not a verdict: from what is heard at the machine to a proof, and what the proof says on the other pages.

const product = new ServedProduct();
test.beforeAll(() => product.start());
test.afterAll(() => product.close());
test.use(TELEPHONE);

test('a click, the tests that the page puts first, a verdict with its evidence, and the customer reads it', async ({ page }) => {
  const machine = DEAD_MACHINES.find(({ name }) => name === 'burnt contacts')!;
  const id = await beginJob(page, product.base);
  await page.goto(`${product.base}/jobs/${id}/prove`);
  await expect(page.locator('.crank-verdict')).toContainText('Nothing is proven yet', { timeout: PATIENCE });
  await page.goto(`${product.base}/jobs/${id}/record`);
  await expect(page.getByText(/^Not proven: nothing was measured/)).toBeVisible();
  await expect(page.getByText(/This would have settled it: Volts across the two heavy studs/)).toBeVisible();
  await page.goto(`${product.base}/jobs/${id}/prove`);

  await proveOn(page, machine);
  await expect(page.locator('.crank-verdict')).toContainText(`Proven: ${machine.proves}`);
  await expect(page.locator('.crank-verdict')).toContainText('The evidence pays for the relay');
  await expect(page.getByRole('link', { name: /^Prove done/ })).toBeVisible();
  // The drawing says it on the part.
  await expect(page.locator('crank-picture').getByText('proven', { exact: true })).toBeVisible();
  await expect(page.locator('crank-picture').getByText('cleared').first()).toBeVisible();

  await page.getByRole('link', { name: /^Record/ }).click();
  await expect(page.getByText(`Proven by measurement: ${machine.proves}.`)).toBeVisible();
  await expect(page.getByText(/^Shown good, and not replaced:.*the battery/)).toBeVisible();
  await expect(page.getByText('all sent')).toBeVisible();
  const job = await (await page.request.get(`${product.base}/api/jobs/${id}`)).json() as JobState;
  expect(Object.keys(job.document.prove?.seen ?? {}).length).toBeGreaterThanOrEqual(3);
});

test('two points tapped in the drawing and a figure make a reading, by keyboard alone too; it is undone, and a quarrel is named', async ({ page }) => {
  const id = await beginJob(page, product.base);
  await page.goto(`${product.base}/jobs/${id}/prove`);
  const seen = page.locator('.crank-seen li');
  await expect(page.locator('.crank-verdict')).toContainText('nothing was seen', { timeout: PATIENCE });
  // No signal in the yard: the page weighs by itself.
  await page.context().setOffline(true);
  await page.locator('[data-node="battery+"]').tap();
  await page.locator('[data-node="battery-"]').tap();
  const own = page.locator('.crank-own-reading input');
  await expect(own).toBeFocused();
  await own.fill('twelve');
  await expect(page.locator('.crank-own-reading .not')).toBeVisible();
  await own.fill('12.6');
  await own.press('Enter');
  await expect(seen).toHaveText([/plus post to minus post, START held.*12.6 V/s]);
  await expect(page.locator('.crank-verdict')).toContainText('Not proven yet. Most likely', { timeout: PATIENCE });
  await page.getByRole('button', { name: /^Undo/ }).click();
  await expect(seen).toHaveCount(0);
  await page.context().setOffline(false);

  await page.locator('[data-start]').focus();
  await page.keyboard.press('Enter');
  await page.locator('[data-node="relay-starter-stud"]').focus();
  await page.keyboard.press('Enter');
  await page.locator('[data-node="chassis"]').focus();
  await page.keyboard.press(' ');
  await expect(own).toBeFocused();
  await page.keyboard.type('12.4');
  await page.keyboard.press('Enter');
  await expect(seen).toHaveText([/relay’s starter stud to chassis, start switch off.*12.4 V/s]);
  // Live with the switch off, and yet nothing turns and nothing is heard: no single fault does that.
  await page.getByRole('button', { name: 'Does it turn with the switch off?' }).click();
  await page.locator('.crank-test').getByRole('button', { name: 'does not turn', exact: true }).click();
  await page.locator('#red-point').selectOption({ label: 'starter stud' });
  await page.locator('#black-point').selectOption({ label: 'starter case' });
  await own.fill('0');
  await own.press('Enter');
  await expect(seen).toHaveCount(3);
  await expect(page.locator('.crank-verdict')).toContainText('The readings quarrel: No single fault explains everything', { timeout: PATIENCE });
  await expect(seen.filter({ hasText: 'quarrels' })).toHaveCount(1);
  await expect(page.getByRole('link', { name: /^Prove needs a look/ })).toBeVisible();
});
