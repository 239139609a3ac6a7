import { randomUUID } from 'node:crypto';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, expect, it, vi } from 'vitest';
import { stockAnswer, stockMove, stockRow } from '../../catalog-schema/index.ts';
import { openServices } from '../services/index.ts';
import { runCommandLine } from './run-command-line.ts';

const folder = mkdtempSync(join(tmpdir(), 'lugwright-stock-'));
const file = join(folder, 'shop.sqlite');

beforeAll(async () => {
  mkdirSync(join(folder, 'parts'));
  writeFileSync(join(folder, 'parts', 'a.json'), JSON.stringify(['p1', 'p2'].map((id) => ({ id, partClass: 'start-relay', title: `Relay ${id}`, terminals: [], circuit: [] }))));
  writeFileSync(join(folder, 'shop.json'), JSON.stringify({ currency: 'EUR', suppliers: [], offers: [], shelf: [{ partId: 'p1', bin: 'A1', onHand: 4, reserved: 1, unitCost: 10 }] }));
  await (await openServices({ file, demoFolder: folder })).close();
});
afterAll(() => rmSync(folder, { recursive: true }));
afterEach(() => { vi.restoreAllMocks(); });

async function run(...args: string[]): Promise<{ code: number; out: string; err: string }> {
  let [out, err] = ['', ''];
  vi.spyOn(process.stdout, 'write').mockImplementation(((words: string, done?: (error?: Error) => void) => { out += words; done?.(); return true; }) as typeof process.stdout.write);
  vi.spyOn(process.stderr, 'write').mockImplementation(((words: string) => { err += words; return true; }) as typeof process.stderr.write);
  const code = await runCommandLine(['stock', ...args, '--db', file]);
  vi.restoreAllMocks();
  return { code, out, err };
}

it('lists the shelf, a part and a bin, for a person and as JSON', async () => {
  expect((await run()).out).toBe('A1  p1     3 free     4 there     1 put aside  10 EUR\n');
  for (const name of ['p1', 'A1']) expect(stockRow.array().parse(JSON.parse((await run(name, '--json')).out))).toHaveLength(1);
  expect(await run('p2')).toEqual({ code: 0, out: 'nothing on the shelf\n', err: '' });
  expect(await run('nope')).toEqual({ code: 2, out: '', err: 'part: found "nope", want the id of a part of the catalogue, or the name of a bin\n' });
});

it('books each kind of move and says what came of it', async () => {
  expect(stockAnswer.parse(JSON.parse((await run('in', 'p2', '--bin', 'B1', '--qty', '5', '--cost', '2.5', '--by', 'Ans', '--json')).out)).rows[0]).toMatchObject({ onHand: 5, unitCost: 2.5 });
  expect((await run('out', 'p2', '--bin', 'B1', '--qty', '1')).out).toMatch(/out 1 {2}p2 {2}B1\nB1 {2}p2 {5}4 free/);
  expect((await run('transfer', 'p2', '--bin', 'B1', '--qty', '2', '--to', 'C1')).code).toBe(0);
  expect((await run('scrap', 'p2', '--bin', 'C1', '--qty', '1', '--why', 'cracked')).code).toBe(0);
  expect((await run('return', 'p2', '--bin', 'C1', '--qty', '1')).code).toBe(0);
  expect((await run('count', 'p1', '--bin', 'A1', '--qty', '0', '--why', 'empty')).out).toMatch(/count 0, the books had 4 {2}p1 {2}A1 {2}empty\n.*-1 free .*below none: count it/);
  const moves = stockMove.array().parse(JSON.parse((await run('moves', 'p2', '--json')).out));
  expect(moves.map(({ kind }) => kind)).toEqual(['return', 'scrap', 'transfer', 'out', 'in']);
});

it.each([
  [['out', 'p2', '--bin', 'B1', '--qty', '99'], 'stock: found out: 99 of p2 in bin B1 asked for, 2 free (2 there, 0 put aside), want no more than is free\n'],
  [['out', 'p2', '--bin', 'B1', '--qty', 'two'], '--qty: found "two", want a number\n'],
  [['out', 'p2', '--bin', 'B1', '--qty', '0'], '--qty: found 0, want a whole number above 0\n'],
  [['out', 'nope', '--bin', 'B1', '--qty', '1'], 'moves[0].partId: found "nope", want the id of a part of the catalogue\n'],
  [['transfer', 'p2', '--bin', 'B1', '--qty', '1', '--to', 'B1'], '--to: found "B1", want another bin\n'],
])('refuses %j with exit 2 and books nothing', async (args, line) => {
  const before = (await run('--json')).out;
  expect(await run(...args)).toEqual({ code: 2, out: '', err: line });
  expect((await run('--json')).out).toBe(before);
});

it('takes a batch out of a file, all or none, and the same batch again changes nothing', async () => {
  const at = '2026-11-25T10:00:00Z';
  const batch = { moves: [{ id: randomUUID(), kind: 'in', partId: 'p2', bin: 'D1', qty: 2, at }, { id: randomUUID(), kind: 'out', partId: 'p2', bin: 'D1', qty: 1, at }] };
  const path = join(folder, 'batch.json');
  writeFileSync(path, JSON.stringify(batch));
  for (const _ of [1, 2]) expect(JSON.parse((await run('record', path, '--json')).out)).toMatchObject({ rows: [{ bin: 'D1', onHand: 1 }] });
  writeFileSync(path, JSON.stringify({ moves: [{ ...batch.moves[0], id: randomUUID() }, { ...batch.moves[1], id: randomUUID(), qty: 9 }] }));
  expect((await run('record', path)).code).toBe(2);
  expect(JSON.parse((await run('D1', '--json')).out)).toMatchObject([{ onHand: 1 }]);
});
