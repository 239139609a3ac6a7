import type { ShopOffer, SupplierCalendar, SupplierCard } from '../../../catalog-schema/index.ts';
import { supplierWords } from '../../words/suppliers.ts';
import { readBreaks, readDays } from './read-lines.ts';

/** What a form came to, or what is wrong with it in words. */
export type FromForm<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly why: string };

const textOf = (given: FormData, name: string): string | undefined => {
  const text = String(given.get(name) ?? '').trim();
  return text === '' ? undefined : text;
};
const numberOf = (given: FormData, name: string): number | undefined => {
  const text = textOf(given, name);
  return text === undefined ? undefined : Number(text);
};
type Present<T> = { [K in keyof T]?: Exclude<T[K], undefined> };
function present<T extends object>(values: T): Present<T> {
  return Object.fromEntries(Object.entries(values).filter(([, value]) => value !== undefined)) as Present<T>;
}

/** A supplier's card as it was typed. */
export function readCardForm(form: HTMLFormElement, id: string): FromForm<SupplierCard> {
  const given = new FormData(form);
  const holidays = readDays(String(given.get('holidays') ?? ''));
  if (!holidays.ok) return { ok: false, why: supplierWords.badDay(holidays.line) };
  const workDays = given.getAll('workDays').map(Number);
  const calendar: SupplierCalendar = { ...present({ cutOff: textOf(given, 'cutOff') }), ...(workDays.length === 0 ? {} : { workDays }), ...(holidays.value.length === 0 ? {} : { holidays: holidays.value }) };
  return { ok: true, value: {
    id, freight: numberOf(given, 'freight') ?? 0,
    ...present({
      name: textOf(given, 'name'), contact: textOf(given, 'contact'), account: textOf(given, 'account'), freeFreightFrom: numberOf(given, 'freeFreightFrom'), minOrder: numberOf(given, 'minOrder'),
      currency: textOf(given, 'currency')?.toUpperCase(), rate: numberOf(given, 'rate'), tax: textOf(given, 'tax'),
    }),
    ...(given.get('pricesWithTax') === null ? {} : { pricesWithTax: true }), ...(Object.keys(calendar).length === 0 ? {} : { calendar }),
  } };
}

/** An offer as it was typed. */
export function readOfferForm(form: HTMLFormElement, supplierId: string, partId: string): FromForm<ShopOffer> {
  const given = new FormData(form);
  const breaks = readBreaks(String(given.get('breaks') ?? ''));
  if (!breaks.ok) return { ok: false, why: supplierWords.badBreak(breaks.line) };
  if (breaks.value.some(({ minQty }, index, all) => index > 0 && minQty <= all[index - 1]!.minQty)) return { ok: false, why: supplierWords.breaksFall };
  return { ok: true, value: {
    supplierId, partId, price: numberOf(given, 'price') ?? 0, leadDays: numberOf(given, 'leadDays') ?? 0, ...(breaks.value.length === 0 ? {} : { breaks: breaks.value }),
    ...present({
      pack: numberOf(given, 'pack'), minQty: numberOf(given, 'minQty'), inStock: numberOf(given, 'inStock'), coreCharge: numberOf(given, 'coreCharge'), validUntil: textOf(given, 'validUntil'),
      tax: textOf(given, 'tax'),
    }),
  } };
}
