import { nameOf, printAmount, printPrice, type OrderPaper } from './order-paper.ts';

const URN = 'urn:oasis:names:specification:ubl:schema:xsd';

/** An element: its name with prefix, its attributes, and its text or the elements in it. One without either is left out. */
type Xml = readonly [name: string, attributes: Readonly<Record<string, string>>, content: string | readonly Xml[]];

const leaf = (name: string, text: string | undefined, attributes: Readonly<Record<string, string>> = {}): Xml => [name, attributes, text ?? ''];
const group = (name: string, ...content: readonly Xml[]): Xml => [name, {}, content];

/**
 * An order as OASIS UBL 2.1 has it (Order-2, with the elements in the order of its schema). Units are counted in pieces, C62 of UN/ECE
 * Recommendation 20. Freight is a charge, core charges a note: they come back with the old parts and are in no sum.
 */
export function writeOrderUbl(paper: OrderPaper): string {
  const { order, shop, supplier, issued } = paper;
  const { currency, sums } = order;
  const amount = (name: string, value: number): Xml => leaf(name, printAmount(value, currency), { currencyID: currency });
  const category = (name: string, tax: { id: string; words: string; percent: number }): Xml => group(name,
    leaf('cbc:ID', tax.id), leaf('cbc:Name', tax.words), leaf('cbc:Percent', String(tax.percent)), group('cac:TaxScheme', leaf('cbc:Name', tax.words)));
  const [arrives] = order.arrives === null ? [] : [order.arrives];
  const document: Xml = ['Order', { xmlns: `${URN}:Order-2`, 'xmlns:cac': `${URN}:CommonAggregateComponents-2`, 'xmlns:cbc': `${URN}:CommonBasicComponents-2` }, [
    leaf('cbc:UBLVersionID', '2.1'),
    leaf('cbc:ID', String(order.number)),
    leaf('cbc:UUID', order.id),
    leaf('cbc:IssueDate', issued),
    ...(order.sums.cores === 0 ? [] : [leaf('cbc:Note', `Core charges beside the total, back with the old parts: ${printAmount(sums.cores, currency)} ${currency}`)]),
    leaf('cbc:DocumentCurrencyCode', currency),
    leaf('cbc:LineCountNumeric', String(order.lines.length)),
    group('cac:BuyerCustomerParty', leaf('cbc:SupplierAssignedAccountID', supplier.account), writeParty(shop.name ?? 'The shop', shop.contact)),
    group('cac:SellerSupplierParty', leaf('cbc:CustomerAssignedAccountID', supplier.id), writeParty(supplier.name ?? supplier.id, supplier.contact)),
    ...(arrives === undefined ? [] : [group('cac:Delivery', group('cac:RequestedDeliveryPeriod', leaf('cbc:EndDate', arrives)))]),
    ...(sums.freight === 0 ? [] : [group('cac:AllowanceCharge', leaf('cbc:ChargeIndicator', 'true'), leaf('cbc:AllowanceChargeReason', 'Freight'), amount('cbc:Amount', sums.freight))]),
    ...(sums.taxes.length === 0 ? [] : [group('cac:TaxTotal', amount('cbc:TaxAmount', sums.tax), leaf('cbc:TaxIncludedIndicator', String(sums.pricesWithTax)),
      ...sums.taxes.map((tax) => group('cac:TaxSubtotal', amount('cbc:TaxableAmount', tax.base), amount('cbc:TaxAmount', tax.amount), leaf('cbc:Percent', String(tax.percent)), category('cac:TaxCategory', tax))))]),
    group('cac:AnticipatedMonetaryTotal',
      amount('cbc:LineExtensionAmount', sums.goods), amount('cbc:TaxExclusiveAmount', subtract(sums.total, sums.tax, currency)), amount('cbc:TaxInclusiveAmount', sums.total),
      ...(sums.freight === 0 ? [] : [amount('cbc:ChargeTotalAmount', sums.freight)]), amount('cbc:PayableAmount', sums.total)),
    ...order.lines.map((line, index): Xml => {
      const { title, numbers } = nameOf(paper, line.partId);
      return group('cac:OrderLine', group('cac:LineItem',
        leaf('cbc:ID', String(index + 1)), leaf('cbc:Quantity', String(line.qty), { unitCode: 'C62' }), amount('cbc:LineExtensionAmount', line.goods),
        group('cac:Price', leaf('cbc:PriceAmount', printPrice(line, currency), { currencyID: currency }), leaf('cbc:BaseQuantity', '1', { unitCode: 'C62' })),
        group('cac:Item', leaf('cbc:Name', title), group('cac:BuyersItemIdentification', leaf('cbc:ID', line.partId)),
          ...numbers.map(({ issuer, number }) => group('cac:AdditionalItemIdentification', leaf('cbc:ID', number, { schemeName: issuer }))),
          ...(line.tax === null ? [] : [category('cac:ClassifiedTaxCategory', line.tax)]))));
    }),
  ]];
  return `<?xml version="1.0" encoding="UTF-8"?>\n${writeXml(document, '')}`;
}

function writeParty(name: string, contact: string | undefined): Xml {
  return group('cac:Party', group('cac:PartyName', leaf('cbc:Name', name)), group('cac:Contact', leaf('cbc:Note', contact)));
}

/** Two amounts of one currency, exactly. */
function subtract(from: number, amount: number, currency: string): number {
  const exact = BigInt(printAmount(from, currency).replace('.', '')) - BigInt(printAmount(amount, currency).replace('.', ''));
  const digits = printAmount(0, currency).split('.')[1]?.length ?? 0;
  return Number(exact) / 10 ** digits;
}

function writeXml([name, attributes, content]: Xml, indent: string): string {
  const inside = typeof content === 'string' ? escapeXml(content) : content.map((each) => writeXml(each, `${indent}  `)).join('');
  if (inside === '') return '';
  const open = `${indent}<${name}${Object.entries(attributes).map(([key, value]) => ` ${key}="${escapeXml(value)}"`).join('')}>`;
  return typeof content === 'string' ? `${open}${inside}</${name}>\n` : `${open}\n${inside}${indent}</${name}>\n`;
}

/** Text as XML 1.0 takes it: what its signs mean is written out, and letters that it has no place for are marked (section 2.2). */
function escapeXml(text: string): string {
  return text.replace(/[^\t\n\r\u0020-\uD7FF\uE000-\uFFFD\u{10000}-\u{10FFFF}]/gu, '\uFFFD')
    .replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;').replaceAll('\t', '&#9;').replaceAll('\n', '&#10;').replaceAll('\r', '&#13;');
}
