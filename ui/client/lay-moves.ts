import { NO_CURRENCY, type StockMoveRequest, type StockRow } from '../../catalog-schema/index.ts';
import type { WaitingItem } from './device.ts';

/** Rows as they stand on this device: the server's, with moves that wait to be sent on top; those it said no to are left out. */
export function layWaitingMoves(rows: readonly StockRow[], waiting: readonly WaitingItem[]): StockRow[] {
  const moves = waiting.filter(({ answer }) => answer === undefined || answer.kind === 'failed')
    .flatMap(({ errand }) => (errand?.kind === 'moves' ? errand.body.moves : []));
  return moves.length === 0 ? [...rows] : layMoves(rows, moves);
}

/** Rows after some moves. A bin that has no row gets one. */
export function layMoves(rows: readonly StockRow[], moves: readonly StockMoveRequest[]): StockRow[] {
  const byPlace = new Map(rows.map((row) => [keyOf(row.partId, row.bin), row]));
  const currency = rows[0]?.currency ?? NO_CURRENCY;
  const change = (partId: string, bin: string, onHandBy: number, reservedBy: number): void => {
    const before = byPlace.get(keyOf(partId, bin)) ?? { partId, bin, onHand: 0, reserved: 0, free: 0, unitCost: costOf(rows, partId), currency, seq: 0 };
    const { below: _below, ...rest } = before;
    const [onHand, reserved] = [before.onHand + onHandBy, Math.max(0, before.reserved + reservedBy)];
    const free = onHand - reserved;
    byPlace.set(keyOf(partId, bin), { ...rest, onHand, reserved, free, ...(onHand < 0 || free < 0 ? { below: true as const } : {}) });
  };
  for (const { kind, partId, bin, toBin, qty } of moves) {
    switch (kind) {
      case 'in': case 'return': change(partId, bin, qty, 0); break;
      case 'out': case 'scrap': change(partId, bin, -qty, 0); break;
      case 'transfer': change(partId, bin, -qty, 0); if (toBin !== undefined) change(partId, toBin, qty, 0); break;
      case 'reserve': change(partId, bin, 0, qty); break;
      case 'release': change(partId, bin, 0, -qty); break;
      case 'count': change(partId, bin, qty - (byPlace.get(keyOf(partId, bin))?.onHand ?? 0), 0); break;
      default: throw new Error(`no such move: ${JSON.stringify(kind satisfies never)}`);
    }
  }
  return [...byPlace.values()];
}

/** What a unit of the part cost where some of it lies; 0 where none does. */
function costOf(rows: readonly StockRow[], partId: string): number {
  return rows.find((row) => row.partId === partId)?.unitCost ?? 0;
}

function keyOf(partId: string, bin: string): string { return JSON.stringify([partId, bin]); }
