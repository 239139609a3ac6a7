import { spawnSync } from 'node:child_process';
import { cpSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, expect, it } from 'vitest';

const demo = fileURLToPath(new URL('../../demo-catalog', import.meta.url));
const copies: string[] = [];
afterAll(() => copies.forEach((copy) => rmSync(copy, { recursive: true, force: true })));

function lint(folder: string): { code: number | null; lines: string[] } {
  const run = spawnSync(process.execPath, [fileURLToPath(new URL('main.ts', import.meta.url)), folder], { encoding: 'utf8' });
  return { code: run.status, lines: run.stdout.split('\n').filter((line) => line !== '') };
}

function breakCopy(change: (parts: { id: string; title: string; terminals: { tabWidthMm?: number }[] }[], shop: { offers: { partId: string }[] }) => void): string {
  const copy = mkdtempSync(join(tmpdir(), 'lint-'));
  copies.push(copy);
  cpSync(demo, copy, { recursive: true });
  const partsPath = join(copy, 'parts', readdirSync(join(copy, 'parts')).toSorted()[0]!);
  const shopPath = join(copy, 'shop.json');
  const parts = JSON.parse(readFileSync(partsPath, 'utf8'));
  const shop = JSON.parse(readFileSync(shopPath, 'utf8'));
  change(parts, shop);
  writeFileSync(partsPath, JSON.stringify(parts));
  writeFileSync(shopPath, JSON.stringify(shop));
  return copy;
}

it('finds nothing in the demo catalogue and exits 0', () => {
  expect(lint(demo)).toEqual({ code: 0, lines: [] });
});

it('prints a line for each fault planted in a broken copy, those of the schema too, and exits 1', () => {
  const copy = breakCopy((parts, shop) => {
    parts[0]!.title = ' ';
    parts[1]!.terminals.push({ tabWidthMm: -1 });
    shop.offers[0]!.partId = 'gone';
  });
  const { code, lines } = lint(copy);
  expect(code).toBe(1);
  expect(lines.some((line) => line.endsWith('no title (has-title)'))).toBe(true);
  expect(lines.some((line) => /^\[1\]\.terminals\[\d+\]\.tabWidthMm \(part 1, id ".+"\): found -1, want a number above 0$/.test(line))).toBe(true);
  expect(lines).toContain('offers[0]: no part gone (shop-parts-exist)');
});

it('says what is wrong with a folder that is not there', () => {
  expect(lint(join(demo, 'nowhere'))).toMatchObject({ code: 1, lines: [expect.stringMatching(/^input: found no file or folder/)] });
});
