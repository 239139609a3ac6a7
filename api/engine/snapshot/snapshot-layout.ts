import { SETTINGS } from '../settings.ts';

/** The code of what a part does not have, and the row of a successor that is not in the catalogue. */
export const NO_CODE = 0xffffffff;

/** The defaults that columns and keys were written with: a snapshot written with others means something else. */
export function nameSettings(): string {
  const { pullInOfNominal, dropOutOfNominal, motorOhm, heavyStudMm } = SETTINGS;
  return JSON.stringify([pullInOfNominal.value, dropOutOfNominal.value, motorOhm.value, heavyStudMm.value]);
}
