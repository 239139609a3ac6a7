import { isRingGap, RING_HOLES } from '../../../catalog-schema/reference/index.ts';
import { readThread } from '../../../catalog-schema/thread/index.ts';

/**
 * The hole of the ring lug to buy for a thread, mm: that of the lug made for the size (DIN 46234, DIN 46235, US practice), the smallest
 * that leaves the stud enough room; where all of its own are too tight, the smallest of any size that does.
 * @returns undefined for a thread that cannot be read or has no lug
 */
export function ringHoleFor(thread: string): number | undefined {
  const read = readThread(thread);
  if (!read) return undefined;
  const fitting = RING_HOLES.filter(({ holeMm }) => isRingGap(holeMm - read.majorMm));
  const own = fitting.filter(({ majorMm, stud }) => Math.abs(majorMm - read.majorMm) < 0.001 && stud.startsWith('M') === read.name.startsWith('M'));
  const holes = (own.length > 0 ? own : fitting).map(({ holeMm }) => holeMm);
  return holes.length === 0 ? undefined : Math.min(...holes);
}
