import AxeBuilder from '@axe-core/playwright';
import { createHash } from 'node:crypto';
import { expect as expectSoon, test, type Page } from '@playwright/test';
import type { JobEdit, JobState, OrderLine, Reservation } from '../../catalog-schema/index.ts';
import { SAMPLE_JPEG } from '../../catalog-schema/photograph/sample-pictures.ts';
import { completeChecklist } from './complete-checklist.ts';
import { readDevice, visitOnce } from './kept-on-device.ts';
import { FOUR_WIRES, WANTED } from './record-four-wires.ts';
import { ServedProduct } from './served-product.ts';

// A page that is made ready for no network is busy: on a slow machine an answer may take longer than elsewhere.
const expect = expectSoon.configure({ timeout: 20_000 });

// A whole job with no network, from its start to the sign-off, the page closed and opened again in between; then the network comes back
// and everything arrives once.

const product = new ServedProduct();
test.beforeAll(() => product.start());
test.afterAll(() => product.close());

/** A picture that takes more than one piece to send: a telephone appends to a JPEG what it likes. */
const PICTURE = Buffer.concat([SAMPLE_JPEG, Buffer.alloc(1_300_000, 'a note of the maker of the telephone')]);
const HASH = createHash('sha256').update(PICTURE).digest('hex');

async function choose(page: Page, group: string, option: string): Promise<void> {
  await page.getByRole('group', { name: group, exact: true }).locator('label').filter({ hasText: option }).first().click();
}

async function findFaults(page: Page, what: string): Promise<void> {
  const { violations } = await new AxeBuilder({ page }).withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']).analyze();
  expect.soft(violations.map(({ id, nodes }) => `${what} ${id}: ${nodes.map((node) => node.target.join(' ')).join(', ')}`)).toEqual([]);
  expect.soft(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth), `${what} is wider than the screen`).toBeLessThanOrEqual(0);
}

