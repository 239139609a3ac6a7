import type { LeadsTo, TraceMeasurement, TraceOutcome } from '../../../catalog-schema/index.ts';

/** A place a wire can lead to; 'unknown' is no place. */
export type Place = Exclude<LeadsTo, 'unknown'>;

export const PLACES: readonly Place[] = ['battery', 'starter', 'start-switch', 'chassis', 'interlocked-return', 'cranking-feed', 'tap'];

/** A wire that ends in a switch or a load: nothing, or what hangs on it. */
const LOOSE: readonly TraceOutcome[] = ['open', 'through'];

/**
 * What each reading at the free end of a wire can come to, by where the wire leads. Only this wire and, for the key and the cable
 * reading, the starter's cable are off; everything else is on its place. Each line follows from the circuit of a machine, and the
 * table is held against one that is solved (tests/outside/trace-ngspice).
 *
 * - `battery`: before every switch, so live always; its other end is the plus clamp.
 * - `starter`: reaches the chassis through the starter's winding, some hundredths of an ohm: an ohmmeter cannot tell it from a wire
 *   to the chassis. The cable taken off the starter's own stud can.
 * - `start-switch`: live in START alone, and then fully: the meter draws nothing through the switch.
 * - `interlocked-return`: at run an interlock's own circuit may pull its end up a little.
 * - `cranking-feed`: fed at run through the ignition's ballast, so live or in part; in START some machines cut that feed. To the
 *   chassis there is the ignition: a fraction of an ohm over closed points, nothing over open ones.
 * - `tap`: dead, since it was fed by the stud it came off; and so is all that the key feeds through it.
 */
export const PREDICTIONS: Readonly<Record<Place, Readonly<Record<TraceMeasurement, readonly TraceOutcome[]>>>> = {
  battery: { voltsOff: ['live'], voltsRun: ['live'], voltsStart: ['live'], ohmChassisMade: LOOSE, ohmChassisOpen: LOOSE, ohmStarterCable: LOOSE, ohmBatteryPlus: ['joined'] },
  starter: { voltsOff: ['dead'], voltsRun: ['dead'], voltsStart: ['dead'], ohmChassisMade: ['joined'], ohmChassisOpen: ['joined'], ohmStarterCable: ['joined'], ohmBatteryPlus: LOOSE },
  'start-switch': { voltsOff: ['dead'], voltsRun: ['dead'], voltsStart: ['live'], ohmChassisMade: LOOSE, ohmChassisOpen: LOOSE, ohmStarterCable: LOOSE, ohmBatteryPlus: LOOSE },
  chassis: { voltsOff: ['dead'], voltsRun: ['dead'], voltsStart: ['dead'], ohmChassisMade: ['joined'], ohmChassisOpen: ['joined'], ohmStarterCable: LOOSE, ohmBatteryPlus: LOOSE },
  'interlocked-return': {
    voltsOff: ['dead'], voltsRun: ['dead', 'part'], voltsStart: ['dead'], ohmChassisMade: ['joined'], ohmChassisOpen: LOOSE, ohmStarterCable: LOOSE, ohmBatteryPlus: LOOSE,
  },
  'cranking-feed': {
    voltsOff: ['dead'], voltsRun: ['live', 'part'], voltsStart: ['live', 'part', 'dead'], ohmChassisMade: ['open', 'through', 'joined'], ohmChassisOpen: ['open', 'through', 'joined'],
    ohmStarterCable: LOOSE, ohmBatteryPlus: LOOSE,
  },
  tap: { voltsOff: ['dead'], voltsRun: ['dead'], voltsStart: ['dead'], ohmChassisMade: LOOSE, ohmChassisOpen: LOOSE, ohmStarterCable: LOOSE, ohmBatteryPlus: LOOSE },
};
