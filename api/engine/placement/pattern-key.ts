import type { Mounting } from '../../../catalog-schema/index.ts';

/** Everything of a part's mounting that its placement hangs on, as text: equal keys have equal answers on any machine. */
export function patternKeyOf({ holes, drillable }: Mounting): string {
  return JSON.stringify([
    holes.map(({ xMm, yMm, diameterMm, slotMm = 0, slotAngleDeg = 0 }) => (slotMm === 0 ? [xMm, yMm, diameterMm] : [xMm, yMm, diameterMm, slotMm, slotAngleDeg])),
    drillable === true,
  ]);
}
