import { randomUUID } from 'node:crypto';
import type { Command } from 'commander';
import { readInput, stockMoveBatch, stockMoveRequest, type StockAnswer, type StockMove, type StockMoveRequest, type StockRow } from '../../catalog-schema/index.ts';
import type { Services } from '../services/index.ts';
import { takeJson } from './take-input.ts';
import { InputRefused, printJson, writeOut } from './tell.ts';
import { takeOutcome, useShop } from './use-shop.ts';

interface Options { db?: string; json?: boolean }
interface MoveOptions extends Options { bin: string; qty: string; to?: string; cost?: string; why?: string; by?: string }
type CommandKind = 'in' | 'out' | 'return' | 'scrap' | 'transfer' | 'count';

const KINDS: Readonly<Record<CommandKind, string>> = {
  in: 'units came in without an order', out: 'units went out: sold or fitted without a job', return: 'units came back', scrap: 'units were thrown away',
  transfer: 'units went to another bin', count: 'somebody counted: the books follow, and the difference is kept',
};

/** The shelf: what lies where, what moved, and moves to be booked. */
export function addStockCommand(program: Command): void {
  const stock = program.command('stock').description('what lies on the shelf, what moved, and moves to be booked');
  withShop(stock.command('list [part]', { isDefault: true }).description('every bin, or those of a part or of the name given'))
    .action((name: string | undefined, options: Options) => useShop(options.db, async ({ shelf, catalogue }) => {
      const all = await shelf.rows();
      const rows = name === undefined ? all : all.filter(({ partId, bin }) => partId === name || bin === name);
      if (rows.length === 0 && name !== undefined && !catalogue.current().byId.has(name)) {
        throw new InputRefused([{ path: 'part', found: JSON.stringify(name), want: 'the id of a part of the catalogue, or the name of a bin' }]);
      }
      await writeOut(options.json ? printJson(rows) : printRows(rows));
    }));
  withShop(stock.command('moves [part]').description('the last 100 moves, the newest first; of a part or of all'))
    .action((partId: string | undefined, options: Options) => useShop(options.db, async ({ shelf }) => {
      const moves = await shelf.moves({ last: true, most: 100, ...(partId === undefined ? {} : { partId }) });
      await writeOut(options.json ? printJson(moves) : moves.map(printMove).join(''));
    }));
  for (const [kind, words] of Object.entries(KINDS) as [CommandKind, string][]) {
    const command = withShop(stock.command(`${kind} <part>`).description(words))
      .requiredOption('--bin <bin>', 'the bin').requiredOption('--qty <units>', kind === 'count' ? 'how many lie there' : 'how many')
      .option('--why <words>', 'kept beside the move').option('--by <name>', 'who did it');
    if (kind === 'transfer') command.requiredOption('--to <bin>', 'the bin they go to');
    if (kind === 'in' || kind === 'count') command.option('--cost <money>', 'what one unit cost');
    command.action((partId: string, options: MoveOptions) => useShop(options.db, (services) => record(services, [readMove(kind, partId, options)], options)));
  }
  withShop(stock.command('record <file>').description('moves out of a file (- for standard input), as the API takes them: all or none'))
    .action(async (file: string, options: Options) => {
      const { moves } = await takeJson(file, (value) => readInput(stockMoveBatch, value));
      await useShop(options.db, (services) => record(services, moves, options));
    });
  for (const command of stock.commands) command.exitOverride();
}

function withShop(command: Command): Command {
  return command.option('--db <path>', 'the shop’s database (LUGWRIGHT_DB, else that of npm start)').option('--json', 'print as JSON');
}

function readMove(kind: CommandKind, partId: string, { bin, qty, to, cost, why, by }: MoveOptions): StockMoveRequest {
  const number = (text: string): unknown => (/^-?\d+(?:\.\d+)?$/.test(text) ? Number(text) : text);
  const read = readInput(stockMoveRequest, {
    id: randomUUID(), kind, partId, bin, qty: number(qty), at: new Date().toISOString(),
    ...(to === undefined ? {} : { toBin: to }), ...(cost === undefined ? {} : { unitCost: number(cost) }), ...(why === undefined ? {} : { reason: why }), ...(by === undefined ? {} : { by }),
  });
  if (!read.ok) throw new InputRefused(read.faults.map((fault) => ({ ...fault, path: OPTION_OF[fault.path] ?? fault.path })));
  return read.value;
}

const OPTION_OF: Readonly<Record<string, string>> = { bin: '--bin', qty: '--qty', toBin: '--to', unitCost: '--cost', reason: '--why', by: '--by', partId: 'part' };

async function record({ shelf }: Services, moves: readonly StockMoveRequest[], options: Options): Promise<void> {
  const outcome = await shelf.record(moves);
  // What cannot be as things stand is said as it is; it is no fault of one option.
  if (!outcome.ok && outcome.refusal.kind === 'conflict') throw new InputRefused([{ path: 'stock', found: outcome.refusal.why, want: 'no more than is free' }]);
  const answer: StockAnswer = takeOutcome(outcome, 'stock', '');
  await writeOut(options.json ? printJson(answer) : `${answer.moves.map(printMove).join('')}${printRows(answer.rows)}`);
}

function printRows(rows: readonly StockRow[]): string {
  if (rows.length === 0) return 'nothing on the shelf\n';
  const wide = (column: (row: StockRow) => string): number => Math.max(...rows.map((row) => column(row).length));
  const [bins, parts] = [wide(({ bin }) => bin), wide(({ partId }) => partId)];
  return rows.map(({ bin, partId, onHand, reserved, free, unitCost, currency, below }) =>
    `${bin.padEnd(bins)}  ${partId.padEnd(parts)}  ${String(free).padStart(4)} free  ${String(onHand).padStart(4)} there  ${String(reserved).padStart(4)} put aside  ${unitCost} ${currency}${below ? '  below none: count it' : ''}\n`).join('');
}

function printMove({ seq, at, kind, qty, partId, bin, toBin, booked, by, reason }: StockMove): string {
  const words = kind === 'count' ? `count ${qty}, the books had ${booked}` : `${kind} ${qty}`;
  return `${seq}  ${at}  ${words}  ${partId}  ${bin}${toBin === undefined ? '' : ` to ${toBin}`}${by === undefined ? '' : `  ${by}`}${reason === undefined ? '' : `  ${reason}`}\n`;
}
