import type { LintRule } from './lint-rule.ts';

export const breaksFall: LintRule = {
  name: 'breaks-fall',
  description: 'A larger quantity costs less a piece.',
  check({ shop }) {
    return (shop?.offers ?? []).flatMap((offer, index) => (offer.breaks ?? []).flatMap((step, j, all) => {
      const before = all[j - 1]?.price ?? offer.price;
      return step.price < before ? [] : [{ where: `offers[${index}]`, words: `${offer.partId}: ${step.price} from ${step.minQty} on is not below ${before}` }];
    }));
  },
};
