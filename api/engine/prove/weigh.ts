import { BOUNDS, type CrankingCircuit, type Manner, type Situation } from './cranking-circuit.ts';
import { chanceOfComplaint, createShown, createStates, residualOf, settleAll, settleAllAs, sigmaOf, type Evidence, type States } from './evidence.ts';
import { CIRCUIT_FIGURES } from './fault-table.ts';
import type { Hypothesis } from './hypotheses.ts';
import { DRAWS, FEED, isFedFromClamp, SEVERITY, type Machine, type MachineMaker } from './machine.ts';
import { Near, squares, stepTowards } from './near.ts';
import { NormalDraws } from './normal-draws.ts';

/** A machine that is still possible under a hypothesis; its weight counts against the others of the same hypothesis. */
export interface Draw { readonly z: Float64Array; readonly weight: number; readonly manner: Manner }

export interface Weighed {
  readonly hypothesis: Hypothesis;
  /** ln of the probability of everything seen, under the hypothesis */
  readonly logEvidence: number;
  readonly draws: readonly Draw[];
  /** of what suits best: how far each reading is from it, in sigmas, and how probable each sign is */
  readonly residuals: Float64Array;
  readonly signs: readonly number[];
}

interface Tried { readonly z: Float64Array; readonly logLikelihood: number; readonly residuals: Float64Array; readonly signs: readonly number[]; readonly manner: Manner }
interface Start { readonly z: Float64Array; readonly promise: number; readonly manner: Manner }
interface FitWishes { readonly giveUpAbove?: number; readonly robust?: boolean; readonly slips?: Float64Array }
/** A best fit: `residuals` of all readings, `slips` 1 for those that it leaves out. */
interface Fitted { readonly near: Near; readonly residuals: Float64Array; readonly slips?: Float64Array }
interface Fit { readonly residuals: Float64Array; readonly manner: Manner; readonly logEvidence: number; readonly draws: readonly Float64Array[]; readonly signs: readonly number[] }

const PRIOR_DRAWS = 140;
/** Draws that are looked at for places to start fitting from. */
const START_DRAWS = 24;
/** Draws about a fit: they weigh what was seen with the switch off or the studs bridged, and stand for what is possible. */
const NEAR_DRAWS = 24;
const STEPS = 7;
/** A fit whose misfit (squared sigmas) is by so much above the best one's leaves a share of less than a millionth. */
const HOPELESS = 30;
const NUDGE = 0.02;
const RANGE_V = 15;
/** A reading that is further off than so many sigmas may be a slip. */
const SLIP = 4;
const ROOT_2_PI = Math.sqrt(2 * Math.PI);
const LOG_OF_SLIP = Math.log(CIRCUIT_FIGURES.strayReadingShare.value / RANGE_V);
const SEVERITIES = [-2, -1, 0, 1, 2, 4] as const;
/** Manners of relay and starter, fed either way, that are fitted for one hypothesis. */
const STARTS = 6;
/** A step of a fit that gains less is not worth another. */
const LEAST_GAIN = 0.05;
/** No quantity is taken further than so many sigmas from what is usual, nor further in one step of a fit. */
const FARTHEST = 6;
const FARTHEST_STEP = 2;
/** A border between two manners overstepped by this share of itself counts as one sigma while a fit is sought. */
const BORDER = 0.04;

/**
 * Weighs hypotheses against one body of evidence. Without readings: draws from what machines are like. With readings: for each manner in
 * which relay and starter can be, the best fit to them (Gauss and Newton, on independent standard normal quantities), and the volume about
 * it within the manner's borders (Laplace's method). Draws are the same every time: the answer hangs on the case alone.
 */
export class Weigher {
  readonly #circuit: CrankingCircuit;
  readonly #maker: MachineMaker;
  readonly #evidence: Evidence;
  readonly #normals: NormalDraws;
  readonly #noise: NormalDraws;
  readonly #states = createStates();
  readonly #over = new Float64Array(BOUNDS);
  readonly #shown = createShown();

  constructor(circuit: CrankingCircuit, maker: MachineMaker, evidence: Evidence, normals: NormalDraws) {
    this.#circuit = circuit;
    this.#maker = maker;
    this.#evidence = evidence;
    this.#normals = normals;
    this.#noise = new NormalDraws(evidence.readings.length, 20_261_126);
  }

