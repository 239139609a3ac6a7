import { writeFileSync } from 'node:fs';
import { Option, type Command } from 'commander';
import { amountInMinor, printMinor, printUnitPrice, type OrderSummary, type PurchaseOrder } from '../../catalog-schema/index.ts';
import type { OrderForm, Services } from '../services/index.ts';
import { printJson, writeOut } from './tell.ts';
import { takeOutcome, useShop } from './use-shop.ts';
import { passToStandardOutput, sayUnwritable } from './write-file.ts';

interface OrderOptions { readonly pdf?: string; readonly csv?: string; readonly ubl?: string; readonly paper: 'a4' | 'letter'; readonly db?: string; readonly json?: boolean }

export function addOrderCommand(program: Command): void {
  program.command('order [order]')
    .description('an order to a supplier, by its number or id: what it says, or a file of it for the supplier; without one, every order')
    .option('--pdf <file>', 'write it as a sheet to print (-: standard output)')
    .option('--csv <file>', 'write its lines as a table by RFC 4180 (-: standard output)')
    .option('--ubl <file>', 'write it as an OASIS UBL 2.1 order (-: standard output)')
    .addOption(new Option('--paper <name>', 'the paper in the printer').choices(['a4', 'letter']).default('a4'))
    .option('--db <file>', 'the database of the shop (else LUGWRIGHT_DB, else the demo’s)')
    .option('--json', 'print the answer as JSON')
    .action((order: string | undefined, options: OrderOptions) => useShop(options.db, async (services) => {
      if (order === undefined) {
        const orders = await services.orders.list();
        await writeOut(options.json ? printJson(orders) : printOrders(orders));
        return;
      }
      const forms = (['pdf', 'csv', 'ubl'] as const).filter((form) => options[form] !== undefined);
      for (const form of forms) await writeDocument(services, order, form, options[form]!, options.paper);
      if (options.json || forms.length === 0) {
        const read = takeOutcome(await services.orders.read(order), 'order', order);
        await writeOut(options.json ? printJson(read) : printOrder(read, (partId) => services.catalogue.current().byId.get(partId)?.title ?? partId));
      }
    }));
}

async function writeDocument(services: Services, order: string, form: OrderForm, file: string, paper: 'a4' | 'letter'): Promise<void> {
  const { bytes } = takeOutcome(await services.documents.order(order, form, paper), 'order', order);
  if (file === '-') {
    await new Promise<void>((resolve, reject) => {
      const out = passToStandardOutput();
      out.once('error', reject);
      out.end(Buffer.from(bytes), () => resolve());
    });
    return;
  }
  try {
    writeFileSync(file, bytes);
  } catch (error) {
    throw sayUnwritable(`--${form}`, file, error);
  }
}

function printOrders(orders: readonly OrderSummary[]): string {
  if (orders.length === 0) return 'Nothing is ordered.\n';
  return orders.map((order) => [
    String(order.number).padStart(4), order.state.padEnd(13), order.supplierName, `${order.lines} ${order.lines === 1 ? 'line' : 'lines'}`, say(order.total, order.currency),
    ...(order.arrives === null ? [] : [`comes ${order.arrives}${order.daysLate > 0 ? `, ${order.daysLate} days late` : ''}`]),
  ].join('  ')).map((line) => `${line}\n`).join('');
}

function printOrder(order: PurchaseOrder, titleOf: (partId: string) => string): string {
  const { currency, sums } = order;
  const lines = order.lines.flatMap((line) => [
    `${String(line.qty).padStart(5)} x ${line.partId}, ${titleOf(line.partId)}: ${printUnitPrice(line.unitPrice, currency)} each, ${say(line.goods, currency)}`,
    ...(line.good + line.wrong + line.damaged === 0 ? [] : [`        came: ${line.good} good${line.wrong > 0 ? `, ${line.wrong} wrong` : ''}${line.damaged > 0 ? `, ${line.damaged} damaged` : ''}${line.over > 0 ? `, ${line.over} of them too many` : ''}`]),
    ...(line.open > 0 && line.good > 0 ? [`        ${line.open} on back-order, ${line.promised ? 'promised for' : 'expected'} ${line.arrives}`] : []),
    ...line.serves.map(({ title, jobId, qty, got, evidence }) => `        for ${jobId === null ? 'the shelf' : `${title ?? jobId}`}: ${qty}${got > 0 ? `, has got ${got}` : ''}${evidence === null ? '' : `. ${evidence.words}${evidence.settles === null ? '' : ` Would settle it: ${evidence.settles}.`}`}`),
  ]);
  const returns = order.returns.map(({ qty, partId, reason, credit, credited }) => `  sent back: ${qty} x ${partId}, ${reason}; ${credited === null ? `credit awaited ${say(credit, currency)}` : `credited ${say(credited, currency)}`}`);
  const totals = [
    `  goods ${say(sums.goods, currency)}, freight ${say(sums.freight, currency)}${sums.taxes.map(({ words, amount }) => `, ${sums.pricesWithTax ? 'in it ' : ''}${words} ${say(amount, currency)}`).join('')}`,
    `  total ${say(sums.total, currency)}${sums.cores > 0 ? `, core charges beside it ${say(sums.cores, currency)}` : ''}`,
    ...(sums.short > 0 ? [`  ${say(sums.short, currency)} short of the supplier’s least order`] : []),
  ];
  return [
    `Order ${order.number} to ${order.supplierName}: ${order.state}${order.arrives === null ? '' : `, comes ${order.arrives}`}${order.daysLate > 0 ? `, ${order.daysLate} days late` : ''}`,
    ...lines, ...returns, ...totals,
  ].map((line) => `${line}\n`).join('');
}

const say = (amount: number, currency: string): string => `${printMinor(amountInMinor(amount, currency), currency)} ${currency}`;
