import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { NO_CURRENCY, catalogueSchema, pricesSchema } from '../../../catalog-schema/index.ts';
import { openServices } from '../open-services.ts';
import { openTestServices } from '../open-test-services.ts';
import { makeId, makeJob, makePart } from '../sample-data.ts';

let folder: string;
const reports: string[] = [];
const report = (line: string): void => { reports.push(line); };

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'lugwright-demo-'));
  reports.length = 0;
});
afterEach(() => rmSync(folder, { recursive: true }));

function write(name: string, content: unknown): void {
  mkdirSync(join(folder, name, '..'), { recursive: true });
  writeFileSync(join(folder, name), typeof content === 'string' ? content : JSON.stringify(content));
}

const shop = {
  currency: 'EUR', labourPerHour: 60, kitPrices: [], suppliers: [{ id: 's1', freight: 5, freeFreightFrom: 100 }, { id: 's0', freight: 0 }],
  offers: [{ supplierId: 's1', partId: 'p1', price: 12.5, leadDays: 3, breaks: [{ minQty: 2, price: 12 }] }],
  shelf: [{ partId: 'p1', bin: 'A1', onHand: 2, reserved: 1, unitCost: 10 }],
};

test('the demo of this repository loads without a word, and every job of it reads', async () => {
  const { services, remove } = await openTestServices({ demoFolder: resolve(import.meta.dirname, '../../../demo-catalog'), report });
  expect(reports).toEqual([]);
  expect(services.catalogue.current().parts.length).toBeGreaterThanOrEqual(300);
  expect(catalogueSchema.safeParse(services.catalogue.current().parts).success).toBe(true);
  const prices = await services.prices.current();
  expect(pricesSchema.parse(prices)).toEqual(prices);
  expect(prices.suppliers).toHaveLength(4);
  expect(await services.jobs.list()).toHaveLength(readdirSync(resolve(import.meta.dirname, '../../../demo-catalog/jobs')).length);
  await remove();
});

test('a shop is stored as its file has it', async () => {
  write('parts/a.json', [makePart('p1')]);
  write('shop.json', shop);
  write('jobs/b.json', { ...makeJob(1, { at: '2026-11-02T00:00:00Z' }), expect: 'It goes on as it is.' });
  write('jobs/a.json', makeJob(2, { at: '2026-11-03T00:00:00Z' }));
  const { services, remove } = await openTestServices({ demoFolder: folder, report, clock: { now: () => new Date(2026, 10, 25) } });
  expect(reports).toEqual([]);
  expect(await services.prices.current()).toEqual({
    currency: 'EUR', labourPerHour: 60, today: '2026-11-25', suppliers: shop.suppliers, offers: shop.offers,
    shelf: [{ partId: 'p1', onHand: 2, reserved: 1, unitCost: 10 }],
  });
  expect((await services.jobs.list()).map((job) => job.document.title)).toEqual(['Job 2', 'Job 1']);
  await remove();
});

test('what does not read is left out and reported by file; the rest is loaded', async () => {
  write('parts/a.json', [makePart('p1'), { id: 'bad' }]);
  write('shop.json', { ...shop, offers: [...shop.offers, { ...shop.offers[0], partId: 'gone' }], shelf: [...shop.shelf, { ...shop.shelf[0], partId: 'gone' }] });
  write('jobs/a.json', { ...makeJob(1), record: {} });
  write('jobs/b.json', makeJob(2));
  write('jobs/c.json', '{"id"');
  const { services, remove } = await openTestServices({ demoFolder: folder, report });
  expect(services.catalogue.current().parts.map((part) => part.id)).toEqual(['p1']);
  expect((await services.prices.current()).offers).toHaveLength(1);
  expect((await services.jobs.list()).map((job) => job.id)).toEqual([makeId(2)]);
  expect(reports.map((line) => line.slice(0, line.indexOf(' ')))).toEqual(expect.arrayContaining(['parts:', 'shop.json:', 'jobs/a.json:', 'jobs/c.json:']));
  await remove();
});

test.each([
  ['an offer of a supplier that is not there', { ...shop, suppliers: [] }, 'offers[0].supplierId'],
  ['more set aside than is there', { ...shop, shelf: [{ ...shop.shelf[0], reserved: 3 }] }, 'shelf[0].reserved'],
  ['an unknown key', { ...shop, rent: 3 }, 'rent'],
])('a shop with %s is not stored', async (_, bad, path) => {
  write('parts/a.json', [makePart('p1')]);
  write('shop.json', bad);
  const { services, remove } = await openTestServices({ demoFolder: folder, report });
  expect(reports.join('\n')).toContain(path);
  expect(await services.prices.current()).toMatchObject({ currency: NO_CURRENCY, offers: [], shelf: [] });
  await remove();
});

test('a database that holds something is left alone, whatever the folder says by now', async () => {
  write('parts/a.json', [makePart('p1')]);
  write('shop.json', shop);
  const { services, file, remove } = await openTestServices({ demoFolder: folder });
  await services.shelf.reserve({ id: makeId(1), partId: 'p1', qty: 1, at: '2026-11-25T10:00:00Z' });
  write('parts/a.json', [makePart('p1'), makePart('p2')]);
  const again = await openServices({ file, demoFolder: folder });
  expect(again.catalogue.current().parts).toHaveLength(1);
  expect((await again.shelf.list())[0]).toMatchObject({ onHand: 1, free: 0 });
  await again.close();
  await remove();
});

test('two servers that start on one empty file load it once', async () => {
  write('parts/a.json', [makePart('p1')]);
  write('shop.json', shop);
  write('jobs/a.json', makeJob(1));
  const file = join(folder, 'both.sqlite');
  const both = await Promise.all([openServices({ file, demoFolder: folder }), openServices({ file, demoFolder: folder })]);
  for (const services of both) {
    expect(services.catalogue.current().parts).toHaveLength(1);
    expect(await services.jobs.list()).toHaveLength(1);
  }
  await Promise.all(both.map((services) => services.close()));
});

test('an import later changes what is served and its tag', async () => {
  write('parts/a.json', [makePart('p1')]);
  const { services, remove } = await openTestServices({ demoFolder: folder });
  const before = services.catalogue.current();
  const result = await services.catalogue.importParts([makePart('p1', { title: 'Renamed' }), makePart('p2'), { id: 'bad' }]);
  expect(result.imported).toBe(2);
  expect(result.faults.length).toBeGreaterThan(0);
  const after = services.catalogue.current();
  expect(after.parts.map((part) => part.title)).toEqual(['Renamed', 'Relay p2']);
  expect(after.etag).not.toBe(before.etag);
  expect(JSON.parse(after.json)).toEqual(after.parts);
  expect(before.parts).toHaveLength(1);
  await remove();
});

test('the folder itself is only read', async () => {
  const source = resolve(import.meta.dirname, '../../../demo-catalog');
  cpSync(source, join(folder, 'copy'), { recursive: true });
  const { remove } = await openTestServices({ demoFolder: join(folder, 'copy') });
  await remove();
  expect(readFileSync(join(folder, 'copy', 'shop.json'), 'utf8')).toBe(readFileSync(join(source, 'shop.json'), 'utf8'));
  expect(readdirSync(join(folder, 'copy')).toSorted()).toEqual(readdirSync(source).toSorted());
});
