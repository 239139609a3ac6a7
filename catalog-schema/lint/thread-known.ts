import { THREADS } from '../reference/index.ts';
import { readThread } from '../thread/index.ts';
import type { LintRule } from './lint-rule.ts';

export const threadKnown: LintRule = {
  name: 'thread-known',
  description: 'Every thread is one of the reference table, written with its pitch where inch sizes leave it open.',
  check({ parts }) {
    return parts.flatMap((part) => part.terminals.flatMap(({ id, thread: written }) => {
      if (written === undefined) return [];
      const thread = readThread(written);
      if (thread === undefined || !THREADS.some((row) => row.name === thread.name)) return [{ where: part.id, words: `terminal ${id}: thread ${written} is not in the table` }];
      return thread.pitchAssumed ? [{ where: part.id, words: `terminal ${id}: thread ${written} leaves the pitch open` }] : [];
    }));
  },
};
