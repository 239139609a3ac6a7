import { expect, test } from '@playwright/test';
import type { JobState, OfferState, PurchaseOrder, Reservation } from '../../catalog-schema/index.ts';
import { ServedProduct } from './served-product.ts';

// From a part that a job needs to the part that is put aside for it: drafted, approved, sent, received in part, the rest on back-order.

const product = new ServedProduct();
test.beforeAll(() => product.start());
test.afterAll(() => product.close());
test.use({ viewport: { width: 390, height: 844 } });

const id = (n: number): string => `00000000-0000-4000-8000-${String(n).padStart(12, '0')}`;

test('what a job needs is ordered, comes in part, and is put aside for it', async ({ page, request }) => {
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(error.message));
  const jobs = await (await request.get(`${product.base}/api/jobs`)).json() as JobState[];
  const offers = await (await request.get(`${product.base}/api/suppliers/wrenmoor-factors/offers`)).json() as OfferState[];
  const { partId } = offers.find(({ offer }) => offer.pack === undefined && offer.inStock === undefined && offer.validUntil === undefined)!.offer;
  const at = new Date().toISOString();
  const drafted = await request.post(`${product.base}/api/orders`, {
    data: { id: id(1), supplierId: 'wrenmoor-factors', lines: [{ lineId: id(2), partId, qty: 3, serves: [{ jobId: jobs[0]!.id, qty: 1 }, { jobId: jobs[1]!.id, qty: 1 }] }], at },
  });
  expect(drafted.status()).toBe(201);

  await page.goto(`${product.base}/orders`);
  await page.getByRole('link', { name: /Order 1, Wrenmoor Factors/ }).click();
  await expect(page.getByText(/^Not proven/).first()).toBeVisible();
  await expect(page.getByText(/^Would settle it/).first()).toBeVisible();
  await page.getByRole('button', { name: 'Approve' }).click();
  await page.getByLabel('How it was sent').fill('by telephone');
  await page.getByRole('button', { name: 'Mark as sent' }).click();

  const download = page.waitForEvent('download');
  await page.getByRole('link', { name: /UBL/ }).click();
  expect((await download).suggestedFilename()).toBe('order-1-wrenmoor-factors.xml');

  await page.getByText('In part, too many, wrong or damaged').click();
  await page.getByRole('spinbutton', { name: /^Good units/ }).fill('1');
  await page.getByRole('spinbutton', { name: /^Damaged units/ }).fill('1');
  await page.getByRole('button', { name: 'Book what came' }).click();
  await expect(page.getByText(/2 units on back-order/)).toBeVisible();
  await expect(page.getByText('put aside for it')).toHaveCount(1);
  const held = await (await request.get(`${product.base}/api/shelf/reservations?jobId=${jobs[0]!.id}`)).json() as Reservation[];
  expect(held).toMatchObject([{ partId, qty: 1 }]);

  await page.getByRole('button', { name: /All 2 came/ }).click();
  await expect(page.getByText('came whole', { exact: false })).toBeVisible();
  await expect(page.getByText('put aside for it')).toHaveCount(2);

  await page.getByText(/^Send back from/).click();
  await page.getByLabel('Why it goes back').selectOption('it did not fit');
  await expect(page.getByLabel('The job it did not fit on')).toBeVisible();
  await page.getByRole('button', { name: 'Book it as sent back' }).click();
  await expect(page.getByText(/^credit of .* awaited/)).toBeVisible();
  expect(await (await request.get(`${product.base}/api/orders/1`)).json() as PurchaseOrder).toMatchObject({ state: 'received', lines: [{ good: 3, damaged: 1, back: { good: 2, damaged: 1 } }], returns: [{ reason: 'wrong-fit', jobId: jobs[0]!.id }] });
  expect((await (await request.get(`${product.base}/api/outcomes/history`)).json() as { partId: string }[]).map((row) => row.partId)).toEqual([partId]);
  await page.goto(`${product.base}/suppliers/wrenmoor-factors`);
  await expect(page.getByText(/2 deliveries/)).toBeVisible();
  expect(complaints).toEqual([]);
});

test('what came is booked where there is no network, and reaches the shelf once', async ({ page, request, context }) => {
  const at = new Date().toISOString();
  const offers = await (await request.get(`${product.base}/api/suppliers/holmwick-starter-works/offers`)).json() as OfferState[];
  const { partId } = offers.find(({ offer }) => offer.inStock === undefined)!.offer;
  await request.post(`${product.base}/api/orders`, { data: { id: id(11), supplierId: 'holmwick-starter-works', lines: [{ lineId: id(12), partId, qty: 2 }], at } });
  await request.post(`${product.base}/api/orders/${id(11)}/acts`, { data: { acts: [{ kind: 'approved', id: id(13), at }, { kind: 'sent', id: id(14), at }] } });
  await page.goto(`${product.base}/orders/${id(11)}`);
  await expect(page.getByRole('button', { name: /All 2 came/ })).toBeVisible();
  await context.setOffline(true);
  await page.getByRole('button', { name: /All 2 came/ }).click();
  await expect(page.getByText('order 2: what came')).toBeVisible({ timeout: 10_000 });
  await expect(page.getByText('Kept on this device, and done when the server is reached.')).toBeVisible({ timeout: 10_000 });
  expect(await (await request.get(`${product.base}/api/orders/${id(11)}`)).json()).toMatchObject({ state: 'sent' });
  await context.setOffline(false);
  await expect(page.getByText('came whole')).toBeVisible({ timeout: 15_000 });
  expect(await (await request.get(`${product.base}/api/orders/${id(11)}`)).json()).toMatchObject({ state: 'received', lines: [{ good: 2, over: 0 }] });
});
