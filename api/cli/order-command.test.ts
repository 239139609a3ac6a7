import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { openServices } from '../services/index.ts';
import { runCommandLine } from './run-command-line.ts';

let folder: string;
let db: string;
const id = (n: number): string => `00000000-0000-4000-8000-${String(n).padStart(12, '0')}`;
const at = '2026-11-25T09:00:00Z';

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'lugwright-order-command-'));
  db = join(folder, 'shop.sqlite');
  mkdirSync(join(folder, 'parts'));
  writeFileSync(join(folder, 'parts', 'a.json'), JSON.stringify([{
    id: 'p1', partClass: 'start-relay', title: 'Relay, isolated', terminals: [{ id: 'B', form: 'stud' }, { id: 'M', form: 'stud' }, { id: '1', form: 'tab' }, { id: '2', form: 'tab' }],
    circuit: [{ kind: 'coil', id: 'c', between: ['1', '2'], nominalV: 12 }, { kind: 'contact', id: 'k', between: ['B', 'M'], form: 'NO', coils: ['c'] }],
  }]));
  writeFileSync(join(folder, 'shop.json'), JSON.stringify({
    currency: 'EUR', shelf: [], suppliers: [{ id: 's1', name: 'Ebb', freight: 5 }], offers: [{ supplierId: 's1', partId: 'p1', price: 9.5, leadDays: 2 }],
  }));
  const services = await openServices({ file: db, demoFolder: folder });
  await services.jobs.create({ id: id(1), title: 'Sweeper', record: { system: { nominalV: 12 } }, at });
  await services.orders.draftOrder({ id: id(2), supplierId: 's1', lines: [{ lineId: id(3), partId: 'p1', qty: 3, serves: [{ jobId: id(1), qty: 1 }] }], at });
  await services.orders.act(id(2), [{ kind: 'approved', id: id(4), at }, { kind: 'sent', id: id(5), at }, { kind: 'received', id: id(6), at, lines: [{ lineId: id(3), good: 1, damaged: 1, bin: 'A1' }] }]);
  await services.close();
});
afterAll(() => rmSync(folder, { recursive: true }));

async function run(...args: string[]): Promise<{ code: number; out: string; err: string }> {
  let [out, err] = ['', ''];
  const write = (keep: (words: string) => void) => ((words: string | Uint8Array, after?: unknown, last?: unknown) => {
    keep(typeof words === 'string' ? words : Buffer.from(words).toString('latin1'));
    const done = typeof after === 'function' ? after : last;
    if (typeof done === 'function') (done as () => void)();
    return true;
  }) as never;
  const spies = [vi.spyOn(process.stdout, 'write').mockImplementation(write((words) => { out += words; })), vi.spyOn(process.stderr, 'write').mockImplementation(write((words) => { err += words; }))];
  const code = await runCommandLine(['order', ...args, '--db', db]);
  spies.forEach((spy) => spy.mockRestore());
  return { code, out, err };
}

test('every order is a line; one is told with what came, for whom, and its evidence', async () => {
  expect((await run()).out).toMatch(/^ +1 {2}part-received {2}Ebb {2}1 line {2}33.50 EUR {2}comes 2026-\d\d-\d\d/);
  const { out, code } = await run('1');
  expect(code).toBe(0);
  expect(out).toMatch(/^Order 1 to Ebb: part-received/);
  expect(out).toContain('3 x p1, Relay, isolated: 9.50 each, 28.50 EUR');
  expect(out).toContain('came: 1 good, 1 damaged');
  expect(out).toMatch(/2 on back-order, expected 2026/);
  expect(out).toMatch(/for Sweeper: 1, has got 1\. Not proven: .* Would settle it: Volts/);
  expect(JSON.parse((await run('1', '--json')).out)).toMatchObject({ number: 1, state: 'part-received' });
});

test('it is written as a sheet, a table and a UBL order, to files and to standard output', async () => {
  const [pdf, csv, ubl] = ['o.pdf', 'o.csv', 'o.xml'].map((name) => join(folder, name)) as [string, string, string];
  expect(await run(id(2), '--pdf', pdf, '--csv', csv, '--ubl', ubl)).toEqual({ code: 0, out: '', err: '' });
  expect(readFileSync(pdf).subarray(0, 8).toString()).toBe('%PDF-1.7');
  expect(readFileSync(csv, 'utf8')).toMatch(/^order,date,supplier.*\r\n1,2026-11-25,Ebb,,1,p1,/);
  expect(readFileSync(ubl, 'utf8')).toContain('<cbc:PayableAmount currencyID="EUR">33.50</cbc:PayableAmount>');
  expect((await run('1', '--csv', '-')).out).toBe(readFileSync(csv, 'utf8'));
});

test('what is not there, or cannot be written to, is refused in a line', async () => {
  expect(await run('77')).toMatchObject({ code: 2, out: '', err: expect.stringMatching(/^order: found "77", want something that is there/) as string });
  expect(await run('1', '--csv', join(folder, 'no', 'where.csv'))).toMatchObject({ code: 2, err: expect.stringMatching(/^--csv: .*ENOENT/) as string });
});
