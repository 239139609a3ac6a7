import { z } from 'zod';
import { offer, pricesSchema, readInput, shelfEntry, supplier, type InputFault } from '../../../catalog-schema/index.ts';

/** `shop.json` of a folder laid out as demo-catalog/. */
export const shopFile = z.strictObject({
  currency: pricesSchema.shape.currency,
  labourPerHour: pricesSchema.shape.labourPerHour,
  misfitCost: pricesSchema.shape.misfitCost,
  waitCostPerDay: pricesSchema.shape.waitCostPerDay,
  kitPrices: pricesSchema.shape.kitPrices,
  suppliers: z.array(supplier),
  offers: z.array(offer),
  shelf: z.array(shelfEntry.extend({ bin: z.string().min(1).max(200) })),
});
export type ShopFile = z.infer<typeof shopFile>;

/** Reads a shop file; offers and shelf rows of parts that the catalogue does not have are left out, each with a fault. */
export function readShopFile(input: unknown, knownParts: ReadonlySet<string>): { shop?: ShopFile; faults: InputFault[] } {
  const read = readInput(shopFile, input);
  if (!read.ok) return { faults: read.faults };
  const shop = read.value;
  // What prices have to hold to, a shop has to; only the day is the reader's.
  const { shelf, ...rest } = shop;
  const prices = readInput(pricesSchema, { ...rest, today: '2000-01-01', shelf: shelf.map(({ bin: _bin, ...entry }) => entry) });
  if (!prices.ok) return { faults: prices.faults };

  const faults: InputFault[] = [];
  const want = 'the id of a part of the catalogue';
  const places = new Set<string>();
  const kept: ShopFile = {
    ...shop,
    offers: shop.offers.filter((entry, index) => {
      const known = knownParts.has(entry.partId);
      if (!known) faults.push({ path: `offers[${index}].partId`, found: JSON.stringify(entry.partId), want });
      return known;
    }),
    shelf: shop.shelf.filter((entry, index) => {
      const place = JSON.stringify([entry.partId, entry.bin]);
      const known = knownParts.has(entry.partId);
      if (!known) faults.push({ path: `shelf[${index}].partId`, found: JSON.stringify(entry.partId), want });
      else if (places.has(place)) faults.push({ path: `shelf[${index}].bin`, found: JSON.stringify(entry.bin), want: 'one row for this part in this bin' });
      const good = known && !places.has(place);
      places.add(place);
      return good;
    }),
  };
  return { shop: kept, faults };
}
