import { nameOf, printAmount, printPrice, type OrderPaper } from './order-paper.ts';

const COLUMNS = ['order', 'date', 'supplier', 'account', 'line', 'part', 'numbers', 'title', 'quantity', 'unit price', 'goods', 'currency', 'tax', 'tax percent', 'core charge'] as const;

/** The lines of an order as a table by RFC 4180: one header line, CRLF, quotes where a field needs them. Money has a point and no sign. */
export function writeOrderCsv(paper: OrderPaper): string {
  const { order, supplier, issued } = paper;
  const rows = order.lines.map((line, index) => {
    const { title, numbers } = nameOf(paper, line.partId);
    return [
      String(order.number), issued, supplier.name ?? supplier.id, supplier.account ?? '', String(index + 1), line.partId,
      numbers.map(({ issuer, number }) => `${issuer} ${number}`).join('; '), title, String(line.qty), printPrice(line, order.currency), printAmount(line.goods, order.currency),
      order.currency, line.tax?.words ?? '', line.tax === null ? '' : String(line.tax.percent), line.coreCharge === null ? '' : printAmount(line.coreCharge, order.currency),
    ];
  });
  return [COLUMNS, ...rows].map((row) => `${row.map(quote).join(',')}\r\n`).join('');
}

function quote(field: string): string {
  return /[",\r\n]/.test(field) ? `"${field.replaceAll('"', '""')}"` : field;
}
