import type { LintRule } from './lint-rule.ts';

export const toldApart: LintRule = {
  name: 'told-apart',
  description: 'No part is another in everything but its id.',
  check({ parts }) {
    const first = new Map<string, string>();
    return parts.flatMap((part) => {
      const { id, ...rest } = part;
      const all = JSON.stringify(rest, (_, value: unknown) => sortKeys(value));
      const twin = first.get(all);
      first.set(all, twin ?? id);
      return twin === undefined ? [] : [{ where: id, words: `the same as ${twin} in everything but its id` }];
    });
  },
};

function sortKeys(value: unknown): unknown {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return value;
  return Object.fromEntries(Object.entries(value).toSorted(([a], [b]) => (a < b ? -1 : 1)));
}
