import type { LintRule } from './lint-rule.ts';

export const numberOnce: LintRule = {
  name: 'number-once',
  description: 'No issuer gives one number to two parts.',
  check({ parts }) {
    const owners = new Map<string, string>();
    return parts.flatMap((part) => (part.numbers ?? []).flatMap(({ issuer, number }) => {
      // Case and separators do not tell two numbers apart at a counter.
      const key = JSON.stringify([issuer, number.toUpperCase().replace(/[\s./-]/g, '')]);
      const owner = owners.get(key);
      owners.set(key, owner ?? part.id);
      return owner === undefined || owner === part.id ? [] : [{ where: part.id, words: `number ${number} of ${issuer} is also that of ${owner}` }];
    }));
  },
};
