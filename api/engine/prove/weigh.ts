import { chanceOfComplaint, settleAll, type Evidence, type States } from './evidence.ts';
import type { CrankingCircuit, Situation } from './cranking-circuit.ts';
import { CIRCUIT_FIGURES } from './fault-table.ts';
import type { Hypothesis } from './hypotheses.ts';
import { DRAWS, type Machine, type MachineMaker } from './machine.ts';
import type { NormalDraws } from './normal-draws.ts';

/** A draw of a machine with its weight; the weights of a hypothesis average to its evidence. */
export interface Draw { readonly z: Float64Array; readonly logWeight: number }

export interface Weighed {
  readonly hypothesis: Hypothesis;
  /** ln of the probability of everything seen, under the hypothesis */
  readonly logEvidence: number;
  readonly draws: readonly Draw[];
  /** of the draw that suits best: how far each reading is from it, in sigmas, and how probable each sign is */
  readonly residuals: readonly number[];
  readonly signs: readonly number[];
}

interface Tried { readonly z: Float64Array; readonly logLikelihood: number; readonly residuals: readonly number[]; readonly signs: readonly number[] }

const PRIOR_DRAWS = 140;
const NEAR_DRAWS = 110;
const STEPS = 7;
/** A misfit (squared sigmas) by so much above the best one's leaves a share of less than a millionth. */
const HOPELESS = 60;
/** Draws about the best fit are spread a little wider than its curvature says, so that no weight becomes large. */
const WIDER = 1.15;
const NUDGE = 0.02;
const RANGE_V = 15;
/** Quantities that no reading hangs on smoothly: they keep their drawn values while the others are fitted. */
const FIXED = new Set([13, 14, 17, 18]);

/** Weighs hypotheses against one body of evidence. */
export class Weigher {
  readonly #circuit: CrankingCircuit;
  readonly #maker: MachineMaker;
  readonly #evidence: Evidence;
  readonly #normals: NormalDraws;

  constructor(circuit: CrankingCircuit, maker: MachineMaker, evidence: Evidence, normals: NormalDraws) {
    this.#circuit = circuit;
    this.#maker = maker;
    this.#evidence = evidence;
    this.#normals = normals;
  }

