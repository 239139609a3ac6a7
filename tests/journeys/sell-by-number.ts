import { expect, type Page } from '@playwright/test';
import type { StockMove, StockRow } from '../../catalog-schema/index.ts';

// A dead part's number typed at the counter; what fits and lies on the shelf comes out, one is booked out and its slip printed. Touches and
// keys after the number are counted in the page by the browser.

export interface Sale {
  /** touches and keys after the last sign of the number */
  readonly inputs: number;
  /** what the paper says */
  readonly slip: string;
  readonly printed: number;
  /** free units of what was sold, before and after, by the server */
  readonly free: readonly [number, number];
  readonly move: StockMove | undefined;
}

/** @param count as `countTouches` gives it; the page's `print` is only counted. */
export async function sellByNumber(page: Page, base: string, { number, partId, count }: { number: string; partId: string; count: () => Promise<{ touches: number; keys: number }> }): Promise<Sale> {
  await page.addInitScript(() => {
    const counted = window as unknown as { printed: number };
    counted.printed = 0;
    window.print = () => { counted.printed += 1; };
  });
  const freeOf = async (): Promise<number> => (await (await page.request.get(`${base}/api/stock?partId=${partId}`)).json() as StockRow[]).reduce((sum, { free }) => sum + free, 0);
  const before = await freeOf();
  await page.goto(`${base}/counter`);
  await page.getByLabel('Number on the part').focus();
  await page.keyboard.type(number);
  const typed = await count();
  await page.keyboard.press('Enter');
  await page.getByRole('button', { name: /on the slip$/ }).first().tap();
  await page.getByRole('button', { name: 'Take 1 unit out and print the slip' }).tap();
  await expect(page.getByText('Booked out; the slip is at the printer.')).toBeVisible();
  const done = await count();
  await page.emulateMedia({ media: 'print' });
  const slip = await page.locator('.slip-paper').innerText();
  await page.emulateMedia({ media: null });
  const [move] = await (await page.request.get(`${base}/api/stock/moves?last=true&most=1&partId=${partId}`)).json() as StockMove[];
  return {
    inputs: done.touches + done.keys - typed.touches - typed.keys, slip, move, free: [before, await freeOf()],
    printed: await page.evaluate(() => (window as unknown as { printed: number }).printed),
  };
}
