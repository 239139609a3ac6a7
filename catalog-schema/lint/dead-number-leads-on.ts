import type { LintRule } from './lint-rule.ts';

export const deadNumberLeadsOn: LintRule = {
  name: 'dead-number-leads-on',
  description: 'Every superseded part leads to at least one part that is current.',
  check({ parts }) {
    const byId = new Map(parts.map((part) => [part.id, part]));
    return parts.flatMap((part) => {
      if (part.supersededBy === undefined) return [];
      const seen = new Set([part.id]);
      const open = [...part.supersededBy];
      for (let id = open.pop(); id !== undefined; id = open.pop()) {
        const next = byId.get(id);
        if (!next || seen.has(id)) continue;
        if (next.supersededBy === undefined) return [];
        seen.add(id);
        open.push(...next.supersededBy);
      }
      return [{ where: part.id, words: 'superseded, and no current part follows' }];
    });
  },
};
