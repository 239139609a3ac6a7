import { eachElement } from './each-element.ts';
import type { LintRule } from './lint-rule.ts';

export const coilWatts: LintRule = {
  name: 'coil-watts',
  description: "A coil's power at its nominal voltage is plausible: 0.5 to 200 W, a pull-in winding of a shift solenoid up to 1200 W (common practice, no source).",
  check({ parts }) {
    return eachElement(parts).flatMap(({ part, element }) => {
      if (element.kind !== 'coil' || element.ohmAt20C === undefined) return [];
      const watts = element.nominalV ** 2 / element.ohmAt20C;
      // The pull-in winding carries its current only until the contact shorts it out.
      const most = part.circuit.some((other) => other.kind === 'coil' && other !== element) ? 1200 : 200;
      return watts >= 0.5 && watts <= most ? [] : [{ where: part.id, words: `coil ${element.id} takes ${watts.toPrecision(3)} W at ${element.nominalV} V` }];
    });
  },
};
