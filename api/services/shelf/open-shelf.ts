import { randomUUID } from 'node:crypto';
import type { StockMoveRequest } from '../../../catalog-schema/index.ts';
import type { Tx } from '../../store/index.ts';
import { recordMoves } from './record-moves.ts';

/** A bin as a shop's file has it. */
export interface OpeningBin { readonly partId: string; readonly bin: string; readonly onHand: number; readonly reserved?: number | undefined; readonly unitCost: number }

/** What lies on the shelf when the books are opened, as the ledger's first moves. @throws where a part is not in the catalogue. */
export async function openShelf(tx: Tx, bins: readonly OpeningBin[], at: string): Promise<void> {
  const moves = bins.flatMap(({ partId, bin, onHand, reserved = 0, unitCost }): StockMoveRequest[] => {
    const place = { partId, bin, at, reason: 'opening' };
    return [
      { ...place, id: randomUUID(), kind: onHand > 0 ? 'in' : 'count', qty: onHand, unitCost },
      ...(reserved > 0 ? [{ ...place, id: randomUUID(), kind: 'reserve' as const, qty: reserved }] : []),
    ];
  });
  const opened = await recordMoves(tx, moves);
  if (!opened.ok) throw new Error(`the shelf could not be opened: ${JSON.stringify(opened.refusal)}`);
}
