import type { JobPhotograph, RecordTerminal } from '../../../catalog-schema/index.ts';

/** A terminal's pin: where it stands in the picture, px from its upper left corner. */
export interface Pin { readonly id: string; readonly xPx: number; readonly yPx: number }

/** An affine map: x' = a x + c y + e, y' = b x + d y + f. */
export type Affine = readonly [a: number, b: number, c: number, d: number, e: number, f: number];

/** The pins of a picture whose terminals the record still has: the middle of what was marked on each. */
export function pinsOf(photograph: JobPhotograph, terminals: readonly Pick<RecordTerminal, 'id'>[]): Pin[] {
  return Object.values(photograph.things ?? {}).flatMap(({ what, terminal, marks }) => {
    if (what !== 'terminal' || terminal === undefined || !terminals.some(({ id }) => id === terminal)) return [];
    const mean = (axis: 'xPx' | 'yPx'): number => marks.reduce((sum, mark) => sum + mark[axis], 0) / marks.length;
    return [{ id: terminal, xPx: mean('xPx'), yPx: mean('yPx') }];
  });
}

/**
 * How the picture is laid beneath the drawing: turned, moved and enlarged so that its pins come as near to their terminals as they can
 * (least squares), from px with y down to mm with y up. undefined with fewer than two pins apart.
 * Terminals placed by eye do not bear more freedom than that: a picture drawn out of shape would look as if it were true.
 */
export function placePhotograph(pins: readonly Pin[], terminals: readonly Pick<RecordTerminal, 'id' | 'at'>[]): Affine | undefined {
  const pairs = pins.flatMap((pin) => {
    const at = terminals.find(({ id }) => id === pin.id)?.at;
    return at === undefined ? [] : [{ x: pin.xPx, y: -pin.yPx, u: at.xMm, v: at.yMm }];
  });
  if (pairs.length < 2) return undefined;
  const mean = (key: 'x' | 'y' | 'u' | 'v'): number => pairs.reduce((sum, pair) => sum + pair[key], 0) / pairs.length;
  const [x0, y0, u0, v0] = [mean('x'), mean('y'), mean('u'), mean('v')];
  let [spread, along, across] = [0, 0, 0];
  for (const { x, y, u, v } of pairs) {
    spread += (x - x0) ** 2 + (y - y0) ** 2;
    along += (x - x0) * (u - u0) + (y - y0) * (v - v0);
    across += (x - x0) * (v - v0) - (y - y0) * (u - u0);
  }
  if (spread < 1 || along ** 2 + across ** 2 < 1e-12) return undefined;
  const [p, q] = [along / spread, across / spread];
  return [p, q, q, -p, u0 - p * x0 + q * y0, v0 - q * x0 - p * y0];
}

/** The pin nearest to a place of the picture, within `within` px. */
export function findPin(pins: readonly Pin[], at: { readonly xPx: number; readonly yPx: number }, within: number): Pin | undefined {
  const apart = (pin: Pin): number => Math.hypot(pin.xPx - at.xPx, pin.yPx - at.yPx);
  const [nearest] = pins.toSorted((a, b) => apart(a) - apart(b));
  return nearest !== undefined && apart(nearest) <= within ? nearest : undefined;
}
