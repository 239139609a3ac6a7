import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { importCatalogue } from '../import-catalogue.ts';
import { readPartsPath } from '../folder/index.ts';
import { printFault, readJsonText, type Read } from '../input-fault.ts';
import { LIMITS } from '../limits.ts';
import type { Prices } from '../need.ts';
import { pricesOfShop, readShopFile } from '../shop/shop-file.ts';
import { lintCatalogue, printLintFault } from './lint-catalogue.ts';

// node catalog-schema/lint/main.ts FOLDER: one line a fault on standard output; exit code 1 when there is one.
const folder = process.argv[2];
const lines = folder === undefined ? ['input: found nothing, want a folder laid out as demo-catalog/'] : lintFolder(folder);
for (const line of lines) process.stdout.write(`${line}\n`);
process.exitCode = lines.length > 0 ? 1 : 0;

function lintFolder(path: string): string[] {
  const rows = readPartsPath(path);
  if (!rows.ok) return rows.faults.map(printFault);
  const { parts, faults } = importCatalogue(rows.value);
  const shop = readShop(path);
  return [
    ...faults.map(printFault), ...(shop.ok ? [] : shop.faults.map((fault) => `shop.json: ${printFault(fault)}`)),
    ...lintCatalogue(parts, shop.ok ? shop.value : undefined).map(printLintFault),
  ];
}

/** The shop's file holds what a fit's prices hold, with bins on the shelf and without a day. */
function readShop(path: string): Read<Prices> {
  let shopText: string;
  try {
    shopText = readFileSync(join(path, 'shop.json'), 'utf8');
  } catch {
    return { ok: false, faults: [{ path: '', found: 'no file shop.json', want: 'one beside parts/' }] };
  }
  const json = readJsonText(shopText, LIMITS.catalogueFileBytes);
  if (!json.ok) return json;
  const shop = readShopFile(json.value);
  return shop.ok ? { ok: true, value: pricesOfShop(shop.value, '2000-01-01') } : shop;
}
