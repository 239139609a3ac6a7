import type { LintRule } from './lint-rule.ts';

export const hasTitle: LintRule = {
  name: 'has-title',
  description: 'Every part has a title a person can read.',
  check({ parts }) {
    return parts.filter((part) => part.title.trim() === '').map((part) => ({ where: part.id, words: 'no title' }));
  },
};
