import { z } from 'zod';
import { pricesSchema, readInput, shelfEntry, shopCard, shopOffer, supplierCard, type InputFault } from '../../../catalog-schema/index.ts';

/** `shop.json` of a folder laid out as demo-catalog/. */
export const shopFile = z.strictObject({
  currency: pricesSchema.shape.currency,
  labourPerHour: pricesSchema.shape.labourPerHour,
  misfitCost: pricesSchema.shape.misfitCost,
  waitCostPerDay: pricesSchema.shape.waitCostPerDay,
  kitPrices: pricesSchema.shape.kitPrices,
  name: shopCard.shape.name,
  contact: shopCard.shape.contact,
  taxes: shopCard.shape.taxes.optional(),
  suppliers: z.array(supplierCard),
  offers: z.array(shopOffer),
  shelf: z.array(shelfEntry.extend({ bin: z.string().min(1).max(200) })),
});
export type ShopFile = z.infer<typeof shopFile>;

/** Reads a shop file; offers and shelf rows of parts that the catalogue does not have are left out, each with a fault. */
export function readShopFile(input: unknown, knownParts: ReadonlySet<string>): { shop?: ShopFile; faults: InputFault[] } {
  const read = readInput(shopFile, input);
  if (!read.ok) return { faults: read.faults };
  const shop = read.value;
  // What prices have to hold to, a shop has to; only the day is the reader's.
  const { shelf, suppliers, offers, name: _name, contact: _contact, taxes = [], ...rest } = shop;
  const prices = readInput(pricesSchema, {
    ...rest, today: '2000-01-01', shelf: shelf.map(({ bin: _bin, ...entry }) => entry), offers: offers.map(({ tax: _tax, ...entry }) => entry),
    suppliers: suppliers.map(({ id, freight, freeFreightFrom, minOrder, calendar }) => ({ id, freight, freeFreightFrom, minOrder, calendar })),
  });
  const faults: InputFault[] = prices.ok ? [] : [...prices.faults];
  const known = new Set(taxes.map(({ id }) => id));
  for (const [list, entries] of Object.entries({ suppliers, offers })) {
    entries.forEach(({ tax }, index) => {
      if (tax !== undefined && !known.has(tax)) faults.push({ path: `${list}[${index}].tax`, found: JSON.stringify(tax), want: 'the id of one of the taxes' });
    });
  }
  if (faults.length > 0) return { faults };

  const want = 'the id of a part of the catalogue';
  const places = new Set<string>();
  const kept: ShopFile = {
    ...shop,
    offers: shop.offers.filter((entry, index) => {
      const isKnown = knownParts.has(entry.partId);
      if (!isKnown) faults.push({ path: `offers[${index}].partId`, found: JSON.stringify(entry.partId), want });
      return isKnown;
    }),
    shelf: shop.shelf.filter((entry, index) => {
      const place = JSON.stringify([entry.partId, entry.bin]);
      const isKnown = knownParts.has(entry.partId);
      if (!isKnown) faults.push({ path: `shelf[${index}].partId`, found: JSON.stringify(entry.partId), want });
      else if (places.has(place)) faults.push({ path: `shelf[${index}].bin`, found: JSON.stringify(entry.bin), want: 'one row for this part in this bin' });
      const good = isKnown && !places.has(place);
      places.add(place);
      return good;
    }),
  };
  return { shop: kept, faults };
}
