/** Most entries or characters an input may have; each is checked by the schema that names it. */
export const LIMITS = {
  terminals: 16,
  elements: 32,
  holes: 12,
  wires: 32,
  ohms: 200,
  seen: 200,
  needs: 500,
  offers: 20_000,
  holidays: 400,
  historyRows: 20_000,
  partIdsWanted: 1_000,
  orderLines: 500,
  /** wishes of jobs that lie in one line of an order */
  orderServes: 200,
  /** more units than any bench orders of a part at once; keeps sums of money exact */
  orderUnits: 1_000_000,
  stringCharacters: 2_000,
  /** lists and objects within one another; the contract's own shapes need 8 */
  nestingDepth: 64,
  /** faults printed for one input; the last line says how many more there are */
  faultsListed: 1_000,
  jsonRequestBytes: 5_000_000,
  photographBytes: 20_000_000,
  /** all photographs of one job together: in base64 no more than a job file may hold */
  photographBytesOfJob: 140_000_000,
  photographSidePx: 16_384,
  /** things marked on one photograph, and marks on one of them */
  photographThings: 40,
  photographMarks: 12,
  jobFileBytes: 200_000_000,
  /** of them all that is not a photograph */
  jobFileTextBytes: 12_000_000,
  jobFileEdits: 50_000,
  /** photographs, outcomes, reservations and order lines in a job file, each */
  jobFileEntries: 1_000,
  catalogueFileBytes: 256_000_000,
} as const;
