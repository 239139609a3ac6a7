import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import AxeBuilder from '@axe-core/playwright';
import { expect, test, type Page } from '@playwright/test';
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader';
import { printShelfCode, type StockMove, type StockRow } from '../../catalog-schema/index.ts';
import { readDevice, visitOnce } from './kept-on-device.ts';
import { countTouches, TELEPHONE } from './record-four-wires.ts';
import { sellByNumber } from './sell-by-number.ts';
import { ServedProduct } from './served-product.ts';

// The shelf by hand: labels that read back, a count by scanner without a network, a receipt, a sale at the counter.

const product = new ServedProduct();
const folder = mkdtempSync(join(tmpdir(), 'labels-'));
test.beforeAll(async () => {
  await product.start();
  const file = readFileSync(createRequire(import.meta.url).resolve('zxing-wasm/reader/zxing_reader.wasm'));
  prepareZXingModule({ overrides: { wasmBinary: file.buffer.slice(file.byteOffset, file.byteOffset + file.byteLength) as ArrayBuffer } });
});
test.afterAll(async () => {
  await product.close();
  rmSync(folder, { recursive: true, force: true });
});

const readStock = async (page: Page): Promise<StockRow[]> => await (await page.request.get(`${product.base}/api/stock`)).json() as StockRow[];
const readMoves = async (page: Page, partId: string): Promise<StockMove[]> => await (await page.request.get(`${product.base}/api/stock/moves?last=true&partId=${partId}`)).json() as StockMove[];

async function findFaults(page: Page, what: string): Promise<void> {
  const { violations } = await new AxeBuilder({ page }).withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']).analyze();
  expect.soft(violations.map(({ id, nodes }) => `${what} ${id}: ${nodes.map((node) => node.target.join(' ')).join(', ')}`)).toEqual([]);
  expect.soft(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth), `${what} is wider than the screen`).toBeLessThanOrEqual(0);
}

/** The texts of the codes in a picture, by the reader of the package and, where the machine has one, by zbarimg, which shares no code with it. */
async function readPaper(picture: Buffer): Promise<{ reader: string; texts: string[] }[]> {
  const read = await readBarcodes(new Blob([new Uint8Array(picture)]), { formats: ['QRCode', 'Code128'], tryHarder: true, maxNumberOfSymbols: 60 });
  const answers = [{ reader: 'zxing', texts: read.map(({ text }) => text).toSorted() }];
  const file = join(folder, 'sheet.png');
  writeFileSync(file, picture);
  const zbar = spawnSync('zbarimg', ['--quiet', '--raw', file], { encoding: 'utf8' });
  if (zbar.error === undefined) answers.push({ reader: 'zbarimg', texts: zbar.stdout.trim().split('\n').toSorted() });
  return answers;
}

test('labels of bins and parts read back, in both kinds of code, by readers that did not draw them', async ({ browser }) => {
  const page = await browser.newPage({ viewport: { width: 1100, height: 1400 }, deviceScaleFactor: 3 });
  await page.goto(`${product.base}/shelf/labels`);
  await page.getByLabel('Only').fill('A1, A2, A3, A4, C4, C5, D1, D2');
  const rows = (await readStock(page)).filter(({ bin }) => ['A1', 'A2', 'A3', 'A4', 'C4', 'C5', 'D1', 'D2'].includes(bin));
  for (const what of ['bins', 'parts'] as const) {
    const wanted = [...new Set(rows.map(({ bin, partId }) => printShelfCode(what === 'bins' ? { kind: 'bin', bin } : { kind: 'part', partId })))].toSorted();
    expect(wanted.length).toBeGreaterThan(6);
    await page.getByRole('group', { name: 'Labels of' }).locator('label').filter({ hasText: what }).click();
    for (const kind of ['QR', 'Code 128']) {
      await page.getByRole('group', { name: 'Code', exact: true }).locator('label').filter({ hasText: kind }).click();
      await expect(page.locator('.label-code')).toHaveCount(wanted.length);
      for (const { reader, texts } of await readPaper(await page.locator('.label-page').first().screenshot())) expect(texts, `${reader}, ${what}, ${kind}`).toEqual(wanted);
    }
  }
  // On paper the sheet stands alone, at true size.
  const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
  expect(pdf.match(/\/Type\s*\/Page\b/g)).toHaveLength(1);
  await page.close();
});

