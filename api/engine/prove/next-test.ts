import { INSTRUMENT_DEFAULTS, type CrankFault, type Observation } from '../../../catalog-schema/index.ts';
import { indexOfNode, SITUATIONS } from './cranking-circuit.ts';
import { createShown, createStates, probabilityOf, rootOfSquares, showAmps, showVolts, sigmaOf, voltsUnderLoad, type Shown, type States } from './evidence.ts';
import { CIRCUIT_FIGURES } from './fault-table.ts';
import type { Hypothesis } from './hypotheses.ts';
import type { Machine } from './machine.ts';
import { NumberScale } from './number-scale.ts';
import { answers, CRANK_TESTS, type CrankTest, type Instrument } from './tests-to-do.ts';
import type { NormalDraws } from './normal-draws.ts';
import type { Draw, Weighed, Weigher } from './weigh.ts';

/** One thing a test may show: how it reads, how probable it is, and what it leaves of each fault (most probable first). */
export interface Outcome { readonly reads: string; readonly chance: number; readonly leaves: readonly { readonly fault: CrankFault; readonly probability: number }[] }
/** A proposed test with what it is expected to tell, in bits about which fault it is. */
export interface WeighedTest { readonly test: CrankTest; readonly bits: number; readonly outcomes: readonly Outcome[] }

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
const BLUR_A = 2;
const BLUR_SHARE = 0.04;
/** What a result would mean is told for so many results and faults. */
const MOST_OUTCOMES = 4;
const LEAST_OUTCOME = 0.02;
const LEAVES = 3;

interface Possible { readonly fault: number; readonly weight: number; readonly draw: Draw; readonly hypothesis: Hypothesis }

/**
 * Every test with what it would tell: the mutual information of its outcome and the fault, over machines drawn from what is still possible.
 * A number falls into cells half as wide as it is uncertain; what is seen or heard has each word's probability.
 */
export function weighTests(weighed: readonly { readonly weighed: Weighed; readonly probability: number }[], weigher: Weigher, nominalV: number, normals: NormalDraws, tests: readonly CrankTest[]): WeighedTest[] {
  const faults = [...new Set(weighed.map(({ weighed: { hypothesis } }) => hypothesis.fault))];
  const possible = pickPossible(weighed, faults, normals);
  const askers = tests.map((test) => createAsker(test, possible.length, nominalV));
  const states = createStates();
  possible.forEach(({ draw, hypothesis }, index) => {
    const machine = weigher.settle(draw, hypothesis, SITUATIONS, states);
    for (const asker of askers) asker.ask(index, states, machine, hypothesis);
  });
  return tests.map((test, index) => ({ test, ...askers[index]!.tell(possible, faults) }));
}

/** Best first: bits for each minute; what is risky only after all that is not, as long as that tells anything. */
export function rankTests(weighed: readonly WeighedTest[]): WeighedTest[] {
  const worth = ({ test, bits }: WeighedTest): number => bits / (test.minutes + BETWEEN_MINUTES);
  return weighed.filter(({ bits }) => bits >= LEAST_BITS)
    .toSorted((a, b) => Number(a.test.risk === 'high') - Number(b.test.risk === 'high') || worth(b) - worth(a) || CRANK_TESTS.indexOf(a.test) - CRANK_TESTS.indexOf(b.test));
}

