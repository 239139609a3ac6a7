import { meaningsOfMarking } from '../reference/index.ts';
import type { LintRule } from './lint-rule.ts';

export const markingKnown: LintRule = {
  name: 'marking-known',
  description: 'Every marking is one of DIN 72552, IEC 60947-1, cube relays, or listed in reference/custom-markings.json.',
  check({ parts }) {
    return parts.flatMap((part) => part.terminals.flatMap(({ id, marking }) =>
      marking === undefined || meaningsOfMarking(marking).length > 0 ? [] : [{ where: part.id, words: `terminal ${id}: marking ${marking} is not listed` }]));
  },
};