test('a bin is counted by a scanner without a network, the difference seen first, and booked once the network is back', async ({ browser }) => {
  const context = await browser.newContext(TELEPHONE);
  const page = await context.newPage();
  const before = (await readStock(page)).find(({ bin }) => bin === 'A4')!;
  await visitOnce(page, product.base);
  await page.goto(`${product.base}/shelf`);
  await expect(page.locator('.shelf-row').first()).toBeVisible();
  await context.setOffline(true);
  await page.getByRole('link', { name: 'Count', exact: true }).tap();
  await page.getByRole('button', { name: 'Begin' }).tap();
  const scan = async (text: string): Promise<void> => {
    await page.keyboard.type(text);
    await page.keyboard.press('Enter');
  };
  await expect(page.getByLabel('Scan a bin or a part')).toBeFocused();
  await scan(printShelfCode({ kind: 'part', partId: before.partId }));
  await expect(page.getByText('Scan or choose the bin you stand at first.').last()).toBeVisible();
  await scan(printShelfCode({ kind: 'bin', bin: 'A4' }));
  await expect(page.getByText('You are at bin A4')).toBeVisible();
  for (const units of [1, 2]) {
    await scan(printShelfCode({ kind: 'part', partId: before.partId }));
    await expect(page.getByRole('status').filter({ hasText: `${units} in bin A4.` })).toBeVisible();
  }
  // A number typed after a part is how many of it lie there.
  await scan(String(before.onHand + 2));
  await expect(page.getByRole('status').filter({ hasText: `${before.onHand + 2} in bin A4.` })).toBeVisible();
  await findFaults(page, 'counting');
  // The page is closed and opened again: the count goes on.
  await page.reload();
  await page.getByRole('button', { name: 'Show the differences' }).tap();
  await expect(page.locator('.moves tbody tr')).toHaveCount(1);
  await expect(page.locator('.moves tbody')).toContainText('+2');
  await findFaults(page, 'differences');
  await page.getByLabel('Why (for the books)').fill('two behind the box');
  await page.getByLabel('Who counted').fill('Ans');
  await page.getByRole('button', { name: 'Book 1 counted row' }).tap();
  await expect(page.getByText('booked when the server is reached').first()).toBeVisible({ timeout: 20_000 });
  expect((await readDevice(page)).requests.map(({ kind }) => kind)).toEqual(['moves']);
  await page.getByRole('link', { name: 'The whole shelf' }).tap();
  await expect(page.locator('.shelf-row').filter({ hasText: 'A4' })).toContainText(`${before.free + 2} free`);
  await context.setOffline(false);
  await expect.poll(async () => (await readMoves(page, before.partId))[0]?.kind, { timeout: 30_000 }).toBe('count');
  expect((await readMoves(page, before.partId))[0]).toMatchObject({ kind: 'count', qty: before.onHand + 2, booked: before.onHand, by: 'Ans', reason: 'two behind the box' });
  expect((await readStock(page)).find(({ bin }) => bin === 'A4')).toMatchObject({ onHand: before.onHand + 2, reserved: before.reserved });
  await context.close();
});

