import AxeBuilder from '@axe-core/playwright';
import { expect, test, type APIResponse, type Locator, type Page } from '@playwright/test';
import type { JobState } from '../../catalog-schema/index.ts';
import { SAMPLE_JPEG, turnJpeg } from '../../catalog-schema/photograph/sample-pictures.ts';
import { drawBenchPhotograph, PICTURE, seeBracket, seeCardEdges, STUD_MM, TRUTH } from './bench-photograph.ts';
import { ServedProduct } from './served-product.ts';

// Millimetres from a photograph, on a phone with one thumb: a picture drawn by a camera of our own, whose holes' places are known.

const product = new ServedProduct();
test.beforeAll(() => product.start());
test.afterAll(() => product.close());
test.use({ viewport: { width: 390, height: 844 }, hasTouch: true });

interface At { xPx: number; yPx: number }
let png: Buffer | undefined;
const drawOnce = (): Buffer => png ??= drawBenchPhotograph();

/** The job that came in over the counter, with four terminals and nothing measured. */
async function openScreen(page: Page): Promise<string> {
  const jobs = await (await page.request.get(`${product.base}/api/jobs`)).json() as JobState[];
  const job = jobs.find(({ document }) => document.title.startsWith('Counter'))!;
  await page.goto(`${product.base}/jobs/${job.id}/bench`);
  await page.getByRole('link', { name: 'Measure from a photograph' }).click();
  await expect(page.getByRole('heading', { name: 'Measure from a photograph' })).toBeVisible();
  return job.id;
}

async function choosePicture(page: Page, file: { name: string; mimeType: string; buffer: Buffer }): Promise<void> {
  await page.getByLabel('Choose a picture').setInputFiles(file);
}

/** Where a place of the picture stands on the screen while the whole of it is shown. */
async function placeOn(board: Locator, { xPx, yPx }: At, size: { widthPx: number; heightPx: number } = PICTURE): Promise<{ x: number; y: number }> {
  const box = await board.evaluate((canvas) => {
    canvas.scrollIntoView({ block: 'center' });
    const { left, top } = canvas.getBoundingClientRect();
    return { left: left + canvas.clientLeft, top: top + canvas.clientTop, width: canvas.clientWidth, height: canvas.clientHeight };
  });
  const scale = Math.min(box.width / size.widthPx, box.height / size.heightPx);
  return { x: box.left + (box.width - size.widthPx * scale) / 2 + xPx * scale, y: box.top + (box.height - size.heightPx * scale) / 2 + yPx * scale };
}

/** Holds a finger down beside a place, draws it there under the magnifier, and lets go. */
async function aim(page: Page, at: { x: number; y: number }): Promise<void> {
  const session = await page.context().newCDPSession(page);
  const touch = (type: 'touchStart' | 'touchMove' | 'touchEnd', x: number, y: number): Promise<unknown> =>
    session.send('Input.dispatchTouchEvent', { type, touchPoints: type === 'touchEnd' ? [] : [{ x, y }] });
  await touch('touchStart', at.x - 5, at.y + 4);
  await page.waitForTimeout(300);
  await touch('touchMove', at.x - 2, at.y + 1);
  await touch('touchMove', at.x, at.y);
  await touch('touchEnd', at.x, at.y);
  await session.detach();
}

async function allSent(page: Page): Promise<void> {
  await expect(page.getByText('all sent')).toBeVisible();
}

test('files that are no whole picture are refused in words, and leave nothing in the job', async ({ page }) => {
  const jobId = await openScreen(page);
  const whole = drawOnce();
  for (const [name, buffer, said] of [
    ['notes.jpg', Buffer.from('no picture at all'), 'This is text. Wanted is a photograph: JPEG, PNG or WebP.'],
    ['empty.jpg', Buffer.alloc(0), 'This is nothing. Wanted is a photograph: JPEG, PNG or WebP.'],
    ['half.png', whole.subarray(0, whole.length / 2), 'This is a PNG picture that is cut off. Wanted is a whole picture.'],
    ['film.jpg', Buffer.from('\0\0\0\x18ftypheic\0\0\0\0'), 'This is a picture of type HEIC.'],
  ] as const) {
    await choosePicture(page, { name, mimeType: 'image/jpeg', buffer });
    await expect(page.getByRole('alert'), name).toContainText(said);
  }
  const job = await (await page.request.get(`${product.base}/api/jobs/${jobId}`)).json() as JobState;
  expect(job.document.photographs).toBeUndefined();
});

