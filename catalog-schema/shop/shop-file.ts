import { z } from 'zod';
import { readInput, type InputFault, type Read } from '../input-fault.ts';
import { convertPrice } from '../money/index.ts';
import { pricesSchema, shelfEntry, type Offer, type Prices, type Supplier } from '../need.ts';
import { binName } from './stock.ts';
import { shopCard, shopOffer, supplierCard, type ShopOffer, type SupplierCard } from './supplier.ts';

const { currency, labourPerHour, misfitCost, waitCostPerDay, kitPrices } = pricesSchema.shape;

/** `shop.json` of a folder laid out as demo-catalog/: a shop's rates, taxes, suppliers, offers and shelf. */
export const shopFile = z.strictObject({
  currency, labourPerHour, misfitCost, waitCostPerDay, kitPrices,
  name: shopCard.shape.name, contact: shopCard.shape.contact, taxes: shopCard.shape.taxes.optional(),
  suppliers: z.array(supplierCard), offers: z.array(shopOffer), shelf: z.array(shelfEntry.extend({ bin: binName })),
});
export type ShopFile = z.infer<typeof shopFile>;

/** Reads a shop file: its shape, what prices have to hold to, and that each tax is one of the shop's. */
export function readShopFile(input: unknown): Read<ShopFile> {
  const read = readInput(shopFile, input);
  if (!read.ok) return read;
  const { suppliers, offers, taxes = [] } = read.value;
  // Only the day is the reader's.
  const prices = readInput(pricesSchema, { ...pricesOfShop(read.value, '2000-01-01'), ...plainTerms(suppliers, offers) });
  const faults: InputFault[] = prices.ok ? [] : [...prices.faults];
  const known = new Set(taxes.map(({ id }) => id));
  for (const [list, entries] of Object.entries({ suppliers, offers })) {
    entries.forEach(({ tax }, index) => {
      if (tax !== undefined && !known.has(tax)) faults.push({ path: `${list}[${index}].tax`, found: JSON.stringify(tax), want: 'the id of one of the taxes' });
    });
  }
  return faults.length > 0 ? { ok: false, faults } : read;
}

/** A shop file as the prices of a day: what plans and fits reckon with. */
export function pricesOfShop({ name: _name, contact: _contact, taxes: _taxes, suppliers, offers, shelf, ...rates }: ShopFile, today: string): Prices {
  return { ...rates, today, shelf: shelf.map(({ bin: _bin, ...entry }) => entry), ...termsInCurrency(suppliers, offers, rates.currency) };
}

/** Whether a supplier's prices can be said in the shop's currency. */
export function isCounted({ currency: own, rate }: Pick<SupplierCard, 'currency' | 'rate'>, shopCurrency: string): boolean {
  return own === undefined || own === shopCurrency || rate !== undefined;
}

/**
 * Suppliers and offers in the shop's currency. A supplier of another currency without a rate is left out, and so are its offers; terms of the
 * shop's own currency stay as they were written.
 */
export function termsInCurrency(cards: readonly SupplierCard[], offers: readonly ShopOffer[], shopCurrency: string): Pick<Prices, 'suppliers' | 'offers'> {
  const counted = cards.filter((card) => isCounted(card, shopCurrency));
  const rates = new Map(counted.map((card) => [card.id, card.currency === undefined || card.currency === shopCurrency ? 1 : card.rate ?? 1]));
  const plain = plainTerms(counted, offers.filter(({ supplierId }) => rates.has(supplierId)));
  return {
    suppliers: plain.suppliers.map((supplier): Supplier => {
      const rate = rates.get(supplier.id)!;
      const { freight, freeFreightFrom, minOrder } = supplier;
      return rate === 1 ? supplier : {
        ...supplier, freight: convertPrice(freight, rate), ...(freeFreightFrom === undefined ? {} : { freeFreightFrom: convertPrice(freeFreightFrom, rate) }),
        ...(minOrder === undefined ? {} : { minOrder: convertPrice(minOrder, rate) }),
      };
    }),
    offers: plain.offers.map((offer): Offer => {
      const rate = rates.get(offer.supplierId)!;
      const { price, coreCharge, breaks } = offer;
      return rate === 1 ? offer : {
        ...offer, price: convertPrice(price, rate), ...(coreCharge === undefined ? {} : { coreCharge: convertPrice(coreCharge, rate) }),
        ...(breaks === undefined ? {} : { breaks: breaks.map((step) => ({ ...step, price: convertPrice(step.price, rate) })) }),
      };
    }),
  };
}

/** What of cards and offers stands in prices, in whatever currency. */
function plainTerms(cards: readonly SupplierCard[], offers: readonly ShopOffer[]): { suppliers: Supplier[]; offers: Offer[] } {
  return {
    suppliers: cards.map(({ id, freight, freeFreightFrom, minOrder, calendar }) => ({
      id, freight, ...(freeFreightFrom === undefined ? {} : { freeFreightFrom }), ...(minOrder === undefined ? {} : { minOrder }), ...(calendar === undefined ? {} : { calendar }),
    })),
    offers: offers.map(({ tax: _tax, ...offer }) => offer),
  };
}
