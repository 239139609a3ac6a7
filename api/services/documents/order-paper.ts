import { amountInMinor, printMinor, printUnitPrice, type Part, type PurchaseLine, type PurchaseOrder, type ShopCard, type SupplierCard } from '../../../catalog-schema/index.ts';

/** An order as it goes to the supplier: nothing of the jobs behind it. */
export interface OrderPaper {
  readonly order: PurchaseOrder;
  readonly shop: Pick<ShopCard, 'name' | 'contact'>;
  readonly supplier: Pick<SupplierCard, 'id' | 'name' | 'contact' | 'account'>;
  readonly partOf: (partId: string) => Pick<Part, 'title' | 'numbers'> | undefined;
  /** the day on the paper */
  readonly issued: string;
}

/** An amount of the order's currency as text: exactly its decimals, a point between. */
export function printAmount(amount: number, currency: string): string {
  return printMinor(amountInMinor(amount, currency), currency);
}

export const printPrice = (line: PurchaseLine, currency: string): string => printUnitPrice(line.unitPrice, currency);

/** What a part is called, and under which numbers it is known. */
export function nameOf(paper: OrderPaper, partId: string): { readonly title: string; readonly numbers: NonNullable<Part['numbers']> } {
  const part = paper.partOf(partId);
  return { title: part?.title ?? partId, numbers: part?.numbers ?? [] };
}

/** The name of an order's file. */
export function nameFile({ order }: OrderPaper, ending: string): string {
  return `order-${order.number}-${order.supplierId.replace(/[^A-Za-z0-9._-]+/g, '-').slice(0, 60)}.${ending}`;
}
