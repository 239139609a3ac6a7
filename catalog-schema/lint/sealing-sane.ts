import type { LintRule } from './lint-rule.ts';

export const sealingSane: LintRule = {
  name: 'sealing-sane',
  description: 'A sealing code says something, and what withstands immersion keeps dust out too (common practice, no source).',
  check({ parts }) {
    return parts.flatMap((part) => {
      const [, first, second] = /^IP(.)(.)/.exec(part.sealing ?? '') ?? [];
      if (first === 'X' && second === 'X') return [{ where: part.id, words: `${part.sealing} says nothing` }];
      const immersed = second !== undefined && '789'.includes(second);
      return immersed && first !== undefined && '01234'.includes(first) ? [{ where: part.id, words: `${part.sealing}: withstands immersion, and lets dust in` }] : [];
    });
  },
};
