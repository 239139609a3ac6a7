import type { BenchRecord } from '../../../catalog-schema/index.ts';
import { describeSetting, settingOf } from '../settings.ts';
import type { BenchReading } from './bench-readings.ts';
import type { Shown } from './form-variants.ts';
import { ohmOfShape } from './form-variants.ts';
import type { Weighed } from './gather-circuits.ts';
import { bitsOf, normalise, roundMicro } from './posterior.ts';
import type { Said } from './said.ts';
import type { Hypothesis } from './weigh-forms.ts';

type Probe = Pick<BenchReading, 'a' | 'b' | 'held' | 'plus'>;

/** Explanations rarer than this beside the best do not change what a reading is expected to tell. */
const LEAST_OF_BEST = 1e-3;
/** while next to nothing is known there are thousands of explanations; this many speak for them */
const MOST_COMPARED = 240;
/** a longer list helps nobody */
const MOST_ASKED = 16;
/** ohms known better than this (sigma of the logarithm) are told from others; worse, they are just a winding */
const KNOWN_SPREAD = 0.2;
/** windings closer than this, in e-folds, read alike */
const ALIKE = 0.08;

/**
 * Ohm readings not taken that would tell forms and roles apart: the expected drop of their entropy, in bits, less the bother. How a
 * part is broken is no part of what is open, it only blurs what a reading tells.
 */
export function openOhmReadings(record: BenchRecord, weighed: readonly Weighed[], points: readonly string[], readings: readonly BenchReading[], said: Said): void {
  const best = weighed[0]!.share;
  const likely = mergeAlike(weighed.filter(({ share }) => share >= best * LEAST_OF_BEST)).toSorted((a, b) => b.share - a.share).slice(0, MOST_COMPARED);
  const shares = normalise(likely.map(({ share }) => share));
  const hypotheses = likely.map(({ hypothesis }) => hypothesis);
  const targets = new Map<string, number>();
  const targetOf = likely.map(({ hypothesis, label }) => numberOf(targets, `${hypothesis.variant.form.name}|${label}`));
  const taken = new Set(readings.map(probeKey));
  const volts = record.marked?.coilV === undefined;
  // Nobody can hold a coil in before it is found.
  const states = readings.some(({ open, value }) => !open && value >= settingOf('leastCoilOhm')) ? [false, true] : [false];
  const listed: { what: string; symbols: number[]; worth: number }[] = [];
  for (let a = 0; a < points.length; a++) {
    for (let b = a + 1; b < points.length; b++) {
      for (const held of states) {
        const byMeter = symbolsOf(hypotheses, { a, b, held, plus: 'meter' });
        for (const plus of ['meter', 'a', 'b'] as const) {
          const probe = { a, b, held, plus };
          if (taken.has(probeKey(probe))) continue;
          const symbols = plus === 'meter' ? byMeter : symbolsOf(hypotheses, probe);
          // Where no diode would show, a supply says what a meter says.
          if (plus !== 'meter' && symbols.every((symbol, i) => symbol === byMeter[i])) continue;
          let bits = tellBits(shares, symbols, targetOf, targets.size);
          // A winding read for the first time also tells the nominal voltage.
          const first = volts && plus === 'meter' && !held ? symbols.reduce((sum, symbol, i) => sum + (symbol === WINDING ? shares[i]! : 0), 0) : 0;
          bits += settingOf('bitsOfFirstWinding') * first;
          const bother = (plus === 'meter' ? settingOf('botherOfMeter') : settingOf('botherOfSupply')) + (held ? settingOf('botherOfHolding') : 0);
          const worth = roundMicro(bits - bother);
          if (worth <= 0) continue;
          said.assumptions.add(describeSetting(plus === 'meter' ? 'botherOfMeter' : 'botherOfSupply'));
          if (held) said.assumptions.add(describeSetting('botherOfHolding'));
          if (first > 0) said.assumptions.add(describeSetting('bitsOfFirstWinding'));
          listed.push({ what: sayProbe(probe, points), symbols, worth });
        }
      }
    }
  }
  listed.sort((x, y) => y.worth - x.worth || (x.what < y.what ? -1 : 1));
  for (const { what, symbols, worth } of listed.slice(0, MOST_ASKED)) said.open.push({ what, why: sayWhy(likely, shares, symbols), worth });
}

/** Explanations that differ in class or resistor alone show the same: one of them stands for all. */
function mergeAlike(weighed: readonly Weighed[]): Weighed[] {
  const merged = new Map<string, Weighed>();
  for (const each of weighed) {
    const { variant, nodeOf } = each.hypothesis;
    const key = `${variant.form.name}|${variant.condition.fault}|${variant.condition.fault === 'none' ? '' : variant.condition.element}|${nodeOf.join()}`;
    const own = merged.get(key);
    merged.set(key, own ? { ...own, share: own.share + each.share } : each);
  }
  return [...merged.values()];
}

