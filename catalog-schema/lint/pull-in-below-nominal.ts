import { eachElement } from './each-element.ts';
import type { LintRule } from './lint-rule.ts';

export const pullInBelowNominal: LintRule = {
  name: 'pull-in-below-nominal',
  description: 'A coil pulls in below its nominal voltage.',
  check({ parts }) {
    return eachElement(parts).flatMap(({ part, element }) =>
      element.kind === 'coil' && element.pullInV !== undefined && element.pullInV >= element.nominalV
        ? [{ where: part.id, words: `coil ${element.id} pulls in at ${element.pullInV} V, nominal ${element.nominalV} V` }] : []);
  },
};