  /** Weighs all of them, the most promising first: those that the readings leave far behind are not looked at closely. */
  weighAll(hypotheses: readonly Hypothesis[]): Weighed[] {
    const hasReadings = this.#evidence.readings.length > 0;
    const tried = hypotheses.map((hypothesis) => ({ hypothesis, draws: this.#tryDraws(hypothesis, hasReadings ? START_DRAWS : PRIOR_DRAWS) }));
    if (!hasReadings) return tried.map(({ hypothesis, draws }) => weighDraws(hypothesis, draws));
    const starts = tried.map(({ hypothesis, draws }) => findStarts([...draws, ...this.#tryPlain(hypothesis)]));
    const promiseOf = (index: number): number => starts[index]![0]?.promise ?? Number.NEGATIVE_INFINITY;
    const order = tried.map((_, index) => index).toSorted((a, b) => promiseOf(b) - promiseOf(a));
    const fitAll = (robust: boolean): Weighed[] => {
      const weighed: Weighed[] = [];
      let least = Number.POSITIVE_INFINITY;
      for (const index of order) {
        const { hypothesis, draws } = tried[index]!;
        const fits: Fit[] = [];
        for (const start of starts[index]!) {
          const fitted = robust ? this.#fitRobustly(start, hypothesis) : this.#fit(start, hypothesis, { giveUpAbove: least + HOPELESS });
          if (!fitted) continue;
          least = Math.min(least, squares(fitted.residuals) + squares(fitted.near.z));
          fits.push(this.#weighFit(fitted, start.manner, hypothesis));
        }
        weighed[index] = fits.length > 0 ? weighFits(hypothesis, fits) : weighDraws(hypothesis, draws);
      }
      return weighed;
    };
    const weighed = fitAll(false);
    // Where not even the best explains every reading, some may be slips: each hypothesis then may leave out what it cannot explain.
    const best = weighed.reduce((a, b) => (b.logEvidence > a.logEvidence ? b : a));
    return best.residuals.some((residual) => Math.abs(residual) > SLIP) ? fitAll(true) : weighed;
  }

  /** The states of a draw in given situations; at START in its manner. The machine is to be read before the next call. */
  settle({ z, manner }: Draw, hypothesis: Hypothesis, situations: readonly Situation[], into: States): Machine {
    const machine = this.#lay(z, hypothesis);
    settleAllAs(this.#circuit, situations, manner, this.#over, into);
    return machine;
  }

  #lay(z: Float64Array, hypothesis: Hypothesis): Machine {
    const machine = this.#maker.make(z, hypothesis);
    this.#circuit.lay(machine, hypothesis);
    return machine;
  }

  #tryDraws(hypothesis: Hypothesis, count: number): Tried[] {
    return Array.from({ length: count }, (_, index) => this.#judge(this.#normals.row(index), hypothesis));
  }

  /** Machines like any other but for the fault, from slight to grave, fed either way: places to start fitting from. */
  #tryPlain(hypothesis: Hypothesis): Tried[] {
    return SEVERITIES.flatMap((severity) => [-1, 1].map((feed) => {
      const z = new Float64Array(DRAWS);
      z[SEVERITY] = severity;
      z[FEED] = feed;
      return this.#judge(z, hypothesis);
    }));
  }

  #judge(z: Float64Array, hypothesis: Hypothesis): Tried {
    const { readings, signs, situations } = this.#evidence;
    const machine = this.#lay(z, hypothesis);
    const states = settleAll(this.#circuit, situations, this.#states);
    const chances = signs.map((sign) => sign.probability(states, hypothesis));
    let logLikelihood = Math.log(chanceOfComplaint(states.on, hypothesis) * (machine.cranksWhenSound ? 1 : CIRCUIT_FIGURES.neverCranked.value) * (machine.loadsWrong <= 0 ? 1 : CIRCUIT_FIGURES.otherwiseUnderLoad.value));
    for (const chance of chances) logLikelihood += Math.log(chance);
    const shown = this.#shown;
    const residuals = new Float64Array(readings.length);
    readings.forEach((reading, k) => {
      reading.predict(states, machine, shown);
      residuals[k] = residualOf(reading.value, reading.sigma, shown);
      logLikelihood += logOfReading(residuals[k]!, sigmaOf(shown, reading.sigma));
    });
    return { z, logLikelihood, residuals, signs: chances, manner: { relay: states.on.relay, motion: states.on.motion } };
  }

  /** The best fit without the readings that it cannot explain: found with far readings pulling no harder than near ones, then without them. */
  #fitRobustly(start: Start, hypothesis: Hypothesis): Fitted | undefined {
    const pulled = this.#fit(start, hypothesis, { robust: true });
    if (!pulled) return undefined;
    const slips = pulled.residuals.map((residual) => Number(Math.abs(residual) > SLIP));
    return this.#fit({ ...start, z: pulled.near.z }, hypothesis, { slips });
  }

  /**
   * The best fit within one manner. Its borders count as readings that are met as long as nothing is beyond them.
   * @returns undefined where the misfit stays above `giveUpAbove`
   */
  #fit({ z: start, manner }: Start, hypothesis: Hypothesis, { giveUpAbove = Number.POSITIVE_INFINITY, robust = false, slips }: FitWishes): Fitted | undefined {
    const count = this.#evidence.readings.length;
    const isSlip = (k: number): boolean => slips?.[k] === 1;
    // How hard each row pulls: a slip not at all, a far reading like a near one, a border only from beyond.
    const pullOf = (k: number, off: number): number => {
      if (k >= count) return off > 0 ? 1 / BORDER : 0;
      return isSlip(k) ? 0 : robust && Math.abs(off) > SLIP ? Math.sqrt(SLIP / Math.abs(off)) : 1;
    };
    const misfitOf = (found: Float64Array): number => {
      let sum = 0;
      for (let k = 0; k < found.length; k++) {
        const off = found[k]!;
        if (k >= count) sum += (Math.max(0, off) / BORDER) ** 2;
        else if (!isSlip(k)) sum += robust && Math.abs(off) > SLIP ? 2 * SLIP * Math.abs(off) - SLIP ** 2 : off * off;
      }
      return sum;
    };
    let z: Float64Array = Float64Array.from(start);
    let found = this.#measure(z, hypothesis, manner);
    let misfit = misfitOf(found) + squares(z);
    let slopes = this.#slopes(z, found, hypothesis, manner);
    for (let step = 0; step < STEPS; step++) {
      const pulling: Float64Array[] = [];
      const offs: number[] = [];
      for (let k = 0; k < found.length; k++) {
        const pull = pullOf(k, found[k]!);
        if (pull === 0) continue;
        pulling.push(pull === 1 ? slopes[k]! : slopes[k]!.map((slope) => slope * pull));
        offs.push(found[k]! * pull);
      }
      const towards = stepTowards(pulling, Float64Array.from(offs), z);
      let moved = false;
      for (let share = 1; share > 0.1 && !moved; share /= 2) {
        const next = Float64Array.from(z, (value, i) => (i === FEED ? value : clamp(value + clamp(share * towards[i]!, FARTHEST_STEP), FARTHEST)));
        const nextFound = this.#measure(next, hypothesis, manner);
        const nextMisfit = misfitOf(nextFound) + squares(next);
        if (!(misfit - nextMisfit > LEAST_GAIN)) continue;
        moved = true;
        z = next;
        found = nextFound;
        misfit = nextMisfit;
      }
      if (misfit > giveUpAbove && (step >= 2 || !moved)) return undefined;
      if (!moved) break;
      slopes = this.#slopes(z, found, hypothesis, manner);
    }
    const residuals = found.slice(0, count);
    const near = new Near(z, residuals.filter((_, k) => !isSlip(k)), slopes.slice(0, count).filter((_, k) => !isSlip(k)), found.slice(count), slopes.slice(count), LEAST_KEPT);
    return { near, residuals, ...(slips && { slips }) };
  }

  #weighFit({ near, residuals, slips }: Fitted, manner: Manner, hypothesis: Hypothesis): Fit {
    const { readings, signs, situations } = this.#evidence;
    const machine = this.#lay(near.z, hypothesis);
    const states = settleAllAs(this.#circuit, situations, manner, this.#over, this.#states);
    const shown = this.#shown;
    const { value: fromClamp } = CIRCUIT_FIGURES.feedFromClamp;
    let logEvidence = near.logVolume + Math.log(chanceOfComplaint(manner, hypothesis) * (isFedFromClamp(near.z) ? fromClamp : 1 - fromClamp));
    readings.forEach((reading, k) => {
      reading.predict(states, machine, shown);
      logEvidence += slips?.[k] === 1 ? LOG_OF_SLIP : -Math.log(sigmaOf(shown, reading.sigma) * ROOT_2_PI);
    });
    const draws = Array.from({ length: NEAR_DRAWS }, (_, index) => near.place(this.#normals.row(PRIOR_DRAWS + index), this.#noise.row(index))).filter((z) => z !== undefined);
    if (draws.length === 0) draws.push(near.z);
    const chances = draws.map((z) => {
      this.#lay(z, hypothesis);
      const each = settleAllAs(this.#circuit, situations, manner, this.#over, this.#states);
      return signs.map((sign) => sign.probability(each, hypothesis));
    });
    logEvidence += Math.log(mean(chances.map((each) => each.reduce((product, chance) => product * chance, 1))));
    return { residuals, manner, logEvidence, draws, signs: signs.map((_, k) => mean(chances.map((each) => each[k]!))) };
  }

  /** How far each reading is from a machine in a manner, in sigmas, and how far the machine is beyond each border, as a share of it. */
  #measure(z: Float64Array, hypothesis: Hypothesis, manner: Manner, found = new Float64Array(this.#evidence.readings.length + BOUNDS)): Float64Array {
    const { readings, situations } = this.#evidence;
    const machine = this.#lay(z, hypothesis);
    const states = settleAllAs(this.#circuit, situations, manner, this.#over, this.#states);
    const shown = this.#shown;
    for (let k = 0; k < readings.length; k++) {
      const reading = readings[k]!;
      reading.predict(states, machine, shown);
      found[k] = residualOf(reading.value, reading.sigma, shown);
    }
    found.set(this.#over, readings.length);
    return found;
  }

  /** How each of these changes with each quantity: one row each. */
  #slopes(z: Float64Array, found: Float64Array, hypothesis: Hypothesis, manner: Manner): Float64Array[] {
    const slopes = Array.from(found, () => new Float64Array(DRAWS));
    const nudged = Float64Array.from(z);
    const next = new Float64Array(found.length);
    for (let i = 0; i < DRAWS; i++) {
      if (i === FEED) continue;
      nudged[i] = z[i]! + NUDGE;
      this.#measure(nudged, hypothesis, manner, next);
      for (let k = 0; k < found.length; k++) if (next[k] !== found[k]) slopes[k]![i] = (next[k]! - found[k]!) / NUDGE;
      nudged[i] = z[i]!;
    }
    return slopes;
  }
}

/** A machine that would not have cranked even without its fault is unlikely, not impossible; likewise a battery that a load test misjudges. */
const LEAST_KEPT = [0, 0, 0, 0, 0, CIRCUIT_FIGURES.neverCranked.value, CIRCUIT_FIGURES.neverCranked.value, CIRCUIT_FIGURES.otherwiseUnderLoad.value];

function weighDraws(hypothesis: Hypothesis, tried: readonly Tried[]): Weighed {
  const most = Math.max(...tried.map(({ logLikelihood }) => logLikelihood));
  const best = tried.reduce((a, b) => (b.logLikelihood - squares(b.z) / 2 > a.logLikelihood - squares(a.z) / 2 ? b : a));
  const draws = tried.map(({ z, logLikelihood, manner }): Draw => ({ z, manner, weight: most === Number.NEGATIVE_INFINITY ? 0 : Math.exp(logLikelihood - most) }));
  return { hypothesis, logEvidence: most + Math.log(mean(draws.map(({ weight }) => weight))), draws, residuals: best.residuals, signs: best.signs };
}

function weighFits(hypothesis: Hypothesis, fits: readonly Fit[]): Weighed {
  const best = fits.reduce((a, b) => (b.logEvidence > a.logEvidence ? b : a));
  const shares = fits.map(({ logEvidence }) => Math.exp(logEvidence - best.logEvidence));
  return {
    hypothesis, logEvidence: best.logEvidence + Math.log(shares.reduce((sum, share) => sum + share, 0)),
    draws: fits.flatMap(({ draws, manner }, index) => draws.map((z): Draw => ({ z, manner, weight: shares[index]! / draws.length }))),
    residuals: best.residuals, signs: best.signs,
  };
}

/**
 * The draws to start fitting from: the most promising of each manner in which relay and starter can be, fed either way. Far off readings count by their
 * logarithm here: the start should be right about most of them, not half right about all.
 */
function findStarts(tried: readonly Tried[]): Start[] {
  const best = new Map<string, Start>();
  for (const { z, logLikelihood, residuals, signs, manner } of tried) {
    if (logLikelihood === Number.NEGATIVE_INFINITY) continue;
    const promise = signs.reduce((sum, chance) => sum + Math.log(chance), 0) - squares(z) / 4 - residuals.reduce((sum, residual) => sum + Math.log1p(residual * residual / 8), 0);
    const key = `${manner.relay} ${manner.motion} ${isFedFromClamp(z)}`;
    if (promise > (best.get(key)?.promise ?? Number.NEGATIVE_INFINITY)) best.set(key, { z, promise, manner: { relay: manner.relay, motion: manner.motion } });
  }
  return [...best.values()].toSorted((a, b) => b.promise - a.promise).slice(0, STARTS);
}

/** ln of a reading's probability density: nearly always the meter's error, once in a long while a slip that may show anything. */
function logOfReading(residual: number, sigma: number): number {
  const stray = CIRCUIT_FIGURES.strayReadingShare.value;
  return Math.log((1 - stray) * Math.exp(-residual * residual / 2) / (sigma * ROOT_2_PI) + stray / RANGE_V);
}

function mean(values: readonly number[]): number { return values.reduce((sum, value) => sum + value, 0) / values.length; }

function clamp(value: number, most: number): number { return Math.max(-most, Math.min(most, value)); }
