import type { Kysely, Transaction } from 'kysely';
import type { CarriedTable } from './carried.table.ts';
import type { FaultShareTable } from './fault-share.table.ts';
import type { JobEditTable, JobTable } from './job.table.ts';
import type { ArrivalShareTable, LeadDayTable, OrderEventTable, OrderWishTable, SupplierOrderTable } from './order.table.ts';
import type { OutcomeTable } from './outcome.table.ts';
import type { PartTable } from './part.table.ts';
import type { GuessTable, PersonTable, SessionTable } from './person.table.ts';
import type { PhotographTable } from './photograph.table.ts';
import type { StockBinTable, StockMoveTable } from './stock-move.table.ts';
import type { UploadPieceTable, UploadTable } from './upload.table.ts';
import type { OfferTable, ShopEditTable, ShopTable, SupplierTable } from './shop.table.ts';

export interface Tables {
  faultShare: FaultShareTable;
  part: PartTable;
  shop: ShopTable;
  supplier: SupplierTable;
  offer: OfferTable;
  stockMove: StockMoveTable;
  stockBin: StockBinTable;
  shopEdit: ShopEditTable;
  supplierOrder: SupplierOrderTable;
  orderEvent: OrderEventTable;
  orderWish: OrderWishTable;
  arrivalShare: ArrivalShareTable;
  leadDay: LeadDayTable;
  outcome: OutcomeTable;
  photograph: PhotographTable;
  upload: UploadTable;
  uploadPiece: UploadPieceTable;
  person: PersonTable;
  session: SessionTable;
  guess: GuessTable;
  jobCarried: CarriedTable;
  job: JobTable;
  jobEdit: JobEditTable;
}

export type Db = Kysely<Tables>;
/** A database inside a transaction; functions that write take this one. */
export type Tx = Transaction<Tables>;