test('a part that never lay on the shelf is found, received, moved and looked up by its label', async ({ page }) => {
  const rows = await readStock(page);
  const part = (await (await page.request.get(`${product.base}/api/catalogue`)).json() as { id: string; title: string }[]).find(({ id }) => !rows.some(({ partId }) => partId === id))!;
  await page.goto(`${product.base}/shelf`);
  await page.getByLabel('Find a part or a bin').fill(part.title);
  await page.keyboard.press('Enter');
  await page.goto(`${product.base}/shelf/part/${part.id}`);
  await expect(page.getByText('None of this part is on the shelf')).toBeVisible();
  await page.getByLabel('Bin', { exact: true }).fill('Z9');
  await page.getByRole('button', { name: 'Came in' }).click();
  await expect(page.getByText('Say what one cost')).toBeVisible();
  await page.getByLabel('What one cost').fill('12,50');
  await page.getByLabel('How many').fill('3');
  await page.getByRole('button', { name: 'Book 3 into bin Z9' }).click();
  await expect(page.locator('.shelf-part, shelf-part').getByText('3 free')).toBeVisible();
  await page.getByRole('group', { name: 'What happened' }).locator('label').filter({ hasText: 'To another bin' }).click();
  await page.getByLabel('How many').fill('4');
  await page.getByLabel('To which bin').fill('Y1');
  await page.getByRole('button', { name: 'To another bin' }).click();
  await expect(page.getByText('Only 3 of those in bin Z9 are free.')).toBeVisible();
  await page.getByLabel('How many').fill('1');
  await page.getByRole('button', { name: 'Move 1 from bin Z9' }).click();
  await expect(page.locator('.moves tbody tr')).toHaveCount(2);
  expect((await readStock(page)).filter(({ partId }) => partId === part.id).map(({ bin, onHand, unitCost }) => [bin, onHand, unitCost])).toEqual([['Y1', 1, 12.5], ['Z9', 2, 12.5]]);
  // A unit put aside for a job goes out with it.
  const jobId = crypto.randomUUID();
  await page.request.post(`${product.base}/api/jobs`, { data: { id: jobId, title: 'Deck washer', record: { system: { nominalV: 12 } }, at: new Date().toISOString() } });
  await page.request.post(`${product.base}/api/shelf/reservations`, { data: { id: crypto.randomUUID(), partId: part.id, qty: 2, jobId, at: new Date().toISOString() } });
  await page.reload();
  await expect(page.locator('shelf-aside').getByRole('link', { name: 'Deck washer' })).toBeVisible();
  await page.getByRole('button', { name: 'Handed out' }).click();
  await expect(page.locator('shelf-aside li')).toHaveCount(0);
  expect((await readMoves(page, part.id)).slice(0, 2).map((move) => [move.kind, move.qty, move.jobId])).toEqual([['out', 2, jobId], ['release', 2, jobId]]);
  await page.request.post(`${product.base}/api/stock/moves`, { data: { moves: [{ id: crypto.randomUUID(), kind: 'return', partId: part.id, bin: 'Z9', qty: 1, at: new Date().toISOString() }] } });
  // A hand scanner from any screen.
  await page.goto(`${product.base}/settings`);
  await expect(page.locator('h1')).toBeVisible();
  await page.locator('body').click({ position: { x: 5, y: 5 } });
  await page.keyboard.type(printShelfCode({ kind: 'bin', bin: 'Z9' }));
  await page.keyboard.press('Enter');
  await expect(page.getByRole('heading', { name: 'Bin Z9' })).toBeVisible();
  await expect(page.locator('.shelf-row')).toHaveCount(1);
});

test('a number at the counter ends in a booked sale and a printed slip, within twelve touches and keys', async ({ browser }) => {
  const context = await browser.newContext(TELEPHONE);
  const page = await context.newPage();
  const count = await countTouches(page);
  const sale = await sellByNumber(page, product.base, { number: 'OV 3150-24', partId: 'ov-3150-24', count });
  expect(sale.inputs).toBeLessThanOrEqual(12);
  expect(sale.printed).toBe(1);
  expect(sale.slip).toContain('Pick slip');
  expect(sale.slip).toContain('A6');
  expect(sale.slip).toContain('ov-3150-24');
  expect(sale.free[0] - sale.free[1]).toBe(1);
  expect(sale.move).toMatchObject({ kind: 'out', qty: 1, bin: 'A6' });
  await findFaults(page, 'counter with a slip');
  // What else fits stands under it, and one whose coil returns through the case says so.
  await page.getByRole('button', { name: 'Next customer' }).tap();
  await page.getByLabel('Number on the part').fill('OV 3120-12');
  await page.keyboard.press('Enter');
  await expect(page.locator('.shelf-fit').first()).toContainText('The part itself');
  expect(await page.locator('.shelf-fit').count()).toBeGreaterThan(3);
  await expect(page.locator('.shelf-fit').last()).toContainText('returns through the case');
  await findFaults(page, 'counter');
  await context.close();
});
