import type { Terminal } from '../part.ts';
import { readThread } from '../thread/index.ts';
import type { LintRule } from './lint-rule.ts';

export const terminalsApart: LintRule = {
  name: 'terminals-apart',
  description: 'No two terminals stand in one another.',
  check({ parts }) {
    return parts.flatMap((part) => part.terminals.flatMap((one, i) => part.terminals.slice(i + 1).flatMap((other) => {
      if (!one.at || !other.at) return [];
      const gap = Math.hypot(one.at.xMm - other.at.xMm, one.at.yMm - other.at.yMm);
      return gap >= (sizeOf(one) + sizeOf(other)) / 2 ? [] : [{ where: part.id, words: `terminals ${one.id} and ${other.id} stand ${gap.toFixed(1)} mm apart` }];
    })));
  },
};

/** How much of the face a terminal takes, mm: its thread or its tab; a pin or an unknown one a millimetre. */
function sizeOf(terminal: Terminal): number {
  if (terminal.thread !== undefined) return readThread(terminal.thread)?.majorMm ?? 1;
  return terminal.tabWidthMm ?? 1;
}
