import { INSTRUMENTS, PEAK_OF_ZONE, STRAY_NUTS, TRUE_THREADS, type Instrument, type StudReadings, type TrueThread } from './stud-world.ts';

/** Steps of the mid-point rule over a zone; the zones are a few sigma wide. */
const STEPS = 60;

/**
 * The best anybody can do: Bayes' rule with the very shares, zones and instruments the studs were drawn with, by plain numerical
 * integration. Probabilities in the order of `TRUE_THREADS`.
 */
export function weighIdeally(readings: StudReadings): number[] {
  const weights = TRUE_THREADS.map((thread) => Object.entries(readings).reduce(
    (product, [instrument, mm]) => product * likelihoodOf(thread, instrument as Instrument, mm), thread.weight));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  return weights.map((weight) => weight / total);
}

function likelihoodOf(thread: TrueThread, instrument: Instrument, mm: number): number {
  switch (instrument) {
    case 'caliper': return integrate(thread.leastMm, thread.mostMm, triangle, mm, 'caliper');
    case 'pitch': return bell(mm - thread.pitchMm, 'pitch');
    case 'nut': {
      const stray = integrate(STRAY_NUTS.leastMm, STRAY_NUTS.mostMm, () => 1, mm, 'nut');
      if (thread.nuts.length === 0) return stray;
      const total = thread.nuts.reduce((sum, { weight }) => sum + weight, 0);
      const listed = thread.nuts.reduce((sum, { leastMm, mostMm, weight }) => sum + weight / total * integrate(leastMm, mostMm, () => 1, mm, 'nut'), 0);
      return STRAY_NUTS.share * stray + (1 - STRAY_NUTS.share) * listed;
    }
    default: throw new TypeError(`no likelihood for ${instrument satisfies never}`);
  }
}

/** Density over the zone, 0 to 1, of where in it a thread is made. */
function triangle(place: number): number {
  return 2 * (place < PEAK_OF_ZONE ? place / PEAK_OF_ZONE : (1 - place) / (1 - PEAK_OF_ZONE));
}

function bell(differenceMm: number, instrument: Instrument): number {
  const { offMm, sigmaMm } = INSTRUMENTS[instrument];
  return Math.exp(-0.5 * ((differenceMm - offMm) / sigmaMm) ** 2) / (sigmaMm * Math.sqrt(2 * Math.PI));
}

function integrate(leastMm: number, mostMm: number, density: (place: number) => number, mm: number, instrument: Instrument): number {
  const steps = Math.max(STEPS, Math.ceil((mostMm - leastMm) / (INSTRUMENTS[instrument].sigmaMm / 2)));
  let sum = 0;
  for (let i = 0; i < steps; i++) {
    const place = (i + 0.5) / steps;
    sum += density(place) * bell(mm - (leastMm + (mostMm - leastMm) * place), instrument);
  }
  return sum / steps;
}
