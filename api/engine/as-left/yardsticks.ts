import { VOLTAGE_DROP_LIMITS } from '../../../catalog-schema/index.ts';
import { SETTINGS } from '../settings.ts';

/** A limit a reading is held against, and whose it is: the published yardsticks disagree, so the one applied is named. */
export interface Yardstick {
  readonly low: number | undefined;
  readonly high: number | undefined;
  readonly unit: 'V' | 'A' | 'Ω';
  /** the figure as published, with its source */
  readonly source: string;
}

/** The table's row that speaks of a place. Throws where the table has lost it: the checklist would otherwise drop a reading in silence. */
function findLimit(where: string): (typeof VOLTAGE_DROP_LIMITS)[number] {
  const row = VOLTAGE_DROP_LIMITS.find((entry) => entry.where.startsWith(where));
  if (row === undefined) throw new Error(`no voltage-drop limit for ${JSON.stringify(where)}`);
  return row;
}

function dropBelow(where: string): Yardstick {
  const row = findLimit(where);
  // A row may give two figures, '0.2 (new/good); 0.3 (service limit)': a part that has just gone on is held to the first.
  const high = row.maxV ?? Number.parseFloat(row.limit);
  return { low: undefined, high, unit: 'V', source: `${row.limit}: ${row.source}` };
}

/** Greatest drops at cranking current. */
export const contactDropYardstick = (): Yardstick => dropBelow('solenoid (relay) main contacts');
export const positiveDropYardstick = (): Yardstick => dropBelow('battery + to starter B+, with a separate solenoid in between');
export const groundDropYardstick = (): Yardstick => dropBelow('ground: battery - post to starter case');

/** What a machine may draw with its switch off. */
export function standingCurrentYardstick(): Yardstick {
  return { low: undefined, high: SETTINGS.standingA.value, unit: 'A', source: SETTINGS.standingA.source };
}

/** The ohms a coil may have, from those of its catalogue entry. */
export function coilOhmYardstick(ohmAt20C: number): Yardstick {
  const share = SETTINGS.coilOhmShare;
  return {
    low: ohmAt20C * (1 - share.value), high: ohmAt20C * (1 + share.value), unit: 'Ω',
    source: `the part’s own ohms in the catalogue, ± ${share.value * 100} % (${share.source})`,
  };
}

/** Least volts across a coil that is held in: the voltage it is guaranteed to pull in at. */
export function coilVoltYardstick(pullInV: number, said: boolean): Yardstick {
  return {
    low: pullInV, high: undefined, unit: 'V',
    source: said ? 'the part’s own guaranteed pull-in in the catalogue' : `${SETTINGS.pullInOfNominal.value} of nominal voltage, since the catalogue does not say (${SETTINGS.pullInOfNominal.source})`,
  };
}

/**
 * Does a reading lie within its limit? Volts and amps count by their size: which probe was plus is nothing to a drop. Ohms below
 * nothing are no ohms. The figure is taken as the meter shows it: the limits themselves are customary ones.
 */
export function isWithin(reading: number, { low, high, unit }: Yardstick): boolean {
  const size = unit === 'Ω' ? reading : Math.abs(reading);
  return (low === undefined || size >= low) && (high === undefined || size <= high);
}
