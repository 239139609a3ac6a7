import { readShopFile, type InputFault, type ShopFile } from '../../../catalog-schema/index.ts';

/** Reads a shop file; offers and shelf rows of parts that the catalogue does not have are left out, each with a fault. */
export function readShopOfParts(input: unknown, knownParts: ReadonlySet<string>): { shop?: ShopFile; faults: InputFault[] } {
  const read = readShopFile(input);
  if (!read.ok) return { faults: read.faults };
  const shop = read.value;
  const faults: InputFault[] = [];
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
