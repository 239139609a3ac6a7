import { buffer } from 'node:stream/consumers';
import type { Store } from '../../store/index.ts';
import type { CatalogueService } from '../catalogue/catalogue-service.ts';
import { todayOf, dayOf, type Clock } from '../clock.ts';
import { done, type Outcome } from '../outcome.ts';
import type { OrderService } from '../orders/index.ts';
import { readShopCard, readSupplierCards } from '../suppliers/index.ts';
import { writeOrderCsv } from './order-csv.ts';
import { nameFile, type OrderPaper } from './order-paper.ts';
import type { OrderPaperSize } from './order-pdf.ts';
import { writeOrderUbl } from './order-ubl.ts';

/** The forms in which an order leaves the shop, and their media types. */
export const ORDER_FORMS = { pdf: 'application/pdf', csv: 'text/csv; charset=utf-8', ubl: 'application/xml' } as const;
export type OrderForm = keyof typeof ORDER_FORMS;

export interface OrderFile { readonly name: string; readonly type: string; readonly bytes: Uint8Array }

export interface DocumentService {
  /** An order as a file for the supplier, by its id or number: a sheet to print, a table, or OASIS UBL 2.1. */
  order(idOrNumber: string, form: OrderForm, size?: OrderPaperSize): Promise<Outcome<OrderFile>>;
}

export function createDocumentService(store: Store, catalogue: CatalogueService, orders: OrderService, clock: Clock): DocumentService {
  return {
    order: async (idOrNumber, form, size = 'a4') => {
      const read = await orders.read(idOrNumber);
      if (!read.ok) return read;
      const order = read.value;
      const paper: OrderPaper = {
        order, shop: await readShopCard(store.db), partOf: (partId) => catalogue.current().byId.get(partId),
        supplier: (await readSupplierCards(store.db)).find(({ id }) => id === order.supplierId) ?? { id: order.supplierId },
        issued: order.sent === null ? todayOf(clock) : dayOf(new Date(order.sent.at)),
      };
      return done({ name: nameFile(paper, form === 'ubl' ? 'xml' : form), type: ORDER_FORMS[form], bytes: await writeBytes(paper, form, size) });
    },
  };
}

async function writeBytes(paper: OrderPaper, form: OrderForm, size: OrderPaperSize): Promise<Uint8Array> {
  switch (form) {
    case 'pdf': {
      // The drawing library takes longer to load than most answers to give, so only this one loads it.
      const { drawOrderPdf } = await import('./order-pdf.ts');
      return buffer(drawOrderPdf(paper, size));
    }
    case 'csv': return new TextEncoder().encode(writeOrderCsv(paper));
    case 'ubl': return new TextEncoder().encode(writeOrderUbl(paper));
    default: throw new Error(`no such form: ${JSON.stringify(form satisfies never)}`);
  }
}
