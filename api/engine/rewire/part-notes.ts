import type { Part } from '../../../catalog-schema/index.ts';
import { describeSetting, settingOf } from '../settings.ts';
import { nameCoil, ohmByWatts } from './part-side.ts';
import type { RewireOptions } from './rewire-options.ts';

/** What the reader of one part's wiring is to know: what was taken for granted, and a coil that is made for another voltage. */
export interface PartNotes {
  readonly cautions: readonly string[];
  readonly assumptions: readonly string[];
}

/** In the part's own names and order. */
export function notePart(part: Part, nominalV: number, options: RewireOptions): PartNotes {
  const cautions: string[] = [];
  const assumptions: string[] = [];
  for (const coil of part.circuit) {
    if (coil.kind !== 'coil') continue;
    const name = nameCoil(coil.id).replace(/^./, (letter) => letter.toUpperCase());
    if (coil.nominalV !== nominalV) {
      cautions.push(`${name} is made for ${coil.nominalV} V and the machine has ${nominalV} V: the wiring is judged as if its thresholds `
        + `were scaled to ${nominalV} V; the part itself is the wrong one for this machine.`);
    }
    if (coil.ohmAt20C === undefined) {
      const found = options.findCoilOhm?.(part, coil);
      assumptions.push(`${name} gives no resistance: ${round3(found?.ohm ?? ohmByWatts(coil))} Ohm (${found?.source ?? describeSetting('coilWatts')}).`);
    }
    if (coil.pullInV === undefined) {
      assumptions.push(`${name} gives no pull-in: ${round3(settingOf('pullInOfNominal') * coil.nominalV)} V (${describeSetting('pullInOfNominal')}).`);
    }
    if (coil.dropOutV === undefined) {
      assumptions.push(`${name} gives no drop-out: ${round3(settingOf('dropOutOfNominal') * coil.nominalV)} V (${describeSetting('dropOutOfNominal')}).`);
    }
  }
  for (const element of part.circuit) {
    if (element.kind === 'motor' && element.ohm === undefined) assumptions.push(`The motor inside gives no resistance: ${describeSetting('motorOhm')}.`);
  }
  return { cautions, assumptions };
}

function round3(value: number): number {
  return Number(value.toPrecision(3));
}