test('a job from its start to the sign-off without a network, then everything arrives once', async ({ browser }) => {
  test.setTimeout(300_000);
  const context = await browser.newContext({ viewport: { width: 390, height: 844 } });
  let page = await context.newPage();
  const complaints: string[] = [];
  const listen = (): void => { page.on('pageerror', (error) => complaints.push(error.message)); };
  listen();
  /**
   * Closes the page and opens another at the same place, still without a network. A person who closes it before the last change is on
   * the disk is asked whether to; this closes without asking, so it waits for the change to `field`.
   */
  const reopen = async (field: string): Promise<void> => {
    await expect.poll(async () => (await readDevice(page)).edits.some((edit) => edit.field[0] === field)).toBe(true);
    const at = page.url();
    await page.close();
    page = await context.newPage();
    listen();
    await page.goto(at);
    await expect(page.locator('h1').first()).toBeVisible();
  };

  await visitOnce(page, product.base);
  await context.setOffline(true);

  const jobId = await test.step('begin a job', async () => {
    await page.getByRole('link', { name: 'Start a job' }).click();
    await page.getByLabel('What is wrong').fill('Field mower without a signal');
    await page.getByLabel('Machine').fill('Field mower, petrol, 12 V');
    await choose(page, 'What came off, or will', 'Contactor');
    await page.getByRole('button', { name: 'Start this job' }).click();
    await expect(page.getByRole('heading', { name: 'As found', level: 1 })).toBeVisible();
    return /jobs\/([0-9a-f-]+)/.exec(page.url())![1]!;
  });

  await test.step('record four wires', async () => {
    await page.getByRole('button', { name: 'Draw these terminals' }).click();
    for (const wire of FOUR_WIRES) {
      await page.locator(`[data-terminal="${wire.terminal}"]`).click();
      await choose(page, 'Where does it lead?', wire.leadsTo);
      await choose(page, 'Colour', wire.colour);
      if (wire.stripe !== undefined) {
        await page.getByRole('button', { name: 'It has a stripe' }).click();
        await choose(page, 'Stripe', wire.stripe);
      }
      await choose(page, 'Size', wire.size);
      await choose(page, 'End', wire.end);
    }
    await expect(page.getByText(/things wait to be sent: server not reached/)).toBeVisible();
  });

  await reopen('record');

  await test.step('find the wires again, measure, and take a photograph', async () => {
    for (const { tag } of WANTED) await expect(page.getByText(tag, { exact: true }).first()).toBeVisible();
    await page.getByRole('link', { name: /^Bench/ }).click();
    for (const [label, entry] of [['Fuse of the start circuit', '15 A'], ['Longest time held', '10 s'], ['Inrush through the contact', '180']] as const) {
      const field = page.getByLabel(label);
      await field.fill(entry);
      await field.blur();
    }
    await page.getByRole('button', { name: 'Add Brake' }).click();
    await page.goto(`${product.base}/jobs/${jobId}/bench/photograph`);
    await page.locator('input[type=file]').first().setInputFiles({ name: 'face.jpg', mimeType: 'image/jpeg', buffer: PICTURE });
    await expect(page.getByText('The picture is kept on this device and waits to be sent.')).toBeVisible();
  });

  await reopen('photographs');

  const partId = await test.step('see the photograph, then choose a part and order one', async () => {
    await expect(page.locator('marking-board')).toBeVisible();
    await page.getByRole('link', { name: /^Fits/ }).first().click();
    await page.getByRole('link', { name: /^(?:Goes on|Not shown yet)/ }).first().click();
    await expect(page.getByText('What was checked')).toBeVisible();
    const id = decodeURIComponent(/fits\/([^/]+)$/.exec(page.url())![1]!);
    await page.getByRole('button', { name: 'Choose this part' }).click();
    await page.getByRole('link', { name: /^Get/ }).first().click();
    await expect(page.getByText(/prices and shelf as they were/)).toBeVisible();
    await page.getByRole('button', { name: /Put 1 aside for this job/ }).click();
    await expect(page.getByText(/Whether one is still free is known when the server is reached/)).toBeVisible();
    await expect(page.getByText('waits to be sent').first()).toBeVisible();
    return id;
  });

  const signed = await test.step('wire it, test it and sign it off', async () => {
    await page.getByRole('link', { name: /^As left/ }).first().click();
    const ticked = await completeChecklist(page, 'Ans');
    await page.locator('#signed-by').fill('Ans');
    await page.locator('#signed-by').press('Enter');
    await expect(page.getByText(/Signed off by Ans/).first()).toBeVisible();
    return ticked;
  });

  await reopen('signedOff');
  await expect(page.getByText(/Signed off by Ans/).first()).toBeVisible();

  const kept = await test.step('look at what waits', async () => {
    await page.getByRole('link', { name: /^Show what waits/ }).click();
    await expect(page.getByRole('heading', { name: 'What waits to be sent' })).toBeVisible();
    for (const line of ['begin the job', /changes$/, /^put 1 .* aside$/, /^a photograph, 1.3 MB$/]) await expect(page.getByText(line).first()).toBeVisible();
    await findFaults(page, 'what waits');
    return readDevice(page);
  });
  expect(kept.requests.map(({ kind }) => kind)).toEqual(['start-job', 'reserve']);
  expect(kept.photographs).toEqual([{ hash: HASH, waits: true, bytes: PICTURE.length }]);
  expect((await page.request.get(`${product.base}/api/jobs/${jobId}`)).status(), 'nothing has arrived yet').toBe(404);

  await test.step('find a network, and everything arrives', async () => {
    await context.setOffline(false);
    await expect(page.getByText('Nothing waits. The server has everything.')).toBeVisible({ timeout: 60_000 });
  });

  await test.step('each thing is there once', async () => {
    const job = await (await page.request.get(`${product.base}/api/jobs/${jobId}`)).json() as JobState;
    const edits = await (await page.request.get(`${product.base}/api/jobs/${jobId}/edits`)).json() as JobEdit[];
    const ids = edits.map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
    // The first edits are the job's beginning, made by the server from its start; the rest came from this device, each in its order.
    expect(ids.slice(-kept.edits.length)).toEqual(kept.edits.map(({ id }) => id));
    expect(edits.slice(0, -kept.edits.length).map(({ field }) => field.join('.'))).toEqual(['title', 'machine', 'record']);
    expect(job.conflicts).toEqual([]);
    expect(job.record.wires?.toSorted((a, b) => (a.tag < b.tag ? -1 : 1))).toEqual(WANTED);
    expect(job.record.demand).toMatchObject({ controlFuseA: 15, longestOnS: 10 });
    expect(job.document.chosen?.partId).toBe(partId);
    expect(job.document.signedOff).toMatchObject({ by: 'Ans' });
    expect(Object.keys(job.document.asLeft ?? {}).length).toBe(signed.length);
    const picture = await page.request.get(`${product.base}/api/jobs/${jobId}/photographs/${HASH}`);
    expect([picture.status(), Buffer.compare(await picture.body(), PICTURE)]).toEqual([200, 0]);
    const held = await (await page.request.get(`${product.base}/api/shelf/reservations?jobId=${jobId}`)).json() as Reservation[];
    expect(held.map((entry) => [entry.partId, entry.qty])).toEqual([[partId, 1]]);
    const lines = await (await page.request.get(`${product.base}/api/orders/lines?jobId=${jobId}`)).json() as OrderLine[];
    expect(lines).toEqual([]);
    expect(await readDevice(page)).toMatchObject({ edits: [], requests: [], photographs: [{ hash: HASH, waits: false }] });
  });
  expect(complaints).toEqual([]);
  await context.close();
});

