import { Draws } from '../sim-identify/random.ts';

/** A part as it is, which nobody knows: how much of it is wanted, how it comes in lots, how long its orders take. */
export interface TruePart {
  readonly id: string;
  /** occasions a day on which it is wanted */
  readonly occasionsPerDay: number;
  /** chance that one more unit is wanted on the same occasion */
  readonly another: number;
  /** how much the year swings, 0 to 1 */
  readonly season: number;
  readonly unitCost: number;
  readonly leadStated: number;
  /** lead days as they are: mean, and the sigma of their logarithm */
  readonly leadMean: number;
  readonly leadSpread: number;
}

/**
 * Slow movers of a shop. Not the engine's own distributions: rates are log-normal, where it takes them for gamma; lots are geometric for a
 * quarter of the parts, the year swings for a fifth, lead times are log-normal and a little longer than stated.
 */
export function drawParts(draws: Draws, count: number): TruePart[] {
  return Array.from({ length: count }, (_, index) => {
    const leadStated = draws.pick([1, 2, 2, 3, 5, 8, 14]);
    return {
      id: `p${index}`, occasionsPerDay: Math.exp(draws.normal() * 1.2) * 4 / 365, another: draws.chance(0.25) ? draws.between(0.2, 0.55) : 0,
      season: draws.chance(0.2) ? draws.between(0.2, 0.7) : 0, unitCost: draws.logBetween(6, 160), leadStated,
      leadMean: leadStated * draws.between(0.9, 1.25), leadSpread: draws.between(0.1, 0.4),
    };
  });
}

/** Units wanted on a day, counted from the first of January. */
export function drawDemand(draws: Draws, part: TruePart, day: number): number {
  const rate = part.occasionsPerDay * (1 + part.season * Math.sin(2 * Math.PI * day / 365));
  let units = 0;
  for (let occasion = drawPoisson(draws, rate); occasion > 0; occasion--) {
    units++;
    while (draws.chance(part.another)) units++;
  }
  return units;
}

export function drawLead(draws: Draws, part: TruePart): number {
  return Math.max(0, Math.round(part.leadMean * Math.exp(part.leadSpread * draws.normal() - part.leadSpread ** 2 / 2)));
}

/** By counting exponential steps: rates here are small. */
function drawPoisson(draws: Draws, mean: number): number {
  const least = Math.exp(-mean);
  let count = 0;
  for (let product = draws.unit(); product > least; product *= draws.unit()) count++;
  return count;
}
