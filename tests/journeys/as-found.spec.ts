import AxeBuilder from '@axe-core/playwright';
import { expect, test, type Locator, type Page } from '@playwright/test';
import type { JobState, Wire } from '../../catalog-schema/index.ts';
import { SAMPLE_JPEG, turnJpeg } from '../../catalog-schema/photograph/sample-pictures.ts';
import { drawBenchPhotograph, PICTURE, seeBracket, TRUTH } from './bench-photograph.ts';
import { beginJob, countTouches, drawTerminals, readWires, recordWires, TELEPHONE, WANTED } from './record-four-wires.ts';
import { ServedProduct } from './served-product.ts';

// The wires as they were found, recorded beside the machine: by touches, by keys, by a meter, with a picture beneath.

const product = new ServedProduct();
test.beforeAll(() => product.start());
test.afterAll(() => product.close());

const TAGS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
async function findFaults(page: Page, what: string): Promise<void> {
  const { violations } = await new AxeBuilder({ page }).withTags(TAGS).analyze();
  expect.soft(violations.map(({ id, nodes }) => `${what} ${id}: ${nodes.map((node) => node.target.join(' ')).join(', ')}`)).toEqual([]);
  expect.soft(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth), `${what} is wider than the screen`).toBeLessThanOrEqual(0);
}

async function findJob(page: Page, title: string): Promise<JobState> {
  const jobs = await (await page.request.get(`${product.base}/api/jobs`)).json() as JobState[];
  return jobs.find(({ document }) => document.title.startsWith(title))!;
}
const readJob = async (page: Page, id: string): Promise<JobState> => await (await page.request.get(`${product.base}/api/jobs/${id}`)).json() as JobState;
const allSent = (page: Page): Promise<void> => expect(page.getByText('all sent')).toBeVisible();

test('four wires take at most 32 touches on a telephone, and nothing is typed', async ({ browser }) => {
  const page = await browser.newPage(TELEPHONE);
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(error.message));
  const count = await countTouches(page);
  const jobId = await beginJob(page, product.base);
  await page.goto(`${product.base}/jobs/${jobId}/as-found`);
  await drawTerminals(page);
  const before = await count();
  await recordWires(page);
  const after = await count();
  expect((await readWires(page, product.base, jobId)).toSorted((a, b) => (a.tag < b.tag ? -1 : 1))).toEqual(WANTED);
  const touches = after.touches - before.touches;
  console.log(`four wires took ${touches} touches`);
  expect(touches).toBeLessThanOrEqual(32);
  // Every choice is a touch: a counter that counts nothing would be below any bound.
  expect(touches).toBeGreaterThanOrEqual(4 * 5);
  expect(after.keys).toBe(0);
  expect(complaints).toEqual([]);
  await page.close();
});

test('by keys alone: terminals drawn, a wire hung and described, and its tag printed', async ({ page }) => {
  const jobId = await beginJob(page, product.base);
  await page.goto(`${product.base}/jobs/${jobId}/as-found`);
  /** Tab until what has the focus is what is looked for. */
  const reach = async (what: Locator): Promise<void> => {
    for (let k = 0; k < 120; k += 1) {
      await page.keyboard.press('Tab');
      if (await what.evaluate((element) => {
        const root = element.getRootNode() as Document | ShadowRoot;
        return root.activeElement === element;
      })) return;
    }
    throw new Error('the focus never came there');
  };
  await reach(page.getByRole('button', { name: 'Draw these terminals' }));
  await page.keyboard.press('Enter');
  await reach(page.locator('[data-terminal]').first());
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Enter');
  await expect(page.getByRole('heading', { name: /^Wire W1 on/ })).toBeFocused();
  // Radios: one stop a group, the space bar chooses, arrows go on.
  await page.keyboard.press('Tab');
  await page.keyboard.press('Space');
  await page.keyboard.press('ArrowRight');
  await expect(page.getByRole('radio', { name: 'starter' })).toBeChecked();
  await reach(page.getByRole('radio', { name: /followed by eye/ }));
  await page.keyboard.press('Space');
  await page.getByRole('radio', { name: /^BK/ }).focus();
  await page.keyboard.press('Space');
  await reach(page.getByRole('button', { name: 'It has a stripe' }));
  await page.keyboard.press('Enter');
  await reach(page.getByRole('group', { name: 'Stripe' }).getByRole('radio').first());
  await page.keyboard.press('ArrowRight');
  await allSent(page);
  const [wire] = (await readJob(page, jobId)).record.wires!;
  expect(wire).toMatchObject({ tag: 'W1', leadsTo: 'starter', traced: { by: 'followed' } });
  expect(wire!.colour).toMatch(/^BK\/[A-Z]{2}$/);
  for (let k = 0; k < 150; k += 1) {
    await page.keyboard.press('Shift+Tab');
    if (await page.getByRole('button', { name: 'Print tags' }).evaluate((element) => element === document.activeElement)) break;
  }
  await page.keyboard.press('Enter');
  await expect(page.locator('.tag-code')).toHaveCount(1);
});

