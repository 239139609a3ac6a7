import type { MachineMounting } from '../../../catalog-schema/index.ts';

/** Where a bolt's size is not said yet, the hole in the panel is taken to be this wide, mm. */
const UNSAID_HOLE_MM = 6.4;

/** How wide a hole of the machine is taken to be while nobody has measured it, mm. */
export function usualHoleMm(mounting: MachineMounting | undefined): number {
  return mounting?.holes[0]?.diameterMm ?? mounting?.boltMm ?? UNSAID_HOLE_MM;
}
