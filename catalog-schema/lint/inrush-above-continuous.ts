import { eachElement } from './each-element.ts';
import type { LintRule } from './lint-rule.ts';

export const inrushAboveContinuous: LintRule = {
  name: 'inrush-above-continuous',
  description: "A contact's inrush rating is not below its continuous one.",
  check({ parts }) {
    return eachElement(parts).flatMap(({ part, element }) =>
      element.kind === 'contact' && element.inrushA !== undefined && element.continuousA !== undefined && element.inrushA < element.continuousA
        ? [{ where: part.id, words: `contact ${element.id}: inrush ${element.inrushA} A below continuous ${element.continuousA} A` }] : []);
  },
};
