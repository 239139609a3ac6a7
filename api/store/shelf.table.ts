/** Units of one part in one bin. `setAside` was reserved before this database began; later ones are rows of `reservation`. */
export interface ShelfBinTable {
  partId: string;
  bin: string;
  onHand: number;
  setAside: number;
  unitCost: number;
}

/** Units put aside for a job, or sold over the counter where `jobId` is null. */
export interface ReservationTable {
  id: string;
  partId: string;
  qty: number;
  jobId: string | null;
  at: string;
}

/** Which bins a reservation takes its units from. */
export interface ReservationBinTable {
  reservationId: string;
  partId: string;
  bin: string;
  qty: number;
}
