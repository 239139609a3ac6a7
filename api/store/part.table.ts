/** A catalogue part as the contract's JSON; `position` keeps the order of the catalogue it came from. */
export interface PartTable {
  id: string;
  position: number;
  json: string;
}
