import type { LintFault, LintRule } from './lint-rule.ts';

export const shopPartsExist: LintRule = {
  name: 'shop-parts-exist',
  description: 'Shelf and offers name parts of the catalogue.',
  check({ parts, shop }) {
    const known = new Set(parts.map((part) => part.id));
    const missing = (list: string, entries: readonly { partId: string }[]): Omit<LintFault, 'rule'>[] =>
      entries.flatMap(({ partId }, index) => (known.has(partId) ? [] : [{ where: `${list}[${index}]`, words: `no part ${partId}` }]));
    return [...missing('shelf', shop?.shelf ?? []), ...missing('offers', shop?.offers ?? [])];
  },
};