  /** Weighs all of them, the most promising first: those that the readings leave far behind are not looked at closely. */
  weighAll(hypotheses: readonly Hypothesis[]): Weighed[] {
    const tried = hypotheses.map((hypothesis) => ({ hypothesis, draws: this.#tryDraws(hypothesis) }));
    const starts = tried.map(({ draws }) => (this.#evidence.readings.length > 0 ? findStart(draws) : undefined));
    const order = tried.map((_, index) => index).toSorted((a, b) => (starts[b]?.promise ?? Number.NEGATIVE_INFINITY) - (starts[a]?.promise ?? Number.NEGATIVE_INFINITY));
    const weighed: Weighed[] = [];
    let least = Number.POSITIVE_INFINITY;
    for (const index of order) {
      const { hypothesis, draws } = tried[index]!;
      const start = starts[index];
      const fit = start === undefined ? undefined : this.#fit(start.z, hypothesis, least + HOPELESS);
      if (fit) least = Math.min(least, fit.misfit);
      weighed[index] = this.#weigh(hypothesis, draws, fit);
    }
    return weighed;
  }

  #tryDraws(hypothesis: Hypothesis): Tried[] {
    return Array.from({ length: PRIOR_DRAWS }, (_, index) => {
      const z = this.#normals.row(index);
      return { z, ...this.#judge(z, hypothesis) };
    });
  }

  /**
   * The evidence of a hypothesis, by importance sampling: draws from what machines are like, and, where there are readings, draws about the
   * best fit to them (Gauss-Newton on independent standard normal quantities; its curvature gives the spread), weighed together as one
   * mixture (the balance heuristic; Veach and Guibas 1995, from memory). Draws are the same every time: the answer hangs on the case alone.
   */
  #weigh(hypothesis: Hypothesis, tried: readonly Tried[], fit: Near | undefined): Weighed {
    const near = fit === undefined ? [] : Array.from({ length: NEAR_DRAWS }, (_, index) => {
      const z = fit.place(this.#normals.row(PRIOR_DRAWS + index));
      return { z, ...this.#judge(z, hypothesis) };
    });
    const all = [...tried, ...near];
    const logN = Math.log(all.length);
    const draws = all.map(({ z, logLikelihood }): Draw => {
      const logPrior = -squares(z) / 2;
      const from = fit === undefined ? logPrior : logSum(Math.log(PRIOR_DRAWS) + logPrior, Math.log(NEAR_DRAWS) + fit.logDensity(z)) - logN;
      return { z, logWeight: logLikelihood + logPrior - from };
    });
    const most = Math.max(...draws.map(({ logWeight }) => logWeight));
    const logEvidence = most === Number.NEGATIVE_INFINITY ? most : most + Math.log(draws.reduce((sum, { logWeight }) => sum + Math.exp(logWeight - most), 0)) - logN;
    const best = all.reduce((a, b) => (b.logLikelihood - squares(b.z) / 2 > a.logLikelihood - squares(a.z) / 2 ? b : a));
    return { hypothesis, logEvidence, draws, residuals: best.residuals, signs: best.signs };
  }

  /** The states of a draw in given situations. */
  settle(z: Float64Array, hypothesis: Hypothesis, situations: readonly Situation[]): { states: States; machine: Machine } {
    const machine = this.#maker.make(z, hypothesis);
    this.#circuit.lay(machine, hypothesis);
    return { states: settleAll(this.#circuit, situations), machine };
  }

  #judge(z: Float64Array, hypothesis: Hypothesis): { logLikelihood: number; residuals: number[]; signs: number[] } {
    const { readings, signs, situations } = this.#evidence;
    const { states, machine } = this.settle(z, hypothesis, situations);
    const chances = signs.map((sign) => sign.probability(states, hypothesis));
    const stray = CIRCUIT_FIGURES.strayReadingShare.value;
    let logLikelihood = Math.log(chanceOfComplaint(states, hypothesis));
    for (const chance of chances) logLikelihood += Math.log(chance);
    const residuals = readings.map((reading) => {
      const { value, sigma: model } = reading.predict(states, machine);
      const sigma = Math.hypot(reading.sigma, model);
      const residual = (reading.value - value) / sigma;
      logLikelihood += Math.log((1 - stray) * Math.exp(-residual * residual / 2) / (sigma * Math.sqrt(2 * Math.PI)) + stray / RANGE_V);
      return residual;
    });
    return { logLikelihood, residuals, signs: chances };
  }

  /** What Gauss and Newton make smaller: residuals and the distance from what machines are like, within the states that suit the signs. */
  #misfit(z: Float64Array, judged: { residuals: readonly number[]; signs: readonly number[] }): number {
    return squares(judged.residuals) + squares(z) - 2 * judged.signs.reduce((sum, chance) => sum + Math.log(chance), 0);
  }

  /** @returns undefined where the misfit stays above `giveUpAbove` */
  #fit(start: Float64Array, hypothesis: Hypothesis, giveUpAbove: number): Near | undefined {
    let z: Float64Array = Float64Array.from(start);
    let judged = this.#judge(z, hypothesis);
    let misfit = this.#misfit(z, judged);
    let slopes = this.#slopes(z, judged.residuals, hypothesis);
    for (let step = 0; step < STEPS; step++) {
      const towards = solveStep(slopes, judged.residuals, z);
      let moved = false;
      for (let share = 1; share > 0.1; share /= 2) {
        const next = Float64Array.from(z, (value, i) => value + share * towards[i]!);
        const nextJudged = this.#judge(next, hypothesis);
        const nextMisfit = this.#misfit(next, nextJudged);
        if (!(nextMisfit < misfit)) continue;
        moved = misfit - nextMisfit > 0.05;
        z = next;
        judged = nextJudged;
        misfit = nextMisfit;
        break;
      }
      if (misfit > giveUpAbove && (step >= 1 || !moved)) return undefined;
      slopes = this.#slopes(z, judged.residuals, hypothesis);
      if (!moved) break;
    }
    return new Near(z, slopes, misfit);
  }

  /** How each residual changes with each quantity: one row a quantity. */
  #slopes(z: Float64Array, residuals: readonly number[], hypothesis: Hypothesis): Float64Array[] {
    const { readings, situations } = this.#evidence;
    const nudged = Float64Array.from(z);
    return Array.from({ length: DRAWS }, (_, i) => {
      const row = new Float64Array(readings.length);
      if (FIXED.has(i)) return row;
      nudged[i] = z[i]! + NUDGE;
      const { states, machine } = this.settle(nudged, hypothesis, situations);
      readings.forEach((reading, k) => {
        const { value, sigma: model } = reading.predict(states, machine);
        row[k] = ((reading.value - value) / Math.hypot(reading.sigma, model) - residuals[k]!) / NUDGE;
      });
      nudged[i] = z[i]!;
      return row;
    });
  }
}

/**
 * The draw to start fitting from. Far off readings count by their logarithm here: the start should be right about most of them, not half
 * right about all.
 */
function findStart(tried: readonly Tried[]): { readonly z: Float64Array; readonly promise: number } | undefined {
  let best: { z: Float64Array; promise: number } | undefined;
  for (const { z, logLikelihood, residuals, signs } of tried) {
    if (logLikelihood === Number.NEGATIVE_INFINITY) continue;
    const promise = signs.reduce((sum, chance) => sum + Math.log(chance), 0) - squares(z) / 4 - residuals.reduce((sum, residual) => sum + Math.log1p(residual * residual / 8), 0);
    if (best === undefined || promise > best.promise) best = { z, promise };
  }
  return best;
}

/** The normal distribution about a best fit: precision I + J'J. */
class Near {
  readonly #centre: Float64Array;
  readonly #lower: Float64Array[];
  readonly #logRoot: number;

  readonly misfit: number;

  constructor(centre: Float64Array, slopes: readonly Float64Array[], misfit: number) {
    this.misfit = misfit;
    this.#centre = centre;
    this.#lower = factor(precisionOf(slopes));
    this.#logRoot = this.#lower.reduce((sum, row, i) => sum + Math.log(row[i]!), 0) - DRAWS * Math.log(WIDER);
  }

  /** A draw from standard normal numbers: solves L' (z - centre) = wider x normals. */
  place(normals: Float64Array): Float64Array {
    const z = new Float64Array(DRAWS);
    for (let i = DRAWS - 1; i >= 0; i--) {
      let sum = WIDER * normals[i]!;
      for (let k = i + 1; k < DRAWS; k++) sum -= this.#lower[k]![i]! * z[k]!;
      z[i] = sum / this.#lower[i]![i]!;
    }
    for (let i = 0; i < DRAWS; i++) z[i]! += this.#centre[i]!;
    return z;
  }

  /** ln of the density, without the factor that the standard normal has too. */
  logDensity(z: Float64Array): number {
    let sum = 0;
    for (let i = 0; i < DRAWS; i++) {
      let part = 0;
      for (let k = i; k < DRAWS; k++) part += this.#lower[k]![i]! * (z[k]! - this.#centre[k]!);
      sum += part * part;
    }
    return this.#logRoot - sum / (2 * WIDER * WIDER);
  }
}

function precisionOf(slopes: readonly Float64Array[]): Float64Array[] {
  return slopes.map((row, i) => Float64Array.from({ length: i + 1 }, (_, j) => dot(row, slopes[j]!) + (i === j ? 1 : 0)));
}

/** Cholesky factor of a symmetric positive definite matrix given by its lower rows. */
function factor(matrix: readonly Float64Array[]): Float64Array[] {
  const lower = matrix.map((row) => Float64Array.from(row));
  for (let i = 0; i < lower.length; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = lower[i]![j]!;
      for (let k = 0; k < j; k++) sum -= lower[i]![k]! * lower[j]![k]!;
      lower[i]![j] = i === j ? Math.sqrt(Math.max(sum, 1e-9)) : sum / lower[j]![j]!;
    }
  }
  return lower;
}

/** The step of Gauss and Newton: (I + J'J) step = -(J'r + z). Fixed quantities do not move. */
function solveStep(slopes: readonly Float64Array[], residuals: readonly number[], z: Float64Array): Float64Array {
  const lower = factor(precisionOf(slopes));
  const n = slopes.length;
  const step = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let sum = FIXED.has(i) ? 0 : -(dot(slopes[i]!, residuals) + z[i]!);
    for (let k = 0; k < i; k++) sum -= lower[i]![k]! * step[k]!;
    step[i] = sum / lower[i]![i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = step[i]!;
    for (let k = i + 1; k < n; k++) sum -= lower[k]![i]! * step[k]!;
    step[i] = sum / lower[i]![i]!;
  }
  return step;
}

function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

function squares(values: ArrayLike<number>): number { return dot(values, values); }

function logSum(a: number, b: number): number {
  const most = Math.max(a, b);
  return most + Math.log(Math.exp(a - most) + Math.exp(b - most));
}