test.describe('with a thumb', () => {
test.use({ viewport: { width: 390, height: 844 }, hasTouch: true });

test('an untraced wire is traced by the readings that tell, and a reading that cannot be is told', async ({ page }) => {
  const job = await findJob(page, 'Ride-on float');
  const untraced = job.record.wires!.find(({ leadsTo }) => leadsTo === undefined || leadsTo === 'unknown')!;
  await page.goto(`${product.base}/jobs/${job.id}/as-found/${untraced.tag}`);
  await expect(page.getByRole('heading', { name: `Wire ${untraced.tag} on ${untraced.wasOn}` })).toBeVisible();
  // It is open at once: nothing can be wired back before the wire is traced.
  const helper = page.locator('wire-trace');
  await expect(helper.getByRole('heading', { name: 'Measure next' })).toBeVisible();
  await expect(helper).toContainText('both clamps off the battery, minus first');
  await findFaults(page, 'tracing');
  const read = async (label: string, value: string): Promise<void> => {
    const field = helper.getByRole('textbox', { name: label, exact: true });
    await field.fill(value);
    await field.blur();
  };
  await read('Ohms to the chassis, interlocks made', '0.4');
  await expect(helper.getByRole('status').filter({ hasText: 'It can lead to' })).toContainText('starter, chassis, interlock return, cranking feed');
  // What cannot be together is told, and taken back.
  await read('Ohms to the chassis, interlocks open', '0.3');
  await expect(helper.getByRole('status').first()).not.toContainText('interlock return');
  await helper.getByRole('button', { name: 'Remove: Ohms to the chassis, interlocks open' }).tap();
  await expect(helper.getByRole('textbox', { name: 'Ohms to the chassis, interlocks open', exact: true })).toBeVisible();
  await helper.getByRole('button', { name: 'open', exact: true }).tap();
  await expect(helper.getByRole('status').filter({ hasText: 'It can lead to' })).toContainText('interlock return, cranking feed');
  await helper.getByText('Another reading instead').tap();
  await helper.locator('label.choice').filter({ hasText: 'Volts, key at run' }).tap();
  await expect(helper).toContainText("Take the starter's cable off the starter's own stud");
  await read('Volts, key at run', '0');
  await expect(helper).toContainText('Put down as measured: interlock return.');
  await expect(page.getByRole('radio', { name: 'interlock return' })).toBeChecked();
  await expect(page.getByRole('radio', { name: 'measured' })).toBeChecked();
  await allSent(page);
  const traced = (await readJob(page, job.id)).record.wires!.find(({ tag }) => tag === untraced.tag)!;
  expect(traced).toMatchObject({ leadsTo: 'interlocked-return', traced: { by: 'meter', readings: { ohmChassisMade: 0.4, ohmChassisOpen: 'open', voltsRun: 0 } } } satisfies Partial<Wire>);
  // Somebody writes another place down: the readings are set against it.
  await page.getByRole('group', { name: 'Where does it lead?' }).locator('label').filter({ hasText: 'chassis' }).first().tap();
  await expect(helper.getByRole('alert')).toContainText('written down as leading to the chassis');
  await helper.getByRole('button', { name: 'Put down: interlock return' }).tap();
  await expect(page.getByRole('radio', { name: 'interlock return' })).toBeChecked();
});

test('a photograph is scaled, pinned, laid beneath the drawing, and a wire hung from a pin', async ({ page }) => {
  test.setTimeout(180_000);
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('console', (message) => { if (message.type() === 'error') complaints.push(message.text()); });
  const job = await findJob(page, 'Counter');
  await page.goto(`${product.base}/jobs/${job.id}/as-found`);
  await page.getByRole('button', { name: 'Photographs' }).tap();
  await page.getByLabel('Keep the picture as the camera made it as well').check();
  const large = drawBenchPhotograph(1.1);
  await page.getByLabel('Choose a picture').setInputFiles({ name: 'face.png', mimeType: 'image/png', buffer: large });
  const board = page.locator('marking-board canvas');
  await expect(board).toBeVisible({ timeout: 60_000 });
  await allSent(page);
  const photographs = async () => Object.entries((await readJob(page, job.id)).document.photographs ?? {});
  await expect.poll(async () => (await photographs()).length).toBe(1);
  const [hash, photograph] = (await photographs())[0]!;
  expect([photograph.widthPx, photograph.heightPx]).toEqual([2048, 1536]);
  // Both are kept: the scaled one, and the very bytes of the camera.
  await expect.poll(async () => (await page.request.get(`${product.base}/api/jobs/${job.id}/photographs/${photograph.original}`)).status(), { timeout: 30_000 }).toBe(200);
  expect(Buffer.compare(await (await page.request.get(`${product.base}/api/jobs/${job.id}/photographs/${photograph.original}`)).body(), large)).toBe(0);
  const scaled = await (await page.request.get(`${product.base}/api/jobs/${job.id}/photographs/${hash}`)).body();
  expect(scaled.length).toBeLessThan(large.length / 3);

  const box = (await board.boundingBox())!;
  const scale = Math.min(box.width / 2048, box.height / 1536);
  const place = (at: readonly [number, number]): { x: number; y: number } => {
    const { xPx, yPx } = seeBracket(at);
    const grown = 2048 / PICTURE.widthPx;
    return { x: box.x + (box.width - 2048 * scale) / 2 + xPx * grown * scale, y: box.y + (box.height - 1536 * scale) / 2 + yPx * grown * scale };
  };
  const terminals = job.record.terminals!;
  for (const [k, stud] of TRUTH.studs.entries()) {
    await expect(page.getByText(`Tap terminal ${terminals[k]!.id} in the picture.`)).toBeVisible();
    await board.scrollIntoViewIfNeeded();
    const moved = (await board.boundingBox())!;
    const { x, y } = place(stud);
    await page.touchscreen.tap(x + moved.x - box.x, y + moved.y - box.y);
    await expect(page.getByRole('button', { name: `Hang a wire on ${terminals[k]!.id}` })).toBeVisible();
  }
  await findFaults(page, 'photographs');
  await expect(page.locator('terminal-picture image')).toHaveCount(1);
  const things = (await photographs())[0]![1].things!;
  expect(Object.values(things).map(({ what, terminal, by }) => [what, terminal, by])).toEqual([['terminal', terminals[0]!.id, 'middle'], ['terminal', terminals[1]!.id, 'middle']]);

  await page.locator('label').filter({ hasText: 'hangs a wire' }).tap();
  await board.scrollIntoViewIfNeeded();
  const moved = (await board.boundingBox())!;
  const second = place(TRUTH.studs[1]!);
  await page.touchscreen.tap(second.x + moved.x - box.x, second.y + moved.y - box.y);
  await expect(page.getByRole('heading', { name: new RegExp(`^Wire .+ on ${terminals[1]!.id}`) })).toBeVisible();
  // Hidden and shown again; there after the page was loaded anew.
  await page.getByRole('button', { name: 'shown' }).tap();
  await expect(page.locator('terminal-picture image')).toHaveCount(0);
  await page.reload();
  await expect(page.locator('terminal-picture image')).toHaveCount(1);

  // One that the camera turned by Exif counts upright, whatever its size.
  await page.getByRole('button', { name: 'Photographs' }).tap();
  await page.getByLabel('Choose a picture').setInputFiles({ name: 'turned.jpg', mimeType: 'image/jpeg', buffer: Buffer.from(turnJpeg(SAMPLE_JPEG, 6)) });
  await expect(page.getByText(/8 × 12/)).toBeVisible();
  expect(complaints).toEqual([]);
});
});