function pickPossible(weighed: readonly { readonly weighed: Weighed; readonly probability: number }[], faults: readonly CrankFault[], normals: NormalDraws): Possible[] {
  const possible: Possible[] = [];
  for (const { weighed: one, probability } of weighed) {
    const count = Math.max(probability > 1e-4 ? LEAST_OF_A_FAULT : 0, Math.round(probability * MACHINES));
    const { hypothesis } = one;
    for (const draw of resample(one, count, normals)) possible.push({ fault: faults.indexOf(hypothesis.fault), weight: probability / count, draw, hypothesis });
  }
  const total = possible.reduce((sum, { weight }) => sum + weight, 0);
  return possible.map((one) => ({ ...one, weight: one.weight / total }));
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

/** Takes down what each machine would show in one test, and says what that tells. */
interface Asker {
  ask(index: number, states: States, machine: Machine, hypothesis: Hypothesis): void;
  tell(possible: readonly Possible[], faults: readonly CrankFault[]): { readonly bits: number; readonly outcomes: Outcome[] };
}

function createAsker({ ask }: CrankTest, machines: number, nominalV: number): Asker {
  const f = CIRCUIT_FIGURES;
  const volt = INSTRUMENT_DEFAULTS.voltmeter;
  const blurV = BLUR_V * nominalV / 12;
  switch (ask.kind) {
    case 'volts': {
      const from = indexOfNode(ask.plus);
      const to = indexOfNode(ask.minus);
      const scale = new NumberScale(rootOfSquares(f.modelV.value, blurV, volt.absolute / 2), rootOfSquares(f.modelShare.value, BLUR_SHARE, volt.relative / 2), 1.3 * nominalV, 'V');
      return askNumber(machines, scale, (states, _machine, shown) => showVolts(ask.startSwitch ? states.on : states.off, from, to, nominalV, shown));
    }
    case 'amps': {
      const clamp = INSTRUMENT_DEFAULTS.clamp;
      const scale = new NumberScale(rootOfSquares(f.modelA.value, BLUR_A, clamp.absolute / 2), rootOfSquares(f.modelShare.value, BLUR_SHARE, clamp.relative / 2), 3000, 'A');
      return askNumber(machines, scale, ({ on }, _machine, shown) => showAmps(on, shown));
    }
    case 'battery-load': {
      const scale = new NumberScale(rootOfSquares(f.modelV.value, blurV, volt.absolute / 2), rootOfSquares(BLUR_SHARE, volt.relative / 2), 1.3 * nominalV, 'V');
      return askNumber(machines, scale, (_states, machine, shown) => {
        shown.value = voltsUnderLoad(machine, ask.ratioOfCca, ask.seconds);
        shown.sigma = 0;
        shown.half = 0;
      });
    }
    case 'sound': return askWords(machines, ['nothing', 'one-click', 'rapid-clicks', 'hum', 'grinding'], (heard) => ({ kind: 'sound', startSwitch: ask.startSwitch, heard }) as Observation);
    case 'crank': return askWords(machines, ['nothing', 'slow', 'normal', 'spins-without-engaging'], (seen) => ({ kind: 'crank', startSwitch: ask.startSwitch, seen }) as Observation);
    case 'bridge-studs': return askWords(machines, ['nothing', 'slow', 'normal', 'spark-only'], (seen) => ({ kind: 'bridge-studs', seen }) as Observation);
    case 'turn-by-hand': return askWords(machines, ['free', 'stiff', 'locked'], (seen) => ({ kind: 'turn-by-hand', seen }) as Observation);
    default: throw new Error(`no such test: ${JSON.stringify(ask satisfies never)}`);
  }
}

function askNumber(machines: number, scale: NumberScale, show: (states: States, machine: Machine, shown: Shown) => void): Asker {
  const values = new Float64Array(machines);
  const sigmas = new Float64Array(machines);
  const shown = createShown();
  return {
    ask(index, states, machine) {
      show(states, machine, shown);
      values[index] = shown.value;
      sigmas[index] = sigmaOf(shown, 0);
    },
    tell(possible, faults) {
      const { first, last } = scale.reach(values, sigmas);
      const cells = last - first + 1;
      const joint = new Float64Array(faults.length * cells);
      possible.forEach(({ fault, weight }, index) => scale.spread(values[index]!, sigmas[index]!, weight, joint, fault * cells - first));
      return { bits: informationOf(joint, faults.length, cells), outcomes: listRanges(joint, faults, cells, (from, to) => scale.sayRange(from && first + from, to && first + to)) };
    },
  };
}

function askWords(machines: number, words: readonly string[], sayAs: (word: string) => Observation): Asker {
  const observations = words.map(sayAs);
  const chances = new Float64Array(machines * words.length);
  return {
    ask(index, states, _machine, hypothesis) {
      observations.forEach((observation, word) => { chances[index * words.length + word] = probabilityOf(observation, states, hypothesis); });
    },
    tell(possible, faults) {
      const joint = new Float64Array(faults.length * words.length);
      possible.forEach(({ fault, weight }, index) => {
        for (let word = 0; word < words.length; word++) joint[fault * words.length + word]! += weight * chances[index * words.length + word]!;
      });
      const outcomes = words.map((word, index) => sumUp(word.replaceAll('-', ' '), joint, faults, words.length, index, index + 1))
        .filter(({ chance }) => chance >= LEAST_OUTCOME).toSorted((a, b) => b.chance - a.chance);
      return { bits: informationOf(joint, faults.length, words.length), outcomes };
    },
  };
}

/** Mutual information, bits, of fault and cell from their joint probabilities, one row a fault. */
function informationOf(joint: Float64Array, faults: number, cells: number): number {
  const all = new Float64Array(cells);
  const own = new Float64Array(faults);
  for (let fault = 0; fault < faults; fault++) {
    for (let cell = 0; cell < cells; cell++) {
      const p = joint[fault * cells + cell]!;
      all[cell]! += p;
      own[fault]! += p;
    }
  }
  let bits = 0;
  for (let fault = 0; fault < faults; fault++) {
    for (let cell = 0; cell < cells; cell++) {
      const p = joint[fault * cells + cell]!;
      if (p > 0) bits += p * Math.log2(p / (own[fault]! * all[cell]!));
    }
  }
  return Math.max(0, bits);
}

/** The ranges of a number that speak for different faults, from low to high. */
function listRanges(joint: Float64Array, faults: readonly CrankFault[], cells: number, sayRange: (from: number | undefined, to: number | undefined) => string): Outcome[] {
  const runs: { from: number; to: number; chance: number; fault: number }[] = [];
  for (let cell = 0; cell < cells; cell++) {
    let chance = 0;
    let best = 0;
    for (let fault = 0; fault < faults.length; fault++) {
      chance += joint[fault * cells + cell]!;
      if (joint[fault * cells + cell]! > joint[best * cells + cell]!) best = fault;
    }
    const last = runs.at(-1);
    if (last && (chance < 1e-7 || best === last.fault)) { last.to = cell + 1; last.chance += chance; }
    else runs.push({ from: last ? cell : 0, to: cell + 1, chance, fault: best });
  }
  while (runs.length > 1) {
    const least = runs.reduce((a, b, index) => (b.chance < runs[a]!.chance ? index : a), 0);
    if (runs.length <= MOST_OUTCOMES && runs[least]!.chance >= LEAST_OUTCOME) break;
    const into = least === 0 ? 1 : least === runs.length - 1 || runs[least - 1]!.chance > runs[least + 1]!.chance ? least - 1 : least + 1;
    const [kept, gone] = [runs[into]!, runs[least]!];
    runs[into] = { from: Math.min(kept.from, gone.from), to: Math.max(kept.to, gone.to), chance: kept.chance + gone.chance, fault: kept.fault };
    runs.splice(least, 1);
    // Neighbours that speak for one fault are one range.
    for (let k = runs.length - 1; k > 0; k--) {
      if (runs[k]!.fault !== runs[k - 1]!.fault) continue;
      runs[k - 1] = { ...runs[k - 1]!, to: runs[k]!.to, chance: runs[k - 1]!.chance + runs[k]!.chance };
      runs.splice(k, 1);
    }
  }
  return runs.map(({ from, to }, index) => sumUp(sayRange(index === 0 ? undefined : from, index === runs.length - 1 ? undefined : to), joint, faults, cells, from, to));
}

function sumUp(reads: string, joint: Float64Array, faults: readonly CrankFault[], cells: number, from: number, to: number): Outcome {
  const own = faults.map((fault, row) => ({ fault, probability: joint.subarray(row * cells + from, row * cells + to).reduce((sum, p) => sum + p, 0) }));
  const chance = own.reduce((sum, { probability }) => sum + probability, 0);
  const leaves = own.filter(({ probability }) => probability > 0).toSorted((a, b) => b.probability - a.probability).slice(0, LEAVES)
    .map(({ fault, probability }) => ({ fault, probability: probability / chance }));
  return { reads, chance, leaves };
}

/** Tests for whoever has these instruments; what was seen already is not proposed again, but an engine that was stiff is turned once more. */
export function listTests(instruments: readonly string[] | undefined, seen: readonly Observation[]): CrankTest[] {
  const turned = seen.filter((observation) => observation.kind === 'turn-by-hand');
  const isOpen = turned.length === 1 && turned[0]!.seen === 'stiff';
  return CRANK_TESTS.filter(({ ask, instrument }) => hasInstrument({ instrument }, instruments) && ((isOpen && ask.kind === 'turn-by-hand') || !seen.some((observation) => answers(ask, observation))));
}

export function hasInstrument({ instrument }: { readonly instrument?: Instrument | undefined }, instruments: readonly string[] | undefined): boolean {
  return instrument === undefined || instruments === undefined || instruments.includes(instrument);
}
