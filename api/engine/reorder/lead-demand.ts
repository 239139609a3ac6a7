import { listNegativeBinomial, listPoisson, NormalLaw, TableLaw, type DemandLaw } from './demand-law.ts';
import type { DemandRate } from './demand-rate.ts';
import { logGamma } from './gamma-function.ts';

/** Demand of more units than this is taken to be normal: tables would only be long. */
const MOST_IN_TABLE = 2000;

/**
 * Demand over a lead time and a review, whose length and whose rate are not certain. At a given length, Poisson demand at a gamma-distributed
 * rate is negative binomial exactly; negative binomial demand is given the same mean and variance. The lead time is a gamma distribution of
 * the given mean and spread, on whole days.
 */
export function findLeadDemand(rate: Pick<DemandRate, 'shape' | 'days' | 'dispersion'>, lead: { readonly meanDays: number; readonly sdDays: number }, reviewDays: number): DemandLaw {
  const lengths = listLengths(lead.meanDays, lead.sdDays).map(({ days, weight }) => ({ days: days + reviewDays, weight }));
  const perDay = rate.shape / rate.days;
  const meanDays = lengths.reduce((sum, { days, weight }) => sum + weight * days, 0);
  const mean = perDay * meanDays;
  if (mean > MOST_IN_TABLE) {
    const variance = lengths.reduce((sum, { days, weight }) => sum + weight * (perDay * days * (rate.dispersion + days / rate.days) + (perDay * (days - meanDays)) ** 2), 0);
    return new NormalLaw(mean, Math.sqrt(variance));
  }
  const probabilities: number[] = [];
  for (const { days, weight } of lengths) {
    const dispersion = rate.dispersion + days / rate.days;
    const list = dispersion > 1 ? listNegativeBinomial(perDay * days, dispersion) : listPoisson(perDay * days);
    list.forEach((each, units) => { probabilities[units] = (probabilities[units] ?? 0) + weight * each; });
  }
  return new TableLaw(probabilities);
}

/** Lead times in whole days with their weights. */
function listLengths(meanDays: number, sdDays: number): { readonly days: number; readonly weight: number }[] {
  if (meanDays === 0 || sdDays === 0) return [{ days: meanDays, weight: 1 }];
  const shape = (meanDays / sdDays) ** 2;
  const scale = meanDays / shape;
  const lengths: { days: number; weight: number }[] = [];
  const step = Math.max(1, Math.ceil(sdDays / 5));
  for (let days = 0; days <= meanDays + 6 * sdDays + 1; days += step) {
    const at = Math.max(days, 0.25);
    lengths.push({ days, weight: Math.exp((shape - 1) * Math.log(at) - at / scale - shape * Math.log(scale) - logGamma(shape)) });
  }
  const total = lengths.reduce((sum, { weight }) => sum + weight, 0);
  return lengths.map(({ days, weight }) => ({ days, weight: weight / total })).filter(({ weight }) => weight > 1e-9);
}
