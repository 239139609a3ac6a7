import { VOLTAGE_DROP_LIMITS } from '../../../catalog-schema/index.ts';

/** A limit a reading is held against, and whose it is: the published yardsticks disagree, so the one applied is named. */
export interface Yardstick {
  readonly low: number | undefined;
  readonly high: number | undefined;
  readonly unit: 'V' | 'Ω';
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
export const CONTACT_DROP = dropBelow('solenoid (relay) main contacts');
export const POSITIVE_DROP = dropBelow('battery + to starter B+, with a separate solenoid in between');
export const GROUND_DROP = dropBelow('ground: battery - post to starter case');

/** How far a coil may lie from its catalogue ohms: common practice, no source. Meter and temperature are in it. */
const COIL_OHM_SHARE = 0.2;

export function coilOhmYardstick(ohmAt20C: number, source: string): Yardstick {
  return { low: ohmAt20C * (1 - COIL_OHM_SHARE), high: ohmAt20C * (1 + COIL_OHM_SHARE), unit: 'Ω', source };
}

/** Does a reading lie within its limit? */
export function isWithin(reading: number, { low, high }: Yardstick): boolean {
  return (low === undefined || reading >= low) && (high === undefined || reading <= high);
}
