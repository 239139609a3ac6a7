import { z } from 'zod';
import { offer, supplier } from '../need.ts';
import { aboveZero, currencyCode, identifier, pushDuplicates, text, wanted, zeroOrMore } from '../scalar.ts';
import { checkSound } from '../sound-check.ts';

/** A kind of tax the shop pays: its rate in percent, with up to four decimals. */
export const taxCategory = z.strictObject({ id: identifier.max(40), words: text.min(1).max(80), percent: zeroOrMore.max(100) });
export type TaxCategory = z.infer<typeof taxCategory>;

/** Every kind of tax the shop pays. */
export const taxCategories = z.array(taxCategory).max(20).check(checkSound<TaxCategory[]>(['*.id'], (taxes, issues) => {
  pushDuplicates(issues, taxes, ({ id }) => id, (index) => [index, 'id'], 'tax id');
}));

/** What a supplier has beyond the terms that `source` reckons with. */
const beyondTerms = {
  name: text.max(200).optional(),
  /** how to reach them, in words: telephone, address, who to ask for */
  contact: text.optional(),
  /** the shop's number in the supplier's books */
  account: text.max(200).optional(),
  /** the currency of the offers, freight and least order; the shop's where absent */
  currency: currencyCode.optional(),
  /** what one of that currency costs in the shop's, with up to eight decimals; without it such offers are in no plan and no fit */
  rate: aboveZero.max(1e9).optional(),
  /** the tax on goods and freight, by the id of one of the shop's taxes; none where absent */
  tax: identifier.max(40).optional(),
  /** prices and freight have the tax in them */
  pricesWithTax: z.boolean().optional(),
} as const;

/** A supplier as the shop keeps it. */
export const supplierCard = supplier.extend(beyondTerms);
export type SupplierCard = z.infer<typeof supplierCard>;

/** An offer as the shop keeps it: with a tax of its own where it is not the supplier's. */
export const shopOffer = offer.extend({ tax: identifier.max(40).optional() });
export type ShopOffer = z.infer<typeof shopOffer>;

/** Who wrote something last, and when. */
const written = { by: text.optional(), at: z.iso.datetime() } as const;

/** A supplier's card written anew, or for the first time. The id comes from the device: the same again changes nothing. */
export const supplierEdit = z.strictObject({ id: z.uuid(), supplier: supplierCard, ...written });
export type SupplierEdit = z.infer<typeof supplierEdit>;

/** An offer written anew, or taken back where `offer` is null. */
export const offerEdit = z.strictObject({ id: z.uuid(), partId: identifier, offer: shopOffer.nullable(), ...written })
  .check(checkSound<{ partId: string; offer: ShopOffer | null }>(['partId', 'offer.partId', 'offer.breaks.*.minQty'], ({ partId, offer: given }, issues) => {
    if (given === null) return;
    if (given.partId !== partId) issues.push(wanted(given.partId, ['offer', 'partId'], `${JSON.stringify(partId)}, the part of the edit`));
    (given.breaks ?? []).forEach(({ minQty }, index, all) => {
      const before = all[index - 1];
      if (before !== undefined && minQty <= before.minQty) {
        issues.push(wanted(minQty, ['offer', 'breaks', index, 'minQty'], `a number above ${before.minQty}: breaks rise`));
      }
    });
  }));
export type OfferEdit = z.infer<typeof offerEdit>;

/** What stands on the shop's own papers, and the taxes it pays. */
export const shopCard = z.strictObject({ name: text.max(200).optional(), contact: text.optional(), taxes: taxCategories });
export type ShopCard = z.infer<typeof shopCard>;

/** The shop's card written anew. */
export const shopCardEdit = z.strictObject({ id: z.uuid(), shop: shopCard, ...written });
export type ShopCardEdit = z.infer<typeof shopCardEdit>;

/** What a supplier's deliveries have taught: days from sending an order to each receipt, counted as its offers count theirs, oldest first. */
export const leadLearned = z.strictObject({
  days: z.array(z.int()),
  /** as learned from `days` and from what the offers state; null where there is neither */
  meanDays: zeroOrMore.nullable(), sdDays: zeroOrMore.nullable(),
});
export type LeadLearned = z.infer<typeof leadLearned>;

/** A supplier as every door shows it. */
export const supplierState = z.strictObject({
  supplier: supplierCard,
  /** the currency of its offers, said */
  currency: currencyCode,
  offers: z.int(),
  /** false where its currency is not the shop's and no rate is known: its offers are left out of plans and fits */
  counted: z.boolean(),
  lead: leadLearned,
  changed: z.strictObject(written).nullable(),
});
export type SupplierState = z.infer<typeof supplierState>;

/** An offer with who wrote it last; null where it came with the shop's file. */
export const offerState = z.strictObject({ offer: shopOffer, changed: z.strictObject(written).nullable() });
export type OfferState = z.infer<typeof offerState>;
