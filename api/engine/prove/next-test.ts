import { INSTRUMENT_DEFAULTS, type Observation } from '../../../catalog-schema/index.ts';
import { indexOfNode, type Situation } from './cranking-circuit.ts';
import { probabilityOf, voltsBetween, voltsUnderLoad, type States } from './evidence.ts';
import { CIRCUIT_FIGURES } from './fault-table.ts';
import type { Machine, MachineMaker } from './machine.ts';
import { CRANK_TESTS, type CrankTest } from './tests-to-do.ts';
import type { NormalDraws } from './normal-draws.ts';
import type { Draw, Weighed, Weigher } from './weigh.ts';

/** A proposed test with what it is expected to tell, in bits about which fault it is. */
export interface WeighedTest { readonly test: CrankTest; readonly bits: number }

/** So many machines stand for what is still possible. */
const MACHINES = 260;
/** Machines that stand for a possible fault at the least. */
const LEAST_OF_A_FAULT = 6;
/** Minutes that any test takes on top: to walk there, to write down, to think (common practice, no source). */
const BETWEEN_MINUTES = 1;
/** A test that tells less is not worth its bother. */
const LEAST_BITS = 0.02;
/** Readings are blurred by so much of themselves when faults are told apart: the machines that stand for a fault are few. */
const BLUR_V = 0.06;
const BLUR_SHARE = 0.04;
const SIDES = [-1.22, 0, 1.22] as const;
const SIDE_WEIGHTS = [0.3, 0.4, 0.3] as const;

interface Possible { readonly fault: number; readonly weight: number; readonly states: States; readonly machine: Machine; readonly hypothesis: Weighed['hypothesis'] }

/**
 * Every test with what it would tell: the mutual information of its outcome and the fault, over machines drawn from what is still possible.
 * A number is taken at three points of its meter's error; what is seen, at each word's probability.
 */
export function weighTests(weighed: readonly { readonly weighed: Weighed; readonly probability: number }[], weigher: Weigher, maker: MachineMaker, normals: NormalDraws, tests: readonly CrankTest[]): WeighedTest[] {
  const situations: Situation[] = ['off', 'on', 'bridged'];
  const faults = [...new Set(weighed.map(({ weighed: { hypothesis } }) => hypothesis.fault))];
  const possible: Possible[] = [];
  for (const { weighed: one, probability } of weighed) {
    const count = Math.max(probability > 1e-4 ? LEAST_OF_A_FAULT : 0, Math.round(probability * MACHINES));
    for (const draw of resample(one, count, normals)) {
      const { states, machine } = weigher.settle(draw, one.hypothesis, situations);
      possible.push({ fault: faults.indexOf(one.hypothesis.fault), weight: probability / count, states, machine: { ...machine }, hypothesis: one.hypothesis });
    }
  }
  const total = possible.reduce((sum, { weight }) => sum + weight, 0);
  const scaled = possible.map((one) => ({ ...one, weight: one.weight / total }));
  return tests.map((test) => ({ test, bits: tellOf(test, scaled, faults.length, maker.nominalV) }));
}

/** Best first: bits for each minute; what is risky only after all that is not, as long as that tells anything. */
export function rankTests(weighed: readonly WeighedTest[]): WeighedTest[] {
  const worth = ({ test, bits }: WeighedTest): number => bits / (test.minutes + BETWEEN_MINUTES);
  return weighed.filter(({ bits }) => bits >= LEAST_BITS)
    .toSorted((a, b) => Number(a.test.risk === 'high') - Number(b.test.risk === 'high') || worth(b) - worth(a) || CRANK_TESTS.indexOf(a.test) - CRANK_TESTS.indexOf(b.test));
}

function resample({ draws }: Weighed, count: number, normals: NormalDraws): Draw[] {
  const total = draws.reduce((sum, { weight }) => sum + weight, 0);
  if (count === 0 || !(total > 0)) return [];
  const picked: Draw[] = [];
  let at = normals.even() / count * total;
  let sum = 0;
  for (const draw of draws) {
    sum += draw.weight;
    while (sum > at && picked.length < count) {
      picked.push(draw);
      at += total / count;
    }
  }
  return picked;
}

