/** A ring goes on a stud when its hole exceeds the stud's major diameter by this much, mm: the contract's rule (common practice, no source). */
export const RING_GAP_MM = { least: 0.1, most: 1.5 } as const;

/** Sums of decimal tenths are a hair off in binary: a hole at the limit is at the limit. */
const HAIR_MM = 1e-9;

/** Whether a ring that is `gapMm` wider than its stud goes over it and bears on its whole ring. */
export function isRingGap(gapMm: number): boolean {
  return gapMm >= RING_GAP_MM.least - HAIR_MM && gapMm <= RING_GAP_MM.most + HAIR_MM;
}
