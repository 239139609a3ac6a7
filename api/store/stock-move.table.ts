import type { ColumnType, Generated } from 'kysely';
import type { StockMoveKind } from '../../catalog-schema/index.ts';

type Once<T> = ColumnType<T, T, never>;

/**
 * The ledger: rows are only ever added. `onHandBy` and `reservedBy` are what the move did to its bin; a transfer adds to `toBin` what it took.
 * `unitCost` counts ten-thousandths of the currency's unit.
 */
export interface StockMoveTable {
  seq: Generated<number>;
  id: Once<string>;
  kind: Once<StockMoveKind>;
  partId: Once<string>;
  bin: Once<string>;
  toBin: Once<string | null>;
  qty: Once<number>;
  booked: Once<number | null>;
  onHandBy: Once<number>;
  reservedBy: Once<number>;
  jobId: Once<string | null>;
  reservationId: Once<string | null>;
  orderLineId: Once<string | null>;
  reason: Once<string | null>;
  unitCost: Once<number | null>;
  currency: Once<string | null>;
  by: Once<string | null>;
  at: Once<string>;
}

/** What the moves of one part in one bin add up to, kept so that reading the shelf does not add up the ledger. */
export interface StockBinTable {
  partId: string;
  bin: string;
  onHand: number;
  reserved: number;
  unitCost: number;
  /** of its last move */
  seq: number;
}
