import type { BenchRecord, IdentifyAnswer } from '../../../catalog-schema/index.ts';
import { COPPER_ALPHA_20C } from '../../../catalog-schema/reference/index.ts';
import { describeSetting, settingOf } from '../settings.ts';
import type { BenchReading } from './bench-readings.ts';
import { checkMarkedVolts, type CoilRead } from './check-marked-volts.ts';
import { powerOf, voltsGivenOhms, voltsPrior } from './coil-prior.ts';
import { likeOf } from './integrate-ohms.ts';
import type { CoilClass } from './forms.ts';
import { pointOf, type FormFound } from './gather-circuits.ts';
import { roundMicro, roundShares } from './posterior.ts';
import { showNumber } from './read-measured.ts';
import type { Said } from './said.ts';
import { showReading } from './weigh-forms.ts';

const LEAST_WARMTH = 0.1;

/** What a copper coil's ohms at the bench are times those at 20 C: R = R20 (1 + 0.00393 (T - 20)) (IEC 60028). */
export function warmth(record: BenchRecord): number {
  // The line is only good about room temperature; far below it would turn negative.
  return Math.max(LEAST_WARMTH, 1 + COPPER_ALPHA_20C * ((record.benchC ?? 20) - 20));
}

/** A coil whose ohms the readings settle. */
interface KnownCoil extends CoilRead { readonly between: [string, string] }

/** A coil is known once its logarithm is known to this; its class alone leaves 0.4. */
const KNOWN_SPREAD = 0.2;
/** an explanation with less than this does not make a caution, nor do a hundred like it */
const LEAST_FAULT = 1e-4;
/** a reading further than this from the coil's ohms is of something else, sigma */
const FAR = 4;

/**
 * The coils of the likeliest form whose ohms were read, at 20 C, with the nominal voltage that their power suits and what they draw at
 * the machine's.
 */
export function findCoils(record: BenchRecord, found: FormFound | undefined, points: readonly string[], readings: readonly BenchReading[], said: Said): IdentifyAnswer['coils'] {
  if (!found) return [];
  const coils = knownCoils(record, found, points, readings);
  if (coils.length === 0) return [];
  if (record.benchC === undefined) said.assumptions.add('20 C: temperature of the coil when measured, since benchC is not given');
  checkMarkedVolts(record, coils, classesOf(found), said);
  const volts = nominalVolts(record, found, coils);
  if (record.marked?.coilV === undefined) {
    said.assumptions.add(describeSetting('machineVoltsShare'));
    for (const { watts } of coils) for (const name of powerOf(found.best.hypothesis.coilClass, watts)) said.assumptions.add(describeSetting(name));
  }
  const shares = roundShares(volts.map(({ share }) => share));
  const nominalV = volts.map((each, i) => ({ volts: each.volts, probability: shares[i]! })).filter(({ probability }) => probability > 0)
    .toSorted((a, b) => b.probability - a.probability || a.volts - b.volts);
  const { nominalV: machineV } = record.system;
  return coils.map(({ between, ohmAt20C }) => ({
    between, ohmAt20C: roundMicro(ohmAt20C), nominalV, amps: roundMicro(machineV / ohmAt20C), watts: roundMicro((machineV * machineV) / ohmAt20C),
  }));
}

/** The likeliest nominal voltage of a form's coils. */
export function likeliestVolts(record: BenchRecord, found: FormFound, points: readonly string[], readings: readonly BenchReading[]): number {
  return nominalVolts(record, found, knownCoils(record, found, points, readings)).reduce((best, each) => (each.share > best.share ? each : best)).volts;
}

function nominalVolts(record: BenchRecord, found: FormFound, coils: readonly KnownCoil[]): { volts: number; share: number }[] {
  const prior = voltsPrior(record);
  const mixed = prior.map(({ volts }) => ({ volts, share: 0 }));
  for (const [coilClass, share] of classesOf(found)) {
    voltsGivenOhms(prior, coilClass, coils).forEach((each, i) => { mixed[i]!.share += share * each.share; });
  }
  return mixed;
}

/** How likely each class is, given the form. */
function classesOf({ own, share: total }: FormFound): Map<CoilClass, number> {
  const classes = new Map<CoilClass, number>();
  for (const { hypothesis, share } of own) classes.set(hypothesis.coilClass, (classes.get(hypothesis.coilClass) ?? 0) + share / total);
  return classes;
}

