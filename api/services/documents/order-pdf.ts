import PDFDocument from 'pdfkit';
import { nameOf, printAmount, printPrice, type OrderPaper } from './order-paper.ts';
import { POINTS_A_MM, registerFaces, spell, type Face } from './typeface.ts';

export type OrderPaperSize = 'a4' | 'letter';
/** mm; ISO 216 and ANSI/ASME Y14.1 */
const SIZES: Readonly<Record<OrderPaperSize, readonly [number, number]>> = { a4: [210, 297], letter: [215.9, 279.4] };
const MARGIN = 18 * POINTS_A_MM;
const SMALL = 8.5;
const TYPE = 10;
/** What the columns take of the table's width: line, part, what, quantity, price, goods. */
const COLUMNS = [0.06, 0.19, 0.39, 0.1, 0.12, 0.14] as const;
const HEADS = ['', 'Part', 'What', 'Quantity', 'Each', 'Goods'] as const;
const TO_THE_RIGHT: ReadonlySet<number> = new Set([3, 4, 5]);

type Pdf = PDFKit.PDFDocument;

/** An order as it is sent to the supplier, on as many pages as it takes; each says which it is. `compress: false` is for tests. */
export function drawOrderPdf(paper: OrderPaper, size: OrderPaperSize, options: { compress?: boolean } = {}): Pdf {
  const { order, shop, supplier, issued } = paper;
  const [width, height] = SIZES[size].map((side) => side * POINTS_A_MM) as [number, number];
  const isDraft = order.approved === null;
  const title = `${isDraft ? 'Draft of order' : 'Order'} ${order.number}`;
  const pdf = new PDFDocument({
    size: [width, height], margin: 0, pdfVersion: '1.7', compress: options.compress ?? true, bufferPages: true, info: { Title: title, CreationDate: new Date(`${issued}T00:00:00Z`) },
  });
  registerFaces(pdf);
  const [left, right, bottom] = [MARGIN, width - MARGIN, height - MARGIN];
  const full = right - left;
  let y = MARGIN;
  const heightOf = (text: string, face: Face, pt: number, wide: number): number => (text === '' ? 0 : pdf.font(face).fontSize(pt).heightOfString(spell(text), { width: wide }));
  const put = (text: string, face: Face, pt: number, x: number, at: number, wide: number, align: 'left' | 'right' = 'left'): void => {
    if (text !== '') pdf.font(face).fontSize(pt).text(spell(text), x, at, { width: wide, align });
  };
  const rule = (thick: number): void => { pdf.lineWidth(thick).moveTo(left, y).lineTo(right, y).stroke(); };
  const makeRoom = (needed: number): boolean => {
    if (y + needed <= bottom) return false;
    pdf.addPage();
    y = MARGIN;
    return true;
  };
  const write = (text: string, face: Face, pt: number, gap = 2): void => {
    const tall = heightOf(text, face, pt, full);
    makeRoom(tall);
    put(text, face, pt, left, y, full);
    y += tall + gap;
  };
  const row = (cells: readonly string[], face: Face, pt: number): void => {
    const tall = Math.max(...cells.map((text, column) => heightOf(text, face, pt, full * COLUMNS[column]! - 6))) + 6;
    if (makeRoom(tall)) row(HEADS, 'strong', SMALL);
    let x = left;
    cells.forEach((text, column) => {
      put(text, face, pt, x, y + 3, full * COLUMNS[column]! - 6, TO_THE_RIGHT.has(column) ? 'right' : 'left');
      x += full * COLUMNS[column]!;
    });
    y += tall;
    rule(face === 'strong' ? 0.9 : 0.3);
  };

  write(title, 'strong', 17, 8);
  const half = full / 2 - 8;
  const blocks = [['From', shop.name ?? '', shop.contact ?? ''], ['To', supplier.name ?? supplier.id, [supplier.contact, supplier.account === undefined ? undefined : `Our account: ${supplier.account}`].filter((line) => line !== undefined).join('\n')]] as const;
  const tallest = Math.max(...blocks.map(([, name, rest]) => heightOf(name, 'strong', TYPE, half) + heightLines(rest)));
  blocks.forEach(([head, name, rest], index) => {
    const x = left + index * (half + 16);
    put(head, 'plain', SMALL, x, y, half);
    put(name, 'strong', TYPE, x, y + 12, half);
    let at = y + 12 + heightOf(name, 'strong', TYPE, half);
    for (const line of rest.split(/\r?\n/)) {
      put(line, 'plain', TYPE, x, at, half);
      at += heightOf(line, 'plain', TYPE, half);
    }
  });
  y += tallest + 24;
  function heightLines(rest: string): number { return rest.split(/\r?\n/).reduce((sum, line) => sum + heightOf(line, 'plain', TYPE, half), 0); }
  write([`Date: ${issued}`, ...(order.arrives === null ? [] : [`Wanted by: ${order.arrives}`]), `All prices in ${order.currency}${order.sums.pricesWithTax ? ', tax in them' : ''}`].join('    '), 'plain', TYPE, 10);

  row(HEADS, 'strong', SMALL);
  order.lines.forEach((line, index) => {
    const { title: name, numbers } = nameOf(paper, line.partId);
    const what = [name, ...numbers.map(({ issuer, number }) => `${issuer} ${number}`), ...(line.coreCharge === null ? [] : [`core charge ${printAmount(line.coreCharge, order.currency)} each`])].join('; ');
    row([String(index + 1), line.partId, what, String(line.qty), printPrice(line, order.currency), printAmount(line.goods, order.currency)], 'plain', TYPE);
  });
  y += 6;
  const { sums } = order;
  const total = (words: string, amount: number, face: Face = 'plain'): void => {
    makeRoom(16);
    put(words, face, TYPE, left + full * 0.35, y, full * 0.45, 'right');
    put(printAmount(amount, order.currency), face, TYPE, left + full * 0.82, y, full * 0.18 - 6, 'right');
    y += 16;
  };
  total('Goods', sums.goods);
  if (sums.freight > 0) total('Freight', sums.freight);
  for (const tax of sums.taxes) total(`${sums.pricesWithTax ? 'in it: ' : ''}${tax.words} (${tax.percent} % of ${printAmount(tax.base, order.currency)})`, tax.amount);
  total('Total', sums.total, 'strong');
  if (sums.cores > 0) {
    y += 6;
    write(`Core charges beside the total, back with the old parts: ${printAmount(sums.cores, order.currency)}`, 'plain', SMALL);
  }
  if (isDraft) write('A draft: nothing is ordered by it.', 'strong', TYPE);

  const { start, count } = pdf.bufferedPageRange();
  for (let page = start; page < start + count; page++) {
    pdf.switchToPage(page);
    put(`${title}, page ${page - start + 1} of ${count}`, 'plain', SMALL, left, height - MARGIN + 8, full, 'right');
  }
  pdf.end();
  return pdf;
}
