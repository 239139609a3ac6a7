export type { Db, Tx } from './database.ts';
export { findCarried, putCarried } from './carried.repository.ts';
export { listFaultShares, replaceFaultShares } from './fault-share.repository.ts';
export type { FaultShareTable } from './fault-share.table.ts';
export { openStore, type Store } from './open-store.ts';
export { appendJobEdits, findJob, findJobsOfEdits, insertJob, listCountedEdits, listJobEdits, listJobs, type JobEditRow } from './job.repository.ts';
export type { JobTable } from './job.table.ts';
export {
  findOrderEvent, findOrderWish, insertArrivalShares, insertLeadDay, insertOrder, insertOrderEvent, insertOrderWishes, listArrivalShares, listLeadDays,
  listOrderEvents, listOrders, listOrdersOfJob, listOvertakenOrders, updateOrderState, type OrderEventRow, type OrderFilter,
} from './order.repository.ts';
export type { ArrivalShareTable, SupplierOrderTable } from './order.table.ts';
export { findOutcome, insertOutcome, listLastOutcomes, listLastOutcomesWithMarks, listOutcomes, type OutcomeRow } from './outcome.repository.ts';
export { listParts, putParts } from './part.repository.ts';
export {
  deleteGuess, deleteOldGuesses, deleteOldSessions, deletePerson, deleteSession, deleteSessionsOf, findGuess, findPerson, findPersonByName,
  findSession, insertPerson, insertSession, listGuessesAtNames, listPeople, putGuess, updatePin, updateSeen,
} from './person.repository.ts';
export type { GuessTable, PersonTable } from './person.table.ts';
export { findPhotograph, insertPhotograph, listPhotographs, readPhotographBytes, sumPhotographBytes } from './photograph.repository.ts';
export {
  deleteUpload, deleteUploadsBefore, findUpload, insertUpload, insertUploadPiece, readUploadPieces, sumUploadBytes, sumUploadLengths,
} from './upload.repository.ts';
export type { UploadTable } from './upload.table.ts';
export type { PhotographTable } from './photograph.table.ts';
export {
  countOffers, deleteOffer, findShop, findShopEdit, insertOffers, insertShopEdit, insertSuppliers, listLastShopEdits, listOffers, listSuppliers, putOffer,
  putShop, putSupplier, type ShopEditRow,
} from './shop.repository.ts';
export type { OfferTable, SupplierTable } from './shop.table.ts';
export {
  appendStockMove, findKnownParts, findStockMove, listDemand, listReservationSums, listStockBins, listStockMoves, putStockBin, sumOnHandSince, sumReserved,
  type NewStockMove, type ReservationSum, type StockBinRow, type StockMoveRow,
} from './stock-move.repository.ts';