test('four bolt holes and two studs come from a photograph into the record', async ({ page }) => {
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('console', (message) => { if (message.type() === 'error') complaints.push(message.text()); });
  const jobId = await openScreen(page);
  const board = page.locator('marking-board canvas');
  const guide = page.locator('.photo-guide');
  const readJob = async (): Promise<JobState> => await (await page.request.get(`${product.base}/api/jobs/${jobId}`)).json() as JobState;

  const before = (await readJob()).record;

  await test.step('choose the picture: it is shown at once, and kept with the job', async () => {
    await choosePicture(page, { name: 'bench.png', mimeType: 'image/png', buffer: drawOnce() });
    await expect(board).toBeVisible();
    await expect(guide).toContainText('Edge 1 of 4');
    await expect(guide).toBeInViewport({ ratio: 1 });
    await allSent(page);
    await expect(page.getByText(/waits to be sent/)).toHaveCount(0);
    const [hash] = Object.keys((await readJob()).document.photographs!);
    // It is kept on the device first and sent after what was written about it.
    const readKept = (): Promise<APIResponse> => page.request.get(`${product.base}/api/jobs/${jobId}/photographs/${hash}`);
    await expect.poll(async () => (await readKept()).headers()['content-type']).toBe('image/png');
    expect(Buffer.compare(await (await readKept()).body(), drawOnce())).toBe(0);
  });

  await test.step('a place where no edge is, is said to be none, and marked again', async () => {
    for (const at of [{ xPx: 300, yPx: 60 }, { xPx: 700, yPx: 1440 }]) {
      const { x, y } = await placeOn(board, at);
      await page.touchscreen.tap(x, y);
    }
    await expect(guide).toContainText('No edge was found there');
    await expect(page.locator('.photo-edges')).toContainText('no clear edge near the marks');
    await guide.getByRole('button', { name: 'Take back' }).tap();
    await guide.getByRole('button', { name: 'Take back' }).tap();
    await expect(guide).toContainText('Edge 1 of 4');
  });

  await test.step('tap the four edges of the card with a finger', async () => {
    for (const [k, pair] of seeCardEdges().entries()) {
      for (const at of pair) {
        const { x, y } = await placeOn(board, at);
        await page.touchscreen.tap(x, y);
      }
      await expect(page.locator('.photo-edges').getByText('found')).toHaveCount(k + 1);
    }
    await expect(page.getByText(/The card is measured/)).toBeVisible();
    await expect(guide).toContainText('Mark the middle of a hole');
  });

  await test.step('aim at the holes through the magnifier, and take one back', async () => {
    for (const hole of TRUTH.holes) await aim(page, await placeOn(board, seeBracket(hole)));
    await expect(page.locator('.photo-things').locator('li')).toHaveCount(4);
    await guide.getByRole('button', { name: 'Take back' }).tap();
    await expect(page.locator('.photo-things').locator('li')).toHaveCount(3);
    await aim(page, await placeOn(board, seeBracket(TRUTH.holes[3]!)));
    await expect(page.locator('.photo-spacings > div')).toHaveCount(6);
    await expect(page.locator('.photo-spacings')).toContainText(/Hole 1 to hole 2\s*58\.\d+ mm ± \d\.\d+ mm/);
  });

  await test.step('mark two studs by their sides', async () => {
    await page.locator('.photo-tools label').filter({ hasText: 'Terminals' }).tap();
    await page.locator('.photo-tools label').filter({ hasText: 'two sides' }).tap();
    for (const [x, y] of TRUTH.studs) {
      for (const side of [-STUD_MM / 2, STUD_MM / 2]) await aim(page, await placeOn(board, seeBracket([x + side, y])));
    }
    await expect(page.locator('.photo-things')).toContainText('Terminal b');
    await expect(guide).toContainText('Mark one side of terminal c');
  });

  await test.step('put it into the record', async () => {
    await page.getByRole('button', { name: 'Put 4 holes and 2 terminals into the record' }).tap();
    await expect(page.getByText('This is what the record holds.')).toBeVisible();
    await allSent(page);
    const { record } = await readJob();
    const holes = record.mounting!.holes;
    expect(holes).toHaveLength(4);
    for (const [i, p] of TRUTH.holes.entries()) {
      for (const [j, q] of TRUTH.holes.entries()) {
        const [a, b] = [holes[i]!, holes[j]!];
        expect(Math.abs(Math.hypot(a.xMm - b.xMm, a.yMm - b.yMm) - Math.hypot(p[0] - q[0], p[1] - q[1]))).toBeLessThan(0.5);
      }
    }
    // level on its first two holes, the middle of all at 0, 0
    expect(Math.abs(holes[0]!.yMm - holes[1]!.yMm)).toBeLessThan(0.02);
    expect(Math.abs(holes[0]!.xMm + holes[2]!.xMm)).toBeLessThan(0.5);
    expect(record.mounting!.plusMinusMm).toBeGreaterThan(0.05);
    expect(record.mounting!.plusMinusMm).toBeLessThan(1.5);
    const [a, b] = record.terminals!;
    for (const stud of [a!, b!]) {
      const { value, plusMinus } = stud.majorDiameterMm as { value: number; plusMinus: number };
      expect(Math.abs(value - STUD_MM)).toBeLessThan(Math.max(0.5, plusMinus));
      expect(stud.atBy).toBe('measured');
    }
    expect(Math.abs(Math.hypot(a!.at!.xMm - b!.at!.xMm, a!.at!.yMm - b!.at!.yMm) - 22)).toBeLessThan(0.5);
    expect(Math.abs(a!.at!.xMm + 11)).toBeLessThan(0.7);
  });

  await test.step('one Undo takes all of it out again, and it can be put back', async () => {
    await guide.getByRole('button', { name: 'Take back' }).tap();
    await expect.poll(async () => (await readJob()).record).toEqual(before);
    await page.getByRole('button', { name: /^Put 4 holes/ }).tap();
    await expect(page.getByText('This is what the record holds.')).toBeVisible();
    await allSent(page);
  });

  await test.step('after the page was loaded anew everything is taken up again', async () => {
    await page.reload();
    await expect(page.locator('.photo-spacings > div')).toHaveCount(6);
    await expect(page.getByText('This is what the record holds.')).toBeVisible();
  });

  await page.evaluate(() => { (document.activeElement as HTMLElement).blur(); scrollTo(0, 0); });
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme });
    const found = await new AxeBuilder({ page }).withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']).analyze();
    expect.soft(found.violations.map(({ id, nodes }) => `${colorScheme} ${id}: ${nodes.map((node) => node.target.join(' ')).join(', ')}`)).toEqual([]);
  }
  expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
  expect(complaints).toEqual([]);
});

test('a picture that the camera turned by Exif is measured upright', async ({ page }) => {
  const jobId = await openScreen(page);
  await choosePicture(page, { name: 'turned.jpg', mimeType: 'image/jpeg', buffer: Buffer.from(turnJpeg(SAMPLE_JPEG, 6)) });
  await expect(page.getByText('8 × 12')).toBeVisible();
  const sizes = async (): Promise<number[][]> => {
    const job = await (await page.request.get(`${product.base}/api/jobs/${jobId}`)).json() as JobState;
    return Object.values(job.document.photographs ?? {}).filter(({ name }) => name === 'turned.jpg').map(({ widthPx, heightPx }) => [widthPx, heightPx]);
  };
  await expect.poll(sizes).toEqual([[8, 12]]);
});