test('what cannot be done when it arrives is told where it was asked for, and stays until a person has decided', async ({ browser }) => {
  const context = await browser.newContext({ viewport: { width: 820, height: 1180 } });
  const page = await context.newPage();
  await visitOnce(page, product.base);
  const jobs = await (await page.request.get(`${product.base}/api/jobs`)).json() as JobState[];
  const sweeper = jobs.find((job) => job.document.title.startsWith('Quay sweeper'))!;
  await page.goto(`${product.base}/jobs/${sweeper.id}/fits`);
  await page.getByRole('link', { name: /Goes on/ }).filter({ hasText: /bin/ }).first().click();
  await page.getByRole('button', { name: 'Choose this part' }).click();
  await expect(page.getByText('all sent')).toBeVisible();
  const partId = decodeURIComponent(/fits\/([^/]+)$/.exec(page.url())![1]!);
  await page.getByRole('link', { name: /^Get/ }).first().click();
  await expect(page.getByRole('button', { name: /Put 1 aside for this job/ })).toBeVisible();

  await context.setOffline(true);
  await page.getByRole('button', { name: /Put 1 aside for this job/ }).click();
  await expect(page.getByText(/Whether one is still free is known when the server is reached/)).toBeVisible();

  // Meanwhile the counter sells all that is free.
  const shelf = await (await page.request.get(`${product.base}/api/shelf`)).json() as { partId: string; free: number }[];
  const free = shelf.filter((row) => row.partId === partId).reduce((sum, row) => sum + row.free, 0);
  const sold = await page.request.post(`${product.base}/api/shelf/reservations`, { data: { id: crypto.randomUUID(), partId, qty: free, at: new Date().toISOString() } });
  expect(sold.status()).toBe(201);

  await context.setOffline(false);
  await page.evaluate(() => dispatchEvent(new Event('online')));
  await expect(page.getByText(/The server said: 1 of .* asked for, 0 free/)).toBeVisible({ timeout: 30_000 });
  await expect(page.getByRole('link', { name: /the server said no to 1 thing/ })).toBeVisible();
  await page.reload();
  await expect(page.getByText(/The server said: 1 of .* asked for, 0 free/)).toBeVisible();
  await findFaults(page, 'a no on Get');

  // Somebody brings one back.
  const id = (await sold.json() as Reservation).id;
  expect((await page.request.delete(`${product.base}/api/shelf/reservations/${id}`)).status()).toBe(204);
  await page.getByRole('button', { name: 'Try again' }).click();
  await expect(page.getByText(/The server said/)).toBeHidden();
  await expect.poll(async () => (await (await page.request.get(`${product.base}/api/shelf/reservations?jobId=${sweeper.id}`)).json() as Reservation[]).map(({ qty }) => qty)).toEqual([1]);
  await context.close();
});
