import { describeSetting, settingOf } from '../settings.ts';
import { chiSquareTail, logGamma } from './gamma-function.ts';

/** Units of a part demanded in each of some periods of one length, oldest first. */
export interface DemandCounts { readonly id: string; readonly counts: readonly number[] }

/**
 * What is believed of a part's demand. The rate is a gamma distribution: `shape` / `days` units a day. Demand at a given rate is Poisson where
 * `dispersion` is 1, else negative binomial with that variance over mean.
 */
export interface DemandRate {
  readonly id: string;
  readonly shape: number;
  readonly days: number;
  readonly model: 'poisson' | 'negative-binomial';
  readonly dispersion: number;
  /** index of dispersion test of the part's own counts; undefined where nothing was demanded */
  readonly test: { readonly statistic: number; readonly freedom: number; readonly p: number } | undefined;
  /** whose counts decided: the part's own, or those of all parts together, which its own are too few for */
  readonly decidedBy: 'own' | 'all';
}

/**
 * Demand rates from counted demand. Poisson is kept unless the index of dispersion test (sum of squared deviations over the mean against
 * chi-square; Fisher, Statistical Methods for Research Workers, from memory) rejects it; then the dispersion is that of greatest
 * likelihood. A part with too few units to tell takes the dispersion that all such parts show together, where that is above 1. The rate's
 * prior is a gamma distribution with the mean and the variance that the parts have among them (empirical Bayes), so that a part nobody asked
 * for yet is not taken for one that nobody ever will.
 */
export function learnDemand(items: readonly DemandCounts[], periodDays: number): { readonly rates: DemandRate[]; readonly assumptions: string[] } {
  const level = settingOf('dispersionLevel');
  const enough = settingOf('dispersionUnits');
  const tests = items.map(({ counts }) => testDispersion(counts));
  const few = items.map(({ counts }) => sum(counts) < enough);
  const pooled = poolDispersion(tests.filter((_test, index) => few[index]), level);
  const assumptions = [describeSetting('dispersionLevel')];
  if (few.some(Boolean)) assumptions.push(describeSetting('dispersionUnits'));
  const spread = items.map(({ counts }, index) => {
    const test = tests[index];
    if (few[index]) return pooled;
    return test && test.p < level ? fitDispersion(counts) : 1;
  });
  const prior = learnPrior(items, spread, periodDays);
  assumptions.push(...prior.assumptions);
  const rates = items.map(({ id, counts }, index): DemandRate => {
    const dispersion = spread[index]!;
    return {
      id, dispersion, test: tests[index], decidedBy: few[index] ? 'all' : 'own', model: dispersion > 1 ? 'negative-binomial' : 'poisson',
      // A count that scatters more tells less of the rate, by its dispersion.
      shape: prior.shape + sum(counts) / dispersion, days: prior.days + counts.length * periodDays / dispersion,
    };
  });
  return { rates, assumptions };
}

export function testDispersion(counts: readonly number[]): DemandRate['test'] {
  const mean = sum(counts) / counts.length;
  if (counts.length < 2 || mean === 0) return undefined;
  const statistic = counts.reduce((total, count) => total + (count - mean) ** 2, 0) / mean;
  const freedom = counts.length - 1;
  return { statistic, freedom, p: chiSquareTail(freedom, statistic) };
}

/** The dispersion that many parts show together: the statistics add up, and so do their degrees of freedom. */
function poolDispersion(tests: readonly DemandRate['test'][], level: number): number {
  const [statistic, freedom] = tests.reduce<[number, number]>(([total, free], test) => (test ? [total + test.statistic, free + test.freedom] : [total, free]), [0, 0]);
  if (freedom === 0 || chiSquareTail(freedom, statistic) >= level) return 1;
  return Math.max(1, statistic / freedom);
}

/** Variance over mean of greatest likelihood for negative binomial counts, their mean being the sample's. */
export function fitDispersion(counts: readonly number[]): number {
  const mean = sum(counts) / counts.length;
  const logLikelihood = (logShape: number): number => {
    const shape = Math.exp(logShape);
    return counts.reduce((total, count) => total + logGamma(count + shape) - logGamma(shape) + shape * Math.log(shape / (shape + mean)) + count * Math.log(mean / (shape + mean)), 0);
  };
  let [low, high] = [Math.log(mean / 50), Math.log(mean * 1000)];
  const golden = (Math.sqrt(5) - 1) / 2;
  for (let step = 0; step < 60; step++) {
    const [left, right] = [high - golden * (high - low), low + golden * (high - low)];
    if (logLikelihood(left) < logLikelihood(right)) low = left;
    else high = right;
  }
  return 1 + mean / Math.exp((low + high) / 2);
}

/** Gamma prior of the rate a day: the parts' own mean, and their variance less what chance alone gives. */
function learnPrior(items: readonly DemandCounts[], dispersions: readonly number[], periodDays: number): { shape: number; days: number; assumptions: string[] } {
  const known = items.map(({ counts }, index) => ({ rate: sum(counts) / (counts.length * periodDays), chance: dispersions[index]! / (counts.length * periodDays) }))
    .filter(({ rate }) => Number.isFinite(rate));
  const mean = sum(known.map(({ rate }) => rate)) / known.length;
  const least = settingOf('demandPriorShape');
  if (known.length < settingOf('demandPriorParts') || !(mean > 0)) {
    const assumptions = [describeSetting('demandPriorParts'), describeSetting('demandPriorShape'), describeSetting('demandPriorPerYear')];
    return { shape: least, days: least / (settingOf('demandPriorPerYear') / 365), assumptions };
  }
  const variance = sum(known.map(({ rate }) => (rate - mean) ** 2)) / (known.length - 1) - sum(known.map(({ chance }) => chance)) / known.length * mean;
  const shape = variance > 0 ? Math.min(20, Math.max(least, mean ** 2 / variance)) : 20;
  return { shape, days: shape / mean, assumptions: [] };
}

function sum(values: readonly number[]): number { return values.reduce((total, each) => total + each, 0); }
