import type { MachineMounting, MountingHole } from '../../../catalog-schema/index.ts';
import { CLEARANCE_HOLES, clearanceHoleMm } from '../../../catalog-schema/reference/index.ts';

/**
 * The bolt of a machine's hole, mm: `boltMm`, else the thickest standard bolt whose close clearance hole (ISO 273 fine, ASME B18.2.8
 * close) is no wider than the machine's hole: a thicker one would not go through, so the answer errs on the safe side.
 * Below the tables the hole less 6 % is taken.
 */
export function readBoltMm(machine: MachineMounting, hole: MountingHole): { boltMm: number; assumption?: string } {
  if (machine.boltMm !== undefined) return { boltMm: machine.boltMm };
  const thickest = CLEARANCE_HOLES.findLast((row) => row.holeMm.close <= hole.diameterMm + 1e-9);
  const boltMm = thickest?.majorMm ?? hole.diameterMm * 0.94;
  return {
    boltMm,
    assumption: `bolt ${Math.round(boltMm * 100) / 100} mm in the machine's ${hole.diameterMm} mm hole, since boltMm is not given: the thickest that goes through it (ISO 273, ASME B18.2.8 close fit)`,
  };
}

/** The hole to drill for a bolt, mm: ISO 273 medium or ASME B18.2.8 normal; beyond the tables the bolt plus 10 %. */
export function newHoleMm(boltMm: number): number {
  return clearanceHoleMm(boltMm) ?? Math.round(boltMm * 11) / 10;
}
