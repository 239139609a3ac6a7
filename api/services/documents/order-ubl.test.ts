import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { XmlDocument, XsdValidator } from 'libxml2-wasm';
import { xmlRegisterFsInputProviders } from 'libxml2-wasm/lib/nodejs.mjs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeOrderUbl } from './order-ubl.ts';
import { makeLine, makePaper } from './sample-order.ts';

// Against the schemas of OASIS UBL 2.1, read by libxml2. UBL_XSD_DIR names the folder that holds maindoc/UBL-Order-2.1.xsd and common/.
const folder = process.env['UBL_XSD_DIR'];
const schema = folder === undefined ? undefined : join(folder, 'maindoc', 'UBL-Order-2.1.xsd');
const isThere = schema !== undefined && existsSync(schema);
const why = folder === undefined ? 'UBL_XSD_DIR names no folder' : `${schema} is not there`;

describe.skipIf(!isThere)(`an order in UBL 2.1${isThere ? '' : ` (skipped: ${why})`}`, () => {
  let validator: XsdValidator;
  let source: XmlDocument;
  beforeAll(() => {
    xmlRegisterFsInputProviders();
    source = XmlDocument.fromBuffer(readFileSync(schema!), { url: schema! });
    validator = XsdValidator.fromDoc(source);
  });
  afterAll(() => {
    validator?.dispose();
    source?.dispose();
  });

  function findFault(xml: string): string {
    const document = XmlDocument.fromString(xml);
    try {
      validator.validate(document);
      return '';
    } catch (error) {
      return (error as Error).message;
    } finally {
      document.dispose();
    }
  }

  const full = makePaper([makeLine(1), makeLine(2, { coreCharge: 2 }), makeLine(3, { tax: null })]);

  it('is valid by the schema', () => {
    expect(findFault(writeOrderUbl(full))).toBe('');
  });

  it.each([
    ['without freight, taxes, day, names or account', makePaper([makeLine(1, { tax: null })],
      { arrives: null, sums: { ...full.order.sums, freight: 0, taxes: [], tax: 0, cores: 0 } }, { shop: {}, supplier: { id: 's1' }, partOf: () => undefined })],
    ['in a currency without decimals, prices with tax', makePaper([makeLine(4, { unitPrice: 120, goods: 480 })], { currency: 'JPY', sums: { ...full.order.sums, goods: 480, total: 500, tax: 83, pricesWithTax: true } })],
    ['with every sign that XML minds', makePaper([makeLine(1)], {}, { shop: { name: '<&>"\' \u0000\u0008\uD800 😀\t\r\n]]>' } })],
    ['of five hundred lines', makePaper(Array.from({ length: 500 }, (_, n) => makeLine(n + 1)))],
  ])('%s it is valid too', (_, paper) => {
    expect(findFault(writeOrderUbl(paper))).toBe('');
  });

  it.each([
    ['an element that is missing', (xml: string) => xml.replace(/ *<cbc:ID>12<\/cbc:ID>\n/, ''), /cbc|CommonBasicComponents-2\}ID/],
    ['elements in another order', (xml: string) => xml.replace(/( *<cbc:UBLVersionID>.*\n)( *<cbc:ID>.*\n)/, '$2$1'), /UBLVersionID/],
    ['an amount that is no number', (xml: string) => xml.replace('>70.68<', '>70,68<'), /70,68/],
    ['an amount without a currency', (xml: string) => xml.replace(' currencyID="EUR"', ''), /currencyID/],
    ['a day that is none', (xml: string) => xml.replace('2026-11-30', '2026-11-31'), /2026-11-31/],
  ])('broken by %s it is refused, so that the check can fail', (_, breakIt, fault) => {
    const xml = writeOrderUbl(full);
    expect(breakIt(xml)).not.toBe(xml);
    expect(findFault(breakIt(xml))).toMatch(fault);
  });
});

describe('the text of an order in UBL', () => {
  it('has its sums to the minor unit, pieces by C62, and nothing of the jobs behind it', () => {
    const xml = writeOrderUbl(makePaper([makeLine(2, { serves: [{ serveId: 'x', jobId: 'y', title: 'A secret job', qty: 1, got: 0, by: null, evidence: null }] })]));
    expect(xml).toContain('<cbc:PayableAmount currencyID="EUR">70.68</cbc:PayableAmount>');
    expect(xml).toContain('<cbc:TaxExclusiveAmount currencyID="EUR">58.90</cbc:TaxExclusiveAmount>');
    expect(xml).toContain('<cbc:PriceAmount currencyID="EUR">12.3456</cbc:PriceAmount>');
    expect(xml).toContain('<cbc:Quantity unitCode="C62">2</cbc:Quantity>');
    expect(xml).toContain('The bench &lt;at&gt; the quay');
    expect(xml).not.toContain('secret');
  });
});
