import { TABS } from '../reference/index.ts';
import type { LintRule } from './lint-rule.ts';

export const tabStandard: LintRule = {
  name: 'tab-standard',
  description: 'Every tab has a standard width, and thickness where given (IEC 61210 sizes).',
  check({ parts }) {
    return parts.flatMap((part) => part.terminals.flatMap(({ id, tabWidthMm, tabThicknessMm }) =>
      tabWidthMm === undefined || TABS.some((tab) => tab.widthMm === tabWidthMm && (tabThicknessMm === undefined || tab.thicknessMm === tabThicknessMm))
        ? [] : [{ where: part.id, words: `terminal ${id}: tab ${tabWidthMm}${tabThicknessMm === undefined ? '' : ` x ${tabThicknessMm}`} mm is no standard size` }]));
  },
};
