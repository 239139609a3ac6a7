import type { Measured, Read } from '../../../catalog-schema/index.ts';
import type { Spot } from './homography.ts';

/** The ID-1 card, mm. Source: ISO/IEC 7810 (from memory): 85.60 x 53.98, corners of radius 3.18. */
export const CARD_MM = { longSide: 85.6, shortSide: 53.98, cornerRadius: 3.18 } as const;

/** A tapped place: px from the picture's upper left corner, y downwards, with the sigma of the tap in each direction, px. */
export interface Tap { readonly xPx: number; readonly yPx: number; readonly noisePx: number }

/** One straight edge of the card: two or more marks on it, px, and the sigma of one mark across the edge, px. */
export interface EdgeMarks { readonly points: readonly { readonly xPx: number; readonly yPx: number }[]; readonly noisePx: number }

/**
 * What a person marked: the card's four edges in their order around it (either way round, from any edge).
 * `longEdges` where the person says which pair is the long one; else it is judged.
 */
export interface CardMarks {
  readonly picture: { readonly widthPx: number; readonly heightPx: number };
  readonly edges: readonly EdgeMarks[];
  readonly longEdges?: 'first-and-third' | 'second-and-fourth';
  /** how far the measured plane lies above the card's, towards the camera, mm; absent = in one plane */
  readonly raisedMm?: Measured;
}

export function accept<T>(value: T): Read<T> {
  return { ok: true, value };
}

/** One fault, as for any other wrong input. */
export function refuse<T>(path: string, found: string, want: string): Read<T> {
  return { ok: false, faults: [{ path, found, want }] };
}

/** A tap as a spot in px. */
export function spotOf({ xPx, yPx }: { readonly xPx: number; readonly yPx: number }): Spot {
  return { x: xPx, y: yPx };
}
