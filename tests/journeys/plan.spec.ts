import { expect, test } from '@playwright/test';
import type { JobState, OrderSummary, Reservation, ShopPlan } from '../../catalog-schema/index.ts';
import { PATIENCE } from './prove-machine.ts';
import { ServedProduct } from './served-product.ts';

const product = new ServedProduct();
test.beforeAll(() => product.start());
test.afterAll(() => product.close());

test('two jobs want a part: the plan says what comes from where and why, and taking it drafts the order and puts the unit aside', async ({ page, request }) => {
  const jobs = await (await request.get(`${product.base}/api/jobs`)).json() as JobState[];
  const at = new Date().toISOString();
  const choose = async (title: string, partId: string, id: string): Promise<JobState> => {
    const job = jobs.find(({ document }) => document.title.startsWith(title))!;
    const told = await request.post(`${product.base}/api/jobs/${job.id}/edits`, { data: { edits: [{ id, field: ['chosen'], value: { partId, plan: null }, base: job.revision, at }] } });
    expect(told.status()).toBe(200);
    return job;
  };
  await page.goto(`${product.base}/plan`);
  await expect(page.getByText('No job wants a part now.')).toBeVisible({ timeout: PATIENCE });
  const shelf = await choose('Quay sweeper', 'slb-u1-12', '00000000-0000-4000-8000-0000000000c1');
  const plan = await (await request.get(`${product.base}/api/plan`)).json() as ShopPlan;
  expect(plan.wants.map(({ jobId }) => jobId)).toEqual([shelf.id]);
  // A part that no bin holds has to be ordered.
  const held = new Set((await (await request.get(`${product.base}/api/prices`)).json() as { shelf: { partId: string }[] }).shelf.map(({ partId }) => partId));
  const offers = (await (await request.get(`${product.base}/api/prices`)).json() as { offers: { partId: string; inStock?: number }[] }).offers;
  const bought = offers.find(({ partId, inStock }) => !held.has(partId) && inStock !== 0)!.partId;
  const ordered = await choose('Light tower', bought, '00000000-0000-4000-8000-0000000000c2');

  await page.goto(`${product.base}/jobs/${ordered.id}/get`);
  await expect(page.getByText('In the plan for all jobs')).toBeVisible();
  await page.getByRole('link', { name: 'See the whole plan' }).click();
  await expect(page.getByRole('heading', { name: 'From the shelf' })).toBeVisible({ timeout: PATIENCE });
  await expect(page.getByRole('heading', { name: /^Order from / })).toBeVisible();
  await expect(page.getByText('Proven: no plan costs less.')).toBeVisible();
  await page.getByText('Why this').first().click();
  await expect(page.getByText('Each figure is the difference of two whole plans.').first()).toBeVisible();
  await page.getByRole('button', { name: 'Draft these orders and put the units aside' }).click();
  await expect(page.getByText('1 order drafted, 1 unit put aside')).toBeVisible({ timeout: PATIENCE });

  const orders = await (await request.get(`${product.base}/api/orders`)).json() as OrderSummary[];
  expect(orders.map(({ state }) => state)).toEqual(['draft']);
  const reserved = await (await request.get(`${product.base}/api/shelf/reservations?jobId=${shelf.id}`)).json() as Reservation[];
  expect(reserved).toMatchObject([{ partId: 'slb-u1-12', qty: 1 }]);
  await page.getByRole('link', { name: /Look at the order/ }).click();
  await expect(page.getByText('Light tower').first()).toBeVisible();
});
