import { describeSetting, settingOf } from '../settings.ts';

/** What is believed of a supplier's lead time before any receipt was seen. */
export interface LeadTimePrior {
  /** the stated lead days */
  readonly meanDays: number;
  /** standard deviation of one lead time about it, days; of the stated days where absent */
  readonly sdDays?: number;
  /** what the stated days weigh, in receipts */
  readonly receipts?: number;
}

/** What is to be expected of the next order. */
export interface LeadTime {
  /** receipts seen */
  readonly n: number;
  readonly meanDays: number;
  /** standard deviation of the next order's lead time, days: its own spread, and what is not known of mean and spread yet */
  readonly sdDays: number;
  readonly assumptions: readonly string[];
}

/**
 * A supplier's lead time from the receipts seen and from what it states. Lead times are taken to be normal with unknown mean and variance;
 * prior and posterior are normal-inverse-gamma, and the spread is that of the posterior predictive Student distribution (conjugate analysis
 * of normal data, Gelman et al., Bayesian Data Analysis, section 3.3; from memory). With no receipt it is the prior; with many, the sample's.
 * @param days lead time of each receipt, in the days the offer states its own in, 0 or more
 */
export function learnLeadTime(days: readonly number[], prior: LeadTimePrior): LeadTime {
  const assumptions: string[] = [];
  const use = (name: 'leadSpread' | 'leadSpreadLeastDays' | 'leadPriorReceipts'): number => {
    assumptions.push(describeSetting(name));
    return settingOf(name);
  };
  const weight = prior.receipts ?? use('leadPriorReceipts');
  const sd = prior.sdDays ?? Math.max(use('leadSpread') * prior.meanDays, use('leadSpreadLeastDays'));
  const n = days.length;
  const mean = n === 0 ? 0 : days.reduce((sum, each) => sum + each, 0) / n;
  const squares = days.reduce((sum, each) => sum + (each - mean) ** 2, 0);
  const total = weight + n;
  const meanDays = (weight * prior.meanDays + n * mean) / total;
  // The prior's degrees of freedom are chosen so that with no receipt the predictive spread is `sd` itself.
  const freedom = weight + 2;
  const spread = sd ** 2 * weight ** 2 / (weight + 1);
  const sum = spread + squares + weight * n / total * (mean - prior.meanDays) ** 2;
  const predictive = sum * (total + 1) / (total * (freedom + n - 2));
  return { n, meanDays, sdDays: Math.sqrt(predictive), assumptions };
}
