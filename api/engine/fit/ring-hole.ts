import { RING_HOLES } from '../../../catalog-schema/reference/index.ts';
import { readThread } from '../../../catalog-schema/thread/index.ts';
import { settingOf } from '../settings.ts';

/**
 * The hole of the ring lug to buy for a thread, mm: the smallest of the standard ones that leaves the stud enough room
 * (DIN 46234, DIN 46235, US practice; some are too tight for their own stud by the rule the check applies).
 * @returns undefined for a thread that cannot be read or has no lug
 */
export function ringHoleFor(thread: string): number | undefined {
  const majorMm = readThread(thread)?.majorMm;
  if (majorMm === undefined) return undefined;
  const holes = RING_HOLES.map(({ holeMm }) => holeMm).filter((holeMm) => isRingGap(holeMm - majorMm));
  return holes.length === 0 ? undefined : Math.min(...holes);
}

/** Whether a ring that is so much wider than its stud goes on and bears on its whole ring. */
export function isRingGap(gapMm: number): boolean {
  return gapMm >= settingOf('ringGapLeastMm') - 1e-9 && gapMm <= settingOf('ringGapMostMm') + 1e-9;
}
