/** How often a fault is found, as the shop said it last. */
export interface FaultShareTable {
  fault: string;
  share: number;
  by: string | null;
  at: string;
}