function knownCoils(record: BenchRecord, found: FormFound, points: readonly string[], readings: readonly BenchReading[]): KnownCoil[] {
  const { hypothesis } = found.best;
  const { variant, nodeOf, ohms } = hypothesis;
  const { condition } = variant;
  return variant.coils.flatMap((coil, index) => {
    const { ohm, spread } = ohms.coils[index]!;
    if (!(spread < KNOWN_SPREAD) || (condition.fault === 'open-coil' && condition.element === coil.id)) return [];
    const own = index === 0 ? 'first' : 'second';
    const direct = readings.flatMap((reading) => {
      const [shown] = showReading(variant, nodeOf, reading);
      if (shown.kind !== 'ohms' || shown.shape !== own || reading.open) return [];
      const read = { index: reading.index, ohm: reading.value / shown.factor, sigma: reading.sigma / shown.factor };
      return Math.abs(read.ohm - ohm) <= FAR * read.sigma ? [read] : [];
    });
    const known = direct.reduce((sum, { sigma }) => sum + 1 / sigma ** 2, 0);
    const bench = direct.length > 0 ? direct.reduce((sum, read) => sum + read.ohm / read.sigma ** 2, 0) / known : ohm;
    const between: [string, string] = [pointOf(hypothesis, points, coil.between[0]), pointOf(hypothesis, points, coil.between[1])];
    // Where only the sum of two windings was read, any reading of either counts.
    const telling = direct.length > 0 ? direct : readings.filter((reading) => showReading(variant, nodeOf, reading)[0].kind === 'ohms');
    return [{ between, ohmAt20C: bench / warmth(record), watts: coil.watts, readings: telling.map((each) => each.index) }];
  });
}

/** Coils that are burnt through, contacts that are burnt or welded, readings within the meter's error. */
export function noteFaults(found: readonly FormFound[], points: readonly string[], readings: readonly BenchReading[], said: Said): void {
  const faults = new Map<string, number>();
  for (const { own } of found) {
    for (const { hypothesis, share } of own) {
      const { condition, form } = hypothesis.variant;
      if (condition.fault === 'none' || share < LEAST_FAULT) continue;
      const element = form.elements.find((each) => 'id' in each && each.id === condition.element);
      if (!element || !('between' in element)) continue;
      const ends = element.between.map((node) => pointOf(hypothesis, points, node)).toSorted();
      if (ends.some((end) => !points.includes(end))) continue;
      const key = JSON.stringify([condition.fault, ...ends]);
      faults.set(key, (faults.get(key) ?? 0) + share);
    }
  }
  const readOpen = new Set(readings.filter(({ open }) => open).map(({ a, b }) => [points[a]!, points[b]!].toSorted().join('\n')));
  for (const [key, share] of [...faults].toSorted(([a, x], [b, y]) => y - x || (a < b ? -1 : 1))) {
    const [fault, one, two] = JSON.parse(key) as [string, string, string];
    const where = `between ${one} and ${two}`;
    if (fault === 'open-coil' && readOpen.has(`${one}\n${two}`)) {
      if (share > 0.5) said.cautions.add(`Open ${where}, where the coil lies: it is burnt through.`);
      else if (share > 0.03) said.cautions.add(`Open ${where}: if the coil lies there, it is burnt through.`);
    }
    if (fault === 'stuck-open' && share > 0.5) said.cautions.add(`The contact ${where} does not close with the coil held in: burnt away, or the plunger does not move.`);
    if (fault === 'stuck-closed' && share > 0.5) said.cautions.add(`The contact ${where} is closed at rest: welded. What it feeds would run as soon as the battery is on, and not stop.`);
  }
}

/** Readings of a coil that lie within the meter's error of nothing. */
export function noteLowReadings(readings: readonly BenchReading[], points: readonly string[], said: Said): void {
  for (const { open, value, sigma, a, b } of readings) {
    if (!open && value >= settingOf('leastCoilOhm') && value <= 2 * sigma) {
      said.cautions.add(`${showNumber(value)} Ohm between ${points[a]} and ${points[b]} is within the error of the meter: use volts over amps.`);
    }
  }
}

/** For each reading, the share of the probability under which it is a slip. */
export function slipsOf({ variant, nodeOf, ohms }: FormFound['best']['hypothesis'], readings: readonly BenchReading[]): number[] {
  return readings.map((reading) => {
    const [shown] = showReading(variant, nodeOf, reading);
    const log = shown.kind === 'open' ? reading.logOpen : shown.kind === 'joint' ? reading.logJoint
      : Math.log(likeOf({ reading, shown }, ohms.coils[0]!.ohm, ohms.coils[1]?.ohm ?? 0));
    return Math.min(1, Math.exp(reading.logSlip - log));
  });
}
