import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import AxeBuilder from '@axe-core/playwright';
import { chromium, expect, test, type Page } from '@playwright/test';
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader';
import { printWireCode, readWireCode, type JobState } from '../../catalog-schema/index.ts';
import { ServedProduct } from './served-product.ts';

// A tag from the printer back to its wire: printed at true size, read from the paper, held before a camera, typed by a hand scanner.

const product = new ServedProduct();
const folder = mkdtempSync(join(tmpdir(), 'tags-'));
test.beforeAll(async () => {
  await product.start();
  const file = readFileSync(createRequire(import.meta.url).resolve('zxing-wasm/reader/zxing_reader.wasm'));
  prepareZXingModule({ overrides: { wasmBinary: file.buffer.slice(file.byteOffset, file.byteOffset + file.byteLength) as ArrayBuffer } });
});
test.afterAll(async () => {
  await product.close();
  rmSync(folder, { recursive: true, force: true });
});

async function findJob(page: Page): Promise<JobState> {
  const jobs = await (await page.request.get(`${product.base}/api/jobs`)).json() as JobState[];
  return jobs.find(({ document }) => document.title.startsWith('Quay sweeper'))!;
}

const readPaper = async (picture: Buffer): Promise<string[]> =>
  (await readBarcodes(new Blob([new Uint8Array(picture)]), { formats: ['QRCode', 'Code128'], tryHarder: true, maxNumberOfSymbols: 40 })).map(({ text }) => text).toSorted();

test('every tag on the sheet is read back by an independent reader, in both kinds of code', async ({ browser }) => {
  const page = await browser.newPage({ viewport: { width: 1100, height: 1400 }, deviceScaleFactor: 4 });
  const job = await findJob(page);
  await page.goto(`${product.base}/jobs/${job.id}/as-found`);
  await page.getByRole('button', { name: 'Print tags' }).click();
  const wanted = job.record.wires!.map(({ tag }) => printWireCode(job.id, tag)).toSorted();
  expect(wanted.length).toBeGreaterThan(3);
  for (const kind of ['QR', 'Code 128']) {
    await page.getByRole('group', { name: 'Code', exact: true }).locator('label').filter({ hasText: kind }).click();
    await expect(page.locator('.tag-code')).toHaveCount(wanted.length);
    expect(await readPaper(await page.locator('.tag-page').screenshot()), kind).toEqual(wanted);
  }
  await page.close();
});