function tellOf(test: CrankTest, possible: readonly Possible[], faults: number, nominalV: number): number {
  const { ask } = test;
  const share = new Float64Array(faults);
  for (const { fault, weight } of possible) share[fault]! += weight;
  switch (ask.kind) {
    case 'volts': {
      const from = indexOfNode(ask.plus);
      const to = indexOfNode(ask.minus);
      return tellOfNumber(possible, share, possible.map(({ states }) => {
        const { value, sigma } = voltsBetween(ask.startSwitch ? states.on : states.off!, from, to, nominalV);
        return { value, sigma: Math.hypot(sigma, meterSigma('voltmeter', value), BLUR_V * nominalV / 12, BLUR_SHARE * value) };
      }));
    }
    case 'amps': return tellOfNumber(possible, share, possible.map(({ states: { on } }) => ({
      value: on.batteryA, sigma: Math.hypot(2, meterSigma('clamp', on.batteryA), CIRCUIT_FIGURES.chatterShare.value * on.batterySpanA, BLUR_SHARE * on.batteryA),
    })));
    case 'battery-load': return tellOfNumber(possible, share, possible.map(({ machine }) => {
      const value = voltsUnderLoad(machine, ask.ratioOfCca, ask.seconds);
      return { value, sigma: Math.hypot(meterSigma('voltmeter', value), BLUR_V * nominalV / 12, BLUR_SHARE * value) };
    }));
    case 'sound': return tellOfWords(possible, share, ['nothing', 'one-click', 'rapid-clicks', 'hum', 'grinding'].map((heard) => ({ kind: 'sound', startSwitch: ask.startSwitch, heard }) as Observation));
    case 'crank': return tellOfWords(possible, share, ['nothing', 'slow', 'normal', 'spins-without-engaging'].map((seen) => ({ kind: 'crank', startSwitch: ask.startSwitch, seen }) as Observation));
    case 'bridge-studs': return tellOfWords(possible, share, ['nothing', 'slow', 'normal', 'spark-only'].map((seen) => ({ kind: 'bridge-studs', seen }) as Observation));
    case 'turn-by-hand': return tellOfWords(possible, share, ['free', 'stiff', 'locked'].map((seen) => ({ kind: 'turn-by-hand', seen }) as Observation));
    default: throw new Error(`no such test: ${JSON.stringify(ask satisfies never)}`);
  }
}

function meterSigma(instrument: 'voltmeter' | 'clamp', value: number): number {
  const { absolute, relative } = INSTRUMENT_DEFAULTS[instrument];
  return Math.max(absolute, relative * Math.abs(value)) / 2;
}

function tellOfNumber(possible: readonly Possible[], share: Float64Array, shown: readonly { value: number; sigma: number }[]): number {
  const order = shown.map((_, index) => index).toSorted((a, b) => shown[a]!.value - shown[b]!.value);
  const values = order.map((index) => shown[index]!.value);
  const widest = Math.max(...shown.map(({ sigma }) => sigma));
  let bits = 0;
  const density = new Float64Array(share.length);
  for (let i = 0; i < possible.length; i++) {
    const { value, sigma } = shown[i]!;
    for (let side = 0; side < SIDES.length; side++) {
      const y = value + SIDES[side]! * sigma;
      density.fill(0);
      for (let k = lowerBound(values, y - 4 * widest); k < values.length && values[k]! <= y + 4 * widest; k++) {
        const j = order[k]!;
        const other = shown[j]!;
        const off = (y - other.value) / other.sigma;
        if (off * off < 32) density[possible[j]!.fault]! += possible[j]!.weight * Math.exp(-off * off / 2) / other.sigma;
      }
      bits += possible[i]!.weight * SIDE_WEIGHTS[side]! * logRatio(density, share, possible[i]!.fault);
    }
  }
  return Math.max(0, bits);
}

function tellOfWords(possible: readonly Possible[], share: Float64Array, words: readonly Observation[]): number {
  let bits = 0;
  for (const word of words) {
    const density = new Float64Array(share.length);
    for (const { fault, weight, states, hypothesis } of possible) density[fault]! += weight * probabilityOf(word, states, hypothesis);
    for (let fault = 0; fault < share.length; fault++) if (density[fault]! > 0) bits += density[fault]! * logRatio(density, share, fault);
  }
  return Math.max(0, bits);
}

/** log2 of p(outcome | fault) / p(outcome), from joint densities. */
function logRatio(joint: Float64Array, share: Float64Array, fault: number): number {
  const all = joint.reduce((sum, value) => sum + value, 0);
  const own = joint[fault]!;
  return own > 0 && share[fault]! > 0 ? Math.log2(own / share[fault]! / all) : 0;
}

function lowerBound(values: readonly number[], wanted: number): number {
  let low = 0;
  let high = values.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (values[middle]! < wanted) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Tests for whoever has these instruments; what was seen already is not proposed again. */
export function listTests(instruments: readonly string[] | undefined, seen: readonly Observation[], isAnswered: (test: CrankTest, seen: Observation) => boolean): CrankTest[] {
  return CRANK_TESTS.filter((test) => (test.instrument === undefined || instruments === undefined || instruments.includes(test.instrument)) && !seen.some((observation) => isAnswered(test, observation)));
}