for (const [name, viewport, themes] of [['phone', { width: 390, height: 844 }, ['light', 'dark']], ['tablet', { width: 820, height: 1180 }, ['dark']], ['desktop', { width: 1440, height: 900 }, ['light']]] as const) {
  test(`axe finds nothing on As found with each of its tools open, ${name}`, async ({ page }) => {
    await page.setViewportSize(viewport);
    const job = await findJob(page, 'Quay sweeper');
    await page.goto(`${product.base}/jobs/${job.id}/as-found/W1`);
    await expect(page.getByRole('heading', { name: /^Wire W1/ })).toBeVisible();
    await page.getByText('Trace it with a meter').click();
    await expect(page.locator('.trace-next')).toBeVisible();
    for (const colorScheme of themes) {
      await page.emulateMedia({ colorScheme });
      for (const tool of ['Read a tag', 'Photographs', 'Print tags']) {
        await page.getByRole('button', { name: tool, exact: true }).click();
        await expect(page.getByRole('region', { name: tool })).toBeVisible();
        if (tool === 'Print tags') await expect(page.locator('.tag-code').first()).toBeVisible();
        await findFaults(page, `${tool}, ${colorScheme}`);
        const small = await page.locator('.as-found-tool button, .as-found-tool .choice > span, .as-found-tool .file-button, .as-found-tools button, .wire-trace button').evaluateAll((elements) =>
          elements.filter((element) => (element as HTMLElement).offsetParent !== null).map((element) => element.getBoundingClientRect()).filter(({ width, height }) => width < 48 || height < 48).length);
        expect.soft(small, `${tool}: targets below 48 px`).toBe(0);
        await page.getByRole('button', { name: tool, exact: true }).click();
      }
    }
  });
}