test('tags print alone, at true size, on the paper that was chosen', async ({ page }) => {
  const job = await findJob(page);
  await page.goto(`${product.base}/jobs/${job.id}/as-found`);
  await page.getByRole('button', { name: 'Print tags' }).click();
  for (const [paper, wide, high] of [['A4', 210, 297], ['Letter', 215.9, 279.4]] as const) {
    await page.getByRole('group', { name: 'Paper in the printer' }).locator('label').filter({ hasText: paper }).click();
    await expect(page.locator('.tag-code').first()).toBeVisible();
    const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
    expect(pdf.match(/\/Type\s*\/Page\b/g)).toHaveLength(1);
    const [, width, height] = /\/MediaBox\s*\[\s*0\s+0\s+([\d.]+)\s+([\d.]+)/.exec(pdf)!;
    expect(Math.abs(Number(width) * (25.4 / 72) - wide)).toBeLessThan(0.5);
    expect(Math.abs(Number(height) * (25.4 / 72) - high)).toBeLessThan(0.5);
    // a QR module is half a millimetre: 29 of them, and four of quiet on each side
    await page.emulateMedia({ media: 'print' });
    const box = (await page.locator('.tag-code').first().boundingBox())!;
    expect(Math.abs((box.width * 25.4) / 96 - 18.5)).toBeLessThan(0.1);
    await page.emulateMedia({ media: null });
  }
});

test('a tag held before the camera opens its wire', async ({ browser }, info) => {
  // What the camera sees is the printed sheet itself, as the frames of a film, aimed at one tag with its neighbours in view.
  const paper = await browser.newPage({ viewport: { width: 1000, height: 1300 }, deviceScaleFactor: 2 });
  const job = await findJob(paper);
  const wire = job.record.wires!.find(({ tag }) => tag === 'W4')!;
  await paper.goto(`${product.base}/jobs/${job.id}/as-found`);
  await paper.getByRole('button', { name: 'Print tags' }).click();
  const code = paper.locator('.tag-code').nth(job.record.wires!.indexOf(wire));
  await code.scrollIntoViewIfNeeded();
  const box = (await code.boundingBox())!;
  const frame = await paper.screenshot({ type: 'jpeg', quality: 90, clip: { x: box.x + box.width / 2 - 160, y: box.y + box.height / 2 - 120, width: 320, height: 240 } });
  await paper.close();
  const film = join(folder, 'tag.mjpeg');
  writeFileSync(film, Buffer.concat(Array.from({ length: 5 }, () => frame)));

  const { launchOptions } = info.project.use;
  const withCamera = await chromium.launch({
    ...launchOptions, args: [...launchOptions?.args ?? [], '--use-fake-ui-for-media-stream', '--use-fake-device-for-media-stream', `--use-file-for-fake-video-capture=${film}`],
  });
  try {
    const page = await withCamera.newPage({ viewport: { width: 390, height: 844 }, hasTouch: true });
    const complaints: string[] = [];
    const strangers: string[] = [];
    page.on('pageerror', (error) => complaints.push(error.message));
    page.on('console', (message) => { if (message.type() === 'error') complaints.push(message.text()); });
    page.on('request', (request) => { if (!request.url().startsWith(product.base) && !/^(?:blob|data):/.test(request.url())) strangers.push(request.url()); });
    await page.goto(`${product.base}/jobs/${job.id}/as-found`);
    await page.getByRole('button', { name: 'Read a tag' }).tap();
    await page.getByRole('button', { name: 'Read with the camera' }).tap();
    await expect(page.getByRole('heading', { name: `Wire W4 on ${wire.wasOn}` })).toBeVisible({ timeout: 30_000 });
    await expect(page.locator('code-reader').getByText('Wire W4 is open.')).toBeVisible();
    // The camera is let go: its light must not stay on.
    await expect(page.locator('code-reader video')).toHaveCount(0);
    expect([complaints, strangers]).toEqual([[], []]);
  } finally {
    await withCamera.close();
  }
});

test('without a camera the page says so, and a picture of the tag opens its wire', async ({ page }) => {
  const job = await findJob(page);
  await page.goto(`${product.base}/jobs/${job.id}/as-found`);
  await page.getByRole('button', { name: 'Print tags' }).click();
  await expect(page.locator('.tag-code').first()).toBeVisible();
  const picture = await page.locator('.tag-page').screenshot();
  await page.getByRole('button', { name: 'Read a tag' }).click();
  await page.getByRole('button', { name: 'Read with the camera' }).click();
  await expect(page.getByRole('alert')).toContainText(/camera/);
  const clipped = await page.locator('code-reader').screenshot();
  await page.getByLabel('From a picture').setInputFiles({ name: 'nothing.png', mimeType: 'image/png', buffer: clipped });
  await expect(page.locator('code-reader').getByText(/no code in this picture/)).toBeVisible();
  await page.getByLabel('From a picture').setInputFiles({ name: 'notes.png', mimeType: 'image/png', buffer: Buffer.from('no picture') });
  await expect(page.locator('code-reader').getByText(/cannot show that file/)).toBeVisible();
  await page.getByLabel('From a picture').setInputFiles({ name: 'tags.png', mimeType: 'image/png', buffer: picture });
  await expect(page.getByRole('heading', { name: /^Wire W\d on / })).toBeVisible();
});

test('a hand scanner opens a wire from any screen, and tells of a wire that is not there', async ({ page }) => {
  const job = await findJob(page);
  const wires = job.record.wires!;
  await page.goto(`${product.base}/settings`);
  await expect(page.locator('h1')).toBeVisible();
  await page.locator('body').click({ position: { x: 5, y: 5 } });
  await page.keyboard.type(printWireCode(job.id, 'W2'));
  await page.keyboard.press('Enter');
  await expect(page.getByRole('heading', { name: /^Wire W2 on / })).toBeVisible();
  expect(new URL(page.url()).pathname).toBe(`/jobs/${job.id}/as-found/W2`);
  // Again, after another wire was looked at: the same code, the same wire.
  await page.locator('.wire-row').nth(wires.findIndex(({ tag }) => tag === 'W1')).click();
  await expect(page.getByRole('heading', { name: /^Wire W1 on / })).toBeVisible();
  await page.keyboard.type(printWireCode(job.id, 'W2').toLowerCase());
  await page.keyboard.press('Enter');
  await expect(page.getByRole('heading', { name: /^Wire W2 on / })).toBeVisible();
  await page.keyboard.type(printWireCode(job.id, 'W99'));
  await page.keyboard.press('Enter');
  await expect(page.getByText('No wire of this job is called W99 yet. Tap the terminal it sits on.')).toBeVisible();
  // Into the field by hand, as with a scanner whose cursor stands there.
  const field = page.getByLabel('Or typed, or by a hand scanner');
  await field.fill('4006381333931');
  await field.press('Enter');
  await expect(page.getByText('“4006381333931” is no wire’s code.')).toBeVisible();
  await field.fill(printWireCode(job.id, 'W3'));
  await field.press('Enter');
  await expect(page.getByRole('heading', { name: /^Wire W3 on / })).toBeVisible();
  expect(readWireCode(printWireCode(job.id, 'W3'))).toEqual({ jobId: job.id, tag: 'W3' });
});

test('the list of jobs reads a tag too, and a screen shows the code for another device', async ({ page }) => {
  const job = await findJob(page);
  await page.setViewportSize({ width: 390, height: 844 });
  await page.goto(product.base);
  await page.getByRole('button', { name: 'Read a tag' }).click();
  await expect(page.getByLabel('Or typed, or by a hand scanner')).toBeVisible();
  const { violations } = await new AxeBuilder({ page }).withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']).analyze();
  expect.soft(violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.target.join(' ')).join(', ')}`)).toEqual([]);
  expect.soft(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
  await page.getByLabel('Or typed, or by a hand scanner').fill(printWireCode(job.id, 'W3'));
  await page.getByRole('button', { name: 'Open', exact: true }).click();
  await expect(page.getByRole('heading', { name: /^Wire W3 on / })).toBeVisible();
  await page.getByText('Show its code').click();
  const shown = page.getByRole('img', { name: 'Code of wire W3' });
  await expect(shown).toBeVisible();
  expect(await readPaper(await shown.screenshot())).toEqual([printWireCode(job.id, 'W3')]);
});

test('a spare tag is tied to a wire first and recorded after', async ({ page }) => {
  const id = crypto.randomUUID();
  await page.request.post(`${product.base}/api/jobs`, { data: {
    id, title: 'Spare tags', record: { system: { nominalV: 12 }, terminals: [{ id: 'B', form: 'stud', at: { xMm: -10, yMm: 0 } }, { id: 'M', form: 'stud', at: { xMm: 10, yMm: 0 } }] }, at: new Date().toISOString(),
  } });
  await page.goto(`${product.base}/jobs/${id}/as-found`);
  await page.getByRole('button', { name: 'Print tags' }).click();
  // A job without a wire is offered eight.
  await expect(page.locator('.tag-code')).toHaveCount(8);
  await page.getByRole('group', { name: 'Spare tags' }).locator('label').filter({ hasText: '4' }).click();
  await expect(page.locator('.tag-code')).toHaveCount(4);
  await page.getByRole('button', { name: 'Read a tag' }).click();
  const field = page.getByLabel('Or typed, or by a hand scanner');
  await field.fill(printWireCode(id, 'W3'));
  await field.press('Enter');
  await expect(page.getByText('No wire of this job is called W3 yet. Tap the terminal it sits on.')).toBeVisible();
  await page.locator('[data-terminal="M"]').click();
  await expect(page.getByRole('heading', { name: 'Wire W3 on M' })).toBeVisible();
  await page.getByRole('group', { name: 'Colour' }).locator('label').filter({ hasText: 'BU' }).click();
  await expect(page.getByText('all sent')).toBeVisible();
  const job = await (await page.request.get(`${product.base}/api/jobs/${id}`)).json() as JobState;
  expect(job.record.wires).toEqual([{ tag: 'W3', wasOn: 'M', colour: 'BU' }]);
  // The next one is again the lowest that is free.
  await page.locator('[data-terminal="B"]').click();
  await expect(page.getByRole('heading', { name: 'Wire W1 on B' })).toBeVisible();
});

test('with the network off a tag is drawn and read back, and a wire is traced', async ({ browser }) => {
  const context = await browser.newContext({ viewport: { width: 1100, height: 1400 }, deviceScaleFactor: 2 });
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(error.message));
  const job = await findJob(page);
  await page.goto(product.base);
  await page.evaluate(async () => { await navigator.serviceWorker.ready; });
  // Once visited: the job is kept on the device from here on.
  await page.goto(`${product.base}/jobs/${job.id}/as-found`);
  await expect(page.locator('terminal-picture')).toBeVisible();
  await expect(page.getByText('all sent')).toBeVisible();
  await context.setOffline(true);
  await page.reload();
  await page.getByRole('button', { name: 'Print tags' }).click();
  await expect(page.locator('.tag-code').first()).toBeVisible();
  const paper = await page.locator('.tag-code').nth(1).screenshot();
  await page.getByRole('button', { name: 'Read a tag' }).click();
  await page.getByLabel('From a picture').setInputFiles({ name: 'tag.png', mimeType: 'image/png', buffer: paper });
  await expect(page.getByRole('heading', { name: /^Wire W2 on / })).toBeVisible({ timeout: 20_000 });
  await page.getByText('Trace it with a meter').click();
  await expect(page.locator('.trace-next')).toBeVisible();
  expect(complaints).toEqual([]);
  await context.close();
});