/** One key a probe, whichever end is named first. */
function probeKey({ a, b, held, plus }: Probe): string {
  const turned = a > b;
  return `${Math.min(a, b)}-${Math.max(a, b)}-${held}-${plus === 'meter' || plus === 'either' || !turned ? plus : plus === 'a' ? 'b' : 'a'}`;
}

function sayProbe({ a, b, held, plus }: Probe, points: readonly string[]): string {
  // The same words whichever way round the points are listed.
  const [one, two] = [points[a]!, points[b]!].toSorted((x, y) => (x === 'case' ? 1 : y === 'case' ? -1 : x < y ? -1 : 1));
  const by = plus === 'meter' ? 'with a meter' : `with a supply, plus on ${plus === 'a' ? points[a] : points[b]}`;
  return `read the ohms between ${one} and ${two} ${by}, ${held ? 'held in' : 'at rest'}`;
}

const OPEN = 0;
const JOINT = 1;
const WINDING = 2;

/** What each hypothesis shows for a probe, as a number: equal numbers cannot be told apart. */
function symbolsOf(hypotheses: readonly Hypothesis[], probe: Probe): number[] {
  const ohms: number[] = [];
  const side = probe.plus === 'a' ? 'first' : probe.plus === 'b' ? 'second' : 'meter';
  const symbols = hypotheses.map((hypothesis) => {
    const first = hypothesis.nodeOf[probe.a]!;
    const second = hypothesis.nodeOf[probe.b]!;
    if (first < 0 || second < 0) return OPEN;
    const shown = hypothesis.variant.show(first, second, probe.held, side);
    if (shown.kind === 'open') return OPEN;
    // With a diode on, a supply reads next to nothing.
    if (shown.kind !== 'ohms') return JOINT;
    const ohm = knownOhm(hypothesis, shown);
    if (ohm === undefined) return WINDING;
    ohms.push(ohm);
    return -ohm;
  });
  if (ohms.length === 0) return symbols;
  const sorted = ohms.toSorted((x, y) => x - y);
  const starts = sorted.filter((ohm, i) => i === 0 || Math.log(ohm / sorted[i - 1]!) > ALIKE);
  return symbols.map((symbol) => (symbol >= 0 ? symbol : 3 + starts.filter((start) => start <= -symbol).length));
}

function knownOhm({ ohms }: Hypothesis, shown: Shown): number | undefined {
  if (shown.kind !== 'ohms') return undefined;
  const [first, second] = ohms.coils;
  const needed = shown.shape === 'first' ? [first] : shown.shape === 'second' ? [second] : [first, second];
  if (needed.some((coil) => !coil || !(coil.spread < KNOWN_SPREAD))) return undefined;
  return ohmOfShape(shown.shape, shown.factor, first!.ohm, second?.ohm ?? 0);
}

/** Mutual information in bits between what is asked (form and roles) and what the reading shows. */
function tellBits(shares: readonly number[], symbols: readonly number[], targetOf: readonly number[], targets: number): number {
  const width = symbols.reduce((most, symbol) => Math.max(most, symbol), 0) + 1;
  if (width === 1) return 0;
  const joint = new Float64Array(width * targets);
  const bySymbol = new Float64Array(width);
  const byTarget = new Float64Array(targets);
  shares.forEach((share, i) => {
    joint[targetOf[i]! * width + symbols[i]!]! += share;
    bySymbol[symbols[i]!]! += share;
    byTarget[targetOf[i]!]! += share;
  });
  return Math.max(0, bitsOf(bySymbol) + bitsOf(byTarget) - bitsOf(joint));
}

/** 'it tells isolated from case-return': the likeliest form on each side of what the reading shows. */
function sayWhy(likely: readonly Weighed[], shares: readonly number[], symbols: readonly number[]): string {
  const sides = new Map<number, { total: number; forms: Map<string, number>; labels: Map<string, number> }>();
  likely.forEach(({ hypothesis, label }, i) => {
    const side = sides.get(symbols[i]!) ?? { total: 0, forms: new Map<string, number>(), labels: new Map<string, number>() };
    side.total += shares[i]!;
    for (const [counts, name] of [[side.forms, hypothesis.variant.form.name], [side.labels, label]] as const) counts.set(name, (counts.get(name) ?? 0) + shares[i]!);
    sides.set(symbols[i]!, side);
  });
  const [first, second] = [...sides.values()].map(({ total, forms, labels }) => ({ total, form: likeliest(forms), label: likeliest(labels) }))
    .toSorted((x, y) => y.total - x.total || (x.form < y.form ? -1 : 1));
  if (first && second && first.form !== second.form) return `it tells ${first.form} from ${second.form}.`;
  return second && first!.label !== second.label ? `it tells which terminals of the ${first!.form} form are which.` : 'it gives the ohms of the coil, and with them its voltage.';
}

function likeliest(counts: ReadonlyMap<string, number>): string {
  return [...counts].toSorted(([x, p], [y, q]) => q - p || (x < y ? -1 : 1))[0]![0];
}

function numberOf(numbers: Map<string, number>, key: string): number {
  const known = numbers.get(key) ?? numbers.size;
  numbers.set(key, known);
  return known;
}
