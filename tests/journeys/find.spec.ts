import AxeBuilder from '@axe-core/playwright';
import { expect, test } from '@playwright/test';
import { visitOnce } from './kept-on-device.ts';
import { TELEPHONE } from './record-four-wires.ts';
import { ServedProduct } from './served-product.ts';

// A number off a greasy housing, misread, without a network; and a scanner that types wherever one is.

const product = new ServedProduct();
test.beforeAll(() => product.start());
test.afterAll(() => product.close());

test('a misread number finds its part with the network off, with what replaced it and where that lies', async ({ browser }) => {
  const context = await browser.newContext(TELEPHONE);
  const page = await context.newPage();
  await visitOnce(page, product.base);
  await context.setOffline(true);
  await page.getByRole('searchbox', { name: 'Find a part' }).fill('dll88');
  await page.keyboard.press('Enter');
  await expect(page).toHaveURL(`${product.base}/find/dll88`);
  const first = page.locator('.found-part').first();
  await expect(first).toContainText('D 1188');
  await expect(first).toContainText('perhaps misread: “L” for “1” and “L” for “1”');
  await expect(first).toContainText('Replaced by a kit: ');
  await expect(first).toContainText('bin B4');
  const { violations } = await new AxeBuilder({ page }).withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']).analyze();
  expect(violations.map(({ id }) => id)).toEqual([]);
  // It answers while one types, and says of a scan that it was read wrong.
  await page.getByRole('searchbox', { name: 'Number or words' }).fill('contactor 48');
  await expect(page.getByRole('heading', { name: 'By words' })).toBeVisible();
  await page.getByRole('heading', { name: 'Find a part' }).click();
  await page.keyboard.type('6291041500214', { delay: 5 });
  await page.keyboard.press('Enter');
  await expect(page.locator('.found-note')).toContainText('comes 3, not 4');
  await context.close();
});
