// A machine on a bench as a simulator has it: its own numbers, its own solver, nothing of the engine. Against what the product believes
// (api/engine/prove/fault-table.ts) each median is shifted by about 0.3 of its spread and each spread is 1.3 times as wide; every joint has a
// stray resistance of 0 to 5 mOhm (cables, grounds: half of one, joints: a quarter, so that they add up along the ring); the meter has an offset.
import { Draws } from '../sim-identify/random.ts';

export const TRUE_FAULTS = [
  'battery-weak', 'battery-connection', 'ground-connection', 'battery-cable', 'start-cable', 'relay-contacts', 'relay-coil-open', 'relay-stuck-closed',
  'coil-feed', 'coil-return', 'starter-open', 'starter-dragging', 'starter-drive', 'engine-locked',
] as const;
export type TrueFault = (typeof TRUE_FAULTS)[number];

/** How often a machine with each fault comes in: otherwise than the product believes. */
const OFTEN: Readonly<Record<TrueFault, number>> = {
  'battery-weak': 18, 'battery-connection': 16, 'ground-connection': 9, 'battery-cable': 6, 'start-cable': 4, 'relay-contacts': 12, 'relay-coil-open': 6,
  'relay-stuck-closed': 3, 'coil-feed': 9, 'coil-return': 9, 'starter-open': 6, 'starter-dragging': 4, 'starter-drive': 3, 'engine-locked': 3,
};

export type Point = 'battery+' | 'battery-' | 'battery+clamp' | 'battery-clamp' | 'relay-battery-stud' | 'relay-starter-stud' | 'coil-feed' | 'coil-return' | 'starter-stud' | 'starter-case' | 'chassis';
const POINTS: readonly Point[] = ['battery-', 'battery+', 'battery+clamp', 'battery-clamp', 'relay-battery-stud', 'relay-starter-stud', 'coil-feed', 'coil-return', 'starter-stud', 'starter-case', 'chassis'];

const OPEN = 1e9;
const METER = 1e7;

interface Wire { a: Point; b: Point; ohm: number; volts?: number }

export type Sound = 'nothing' | 'one-click' | 'rapid-clicks' | 'hum' | 'grinding';
export type Turning = 'nothing' | 'slow' | 'normal' | 'spins-without-engaging';

export class BenchMachine {
  readonly fault: TrueFault;
  readonly nominalV: number;
  readonly ccaA: number;
  readonly celsius: number;
  readonly #draws: Draws;
  readonly #meterOffsetV: number;
  readonly #meterGain: number;
  readonly #batteryV: number;
  readonly #batteryOhm: number;
  readonly #turningA: number;
  #worstDropV = 0;
  readonly #pullInV: number;
  readonly #dropOutV: number;
  readonly #slowV: number;
  readonly #ohm: Record<'plusPost' | 'minusPost' | 'batteryCable' | 'startCable' | 'contact' | 'engineGround' | 'frameGround' | 'starter' | 'coil' | 'feed' | 'return', number>;
  readonly #fedFrom: Point;
  readonly #stuck: boolean;
  readonly #coilOpen: boolean;
  readonly #slips: boolean;

  /** `repaired`: the same machine without its fault */
  constructor(seed: number, repaired = false) {
    const draws = new Draws(seed);
    this.#draws = draws;
    this.fault = draws.pick(TRUE_FAULTS, (fault) => OFTEN[fault]);
    const about = (median: number, spread: number): number => median * Math.exp(spread * draws.normal());
    this.nominalV = draws.chance(0.9) ? 12 : 24;
    const scale = this.nominalV / 12;
    this.celsius = Math.round(draws.between(0, 35));
    this.ccaA = Math.round(about(260, 0.4) / scale / 10) * 10;
    const cold = 1 + Math.max(0, 25 - this.celsius) * 0.012;
    let batteryV = 12.57 + 0.21 * draws.normal();
    let batteryOhm = about(3.8, 0.43) / this.ccaA * scale * cold;
    this.#turningA = about(125, 0.55) / scale;
    const stray = (): number => draws.between(0, 0.005);
    // What a good joint loses while cranking is bounded by custom; the strays come on top of it.
    const good = (median: number, spread: number): number => {
      const ohm = about(median, spread);
      this.#worstDropV = Math.max(this.#worstDropV, ohm * this.#turningA);
      return ohm;
    };
    this.#ohm = {
      plusPost: good(0.0005, 1.3) + stray() / 4, minusPost: good(0.0005, 1.3) + stray() / 4, batteryCable: good(0.0012, 0.98) + stray() / 2, startCable: good(0.001, 0.98) + stray() / 2,
      contact: good(0.0005, 1.17) + stray() / 4, engineGround: good(0.0006, 1.3) + stray() / 2, frameGround: good(0.0012, 0.98) + stray() / 2,
      starter: about(0.027, 0.52) * scale ** 2, coil: about(4.4, 0.55) * scale ** 2, feed: about(0.2, 1.17) * scale ** 2, return: about(0.08, 1.3) * scale ** 2,
    };
    this.#pullInV = draws.between(0.4, 0.74) * this.nominalV;
    this.#dropOutV = Math.min(draws.between(0.11, 0.45) * this.nominalV, 0.9 * this.#pullInV);
    this.#slowV = (4.4 + 1.3 * draws.normal()) * scale;
    this.#fedFrom = draws.chance(0.5) ? 'battery+clamp' : 'relay-battery-stud';
    this.#stuck = !repaired && this.fault === 'relay-stuck-closed';
    this.#coilOpen = !repaired && this.fault === 'relay-coil-open';
    this.#slips = !repaired && this.fault === 'starter-drive';
    this.#meterOffsetV = draws.between(-0.02, 0.02);
    this.#meterGain = 1 + 0.003 * draws.normal();
    const bad = (): number => (draws.chance(0.35) ? OPEN : about(0.09, 1.43));
    const badControl = (): number => (draws.chance(0.6) ? OPEN : about(9, 1.3) * scale ** 2);
    if (!repaired) switch (this.fault) {
      case 'battery-weak': {
        const kind = draws.unit();
        if (kind < 0.45) { batteryV = draws.between(11.2, 12.25); batteryOhm *= about(2.5, 0.5); }
        else if (kind < 0.85) { batteryV = draws.between(12.1, 12.6); batteryOhm *= about(7, 0.7); }
        else { batteryV = draws.between(10.3, 10.9); batteryOhm *= about(2.5, 0.5); }
        break;
      }
      case 'battery-connection': this.#ohm[draws.chance(0.5) ? 'plusPost' : 'minusPost'] += bad(); break;
      case 'ground-connection': this.#ohm[draws.chance(0.5) ? 'frameGround' : 'engineGround'] += bad(); break;
      case 'battery-cable': this.#ohm.batteryCable += bad(); break;
      case 'start-cable': this.#ohm.startCable += bad(); break;
      case 'relay-contacts': this.#ohm.contact += draws.chance(0.5) ? OPEN : about(0.08, 1.43); break;
      case 'relay-coil-open': this.#ohm.coil = OPEN; break;
      case 'coil-feed': this.#ohm.feed += badControl(); break;
      case 'coil-return': this.#ohm.return += badControl(); break;
      case 'starter-open': this.#ohm.starter = draws.chance(0.7) ? OPEN : this.#ohm.starter * about(12, 0.91); break;
      case 'starter-dragging': this.#turningA *= about(3.2, 0.52); this.#ohm.starter *= draws.between(0.7, 1); break;
      case 'engine-locked': this.#turningA *= 40; break;
      case 'starter-drive': this.#turningA = about(32, 0.39) / scale; break;
      case 'relay-stuck-closed': break;
      default: throw new Error(`no such fault: ${this.fault satisfies never}`);
    }
    this.#batteryV = batteryV * scale;
    this.#batteryOhm = batteryOhm;
  }

  /** Whether it does not crank as it should, or cranks by itself. */
  get isComplaint(): boolean { return this.#stuck || this.#see(true, false).turning !== 'normal'; }

  /** Whether none of its joints, cables and contacts, the strays and the fault apart, loses more than custom allows while cranking. */
  get hasGoodJoints(): boolean { return this.#worstDropV <= MOST_DROP_V; }

  /** Whether its battery does what the table asks of one. */
  get passesLoad(): boolean {
    const fahrenheit = this.celsius * 9 / 5 + 32;
    const row = LEAST_UNDER_LOAD.findLast(([least]) => fahrenheit >= least) ?? LEAST_UNDER_LOAD[0]!;
    const next = LEAST_UNDER_LOAD[LEAST_UNDER_LOAD.indexOf(row) + 1];
    const limit = next === undefined ? row[1] : row[1] + (next[1] - row[1]) * (fahrenheit - row[0]) / (next[0] - row[0]);
    return this.#batteryV - 0.5 * this.ccaA * this.#batteryOhm * 1.25 >= limit * this.nominalV / 12;
  }

  cranks(startSwitch: boolean): Turning {
    const { turning } = this.#see(startSwitch, false);
    if (this.#draws.chance(0.02)) return turning === 'slow' ? 'nothing' : turning === 'nothing' ? 'slow' : turning;
    return turning;
  }

  sounds(startSwitch: boolean): Sound {
    const { sound } = this.#see(startSwitch, false);
    return this.#draws.chance(0.03) ? this.#draws.pick(['nothing', 'one-click', 'hum'] as const) : sound;
  }

  volts(startSwitch: boolean, plus: Point, minus: Point): number {
    const { from, back } = this.#see(startSwitch, false, { plus, minus });
    const shown = back === undefined ? from : from + (back - from) * this.#draws.between(0.25, 0.75);
    return Math.round((shown * this.#meterGain + this.#meterOffsetV + 0.005 * this.#draws.normal()) * 100) / 100;
  }

  amps(): number {
    const { amps } = this.#see(true, false);
    return Math.round(amps * (1 + 0.02 * this.#draws.normal()) + 0.4 * this.#draws.normal());
  }

  bridged(): 'nothing' | 'slow' | 'normal' | 'spark-only' {
    const { turning, starterA } = this.#see(false, true);
    if (turning === 'spins-without-engaging') return this.#draws.pick(['nothing', 'spark-only'] as const);
    return turning === 'nothing' ? (starterA > 20 ? 'spark-only' : 'nothing') : turning;
  }

  turnsByHand(): 'free' | 'stiff' | 'locked' {
    if (this.fault === 'engine-locked') return this.#draws.chance(0.96) ? 'locked' : 'stiff';
    return this.#draws.chance(0.93) ? 'free' : 'stiff';
  }

  load(ratioOfCca: number, seconds: number): number {
    const sag = ratioOfCca * this.ccaA * this.#batteryOhm * (1 + 0.25 * Math.min(1, seconds / 15)) * (1 + 0.05 * this.#draws.normal());
    return Math.round(Math.max(0, this.#batteryV - sag) * 100) / 100;
  }

  /** The machine in a situation; a meter's ten megohm lie between its probes. */
  #see(startSwitch: boolean, bridged: boolean, probes?: { plus: Point; minus: Point }): { sound: Sound; turning: Turning; amps: number; starterA: number; from: number; back?: number } {
    const wires = (closed: boolean, backV: number): Wire[] => [
      { a: 'battery-', b: 'battery+', ohm: this.#batteryOhm, volts: this.#batteryV },
      { a: 'battery+', b: 'battery+clamp', ohm: this.#ohm.plusPost }, { a: 'battery-', b: 'battery-clamp', ohm: this.#ohm.minusPost },
      { a: 'battery+clamp', b: 'relay-battery-stud', ohm: this.#ohm.batteryCable },
      { a: 'relay-battery-stud', b: 'relay-starter-stud', ohm: bridged ? 0.0006 : closed ? this.#ohm.contact : OPEN },
      { a: 'relay-starter-stud', b: 'starter-stud', ohm: this.#ohm.startCable }, { a: 'starter-stud', b: 'starter-case', ohm: this.#ohm.starter, volts: -backV },
      { a: 'starter-case', b: 'chassis', ohm: this.#ohm.engineGround }, { a: 'chassis', b: 'battery-clamp', ohm: this.#ohm.frameGround },
      { a: this.#fedFrom, b: 'coil-feed', ohm: startSwitch ? this.#ohm.feed : OPEN }, { a: 'coil-feed', b: 'coil-return', ohm: this.#ohm.coil },
      { a: 'coil-return', b: 'chassis', ohm: this.#ohm.return },
      ...(probes ? [{ a: probes.plus, b: probes.minus, ohm: METER }] : []),
    ];
    const across = (volts: Map<Point, number>, plus: Point, minus: Point): number => volts.get(plus)! - volts.get(minus)!;
    const shown = (volts: Map<Point, number>): number => (probes ? across(volts, probes.plus, probes.minus) : 0);
    const starterA = (volts: Map<Point, number>, backV: number): number => (across(volts, 'starter-stud', 'starter-case') - backV) / this.#ohm.starter;
    const batteryA = (volts: Map<Point, number>): number => (this.#batteryV - across(volts, 'battery+', 'battery-')) / this.#batteryOhm;

    const open = solve(wires(false, 0));
    const fed = startSwitch && !this.#coilOpen && across(open, 'coil-feed', 'coil-return') >= this.#pullInV;
    if (!this.#stuck && !bridged && !fed) return { sound: 'nothing', turning: 'nothing', amps: batteryA(open), starterA: 0, from: shown(open) };
    const standing = solve(wires(true, 0));
    if (!this.#stuck && !bridged && across(standing, 'coil-feed', 'coil-return') < this.#dropOutV) {
      return { sound: 'rapid-clicks', turning: 'nothing', amps: (batteryA(open) + batteryA(standing)) / 2, starterA: 0, from: shown(open), back: shown(standing) };
    }
    const standingA = starterA(standing, 0);
    if (standingA < 1.2 * this.#turningA) {
      const sound = standingA > 30 && this.#draws.chance(0.25) ? 'hum' : this.#stuck ? 'nothing' : 'one-click';
      return { sound, turning: 'nothing', amps: batteryA(standing), starterA: standingA, from: shown(standing) };
    }
    // The back-EMF at which the starter takes just the current that its torque asks for, by halving.
    let low = 0;
    let high = this.#batteryV;
    let turning = standing;
    for (let step = 0; step < 30; step++) {
      const backV = (low + high) / 2;
      turning = solve(wires(true, backV));
      if (starterA(turning, backV) > this.#turningA) low = backV;
      else high = backV;
    }
    const seen = this.#slips ? 'spins-without-engaging' : low < this.#slowV ? 'slow' : 'normal';
    const sound = seen === 'spins-without-engaging' ? this.#draws.pick(['hum', 'grinding', 'one-click'] as const) : this.#draws.pick(['hum', 'one-click', 'nothing'] as const);
    return { sound, turning: seen, amps: batteryA(turning), starterA: this.#turningA, from: shown(turning) };
  }
}

/** Most that one run of cable with its connectors, or a relay's contact, may lose while cranking (common practice, no source). */
const MOST_DROP_V = 0.3;

/** Least volts after 15 s at half the CCA, by temperature in Fahrenheit: customary table of the battery industry. */
const LEAST_UNDER_LOAD: readonly (readonly [fahrenheit: number, volts: number])[] = [[30, 9.1], [40, 9.3], [50, 9.4], [60, 9.5], [70, 9.6]];

/**
 * The machine of a seed, where it has one fault and no other: somebody would bring it in, without its fault it cranks, its battery passes
 * the customary load test unless it is the battery that is weak, which then fails it, and no good joint or contact loses more than custom allows.
 */
export function drawMachine(seed: number): BenchMachine | undefined {
  const machine = new BenchMachine(seed);
  if (machine.passesLoad === (machine.fault === 'battery-weak') || !machine.hasGoodJoints) return undefined;
  return machine.isComplaint && new BenchMachine(seed, true).cranks(true) === 'normal' ? machine : undefined;
}

/** Node voltages by Gaussian elimination with pivots; the minus post is nought. `volts` raises b above a. */
function solve(wires: readonly Wire[]): Map<Point, number> {
  const n = POINTS.length - 1;
  const at = (point: Point): number => POINTS.indexOf(point) - 1;
  const rows = Array.from({ length: n }, () => new Float64Array(n + 1));
  for (const { a, b, ohm, volts = 0 } of wires) {
    const g = 1 / ohm;
    const [i, j] = [at(a), at(b)];
    if (i >= 0) { rows[i]![i]! += g; rows[i]![n]! -= volts * g; if (j >= 0) rows[i]![j]! -= g; }
    if (j >= 0) { rows[j]![j]! += g; rows[j]![n]! += volts * g; if (i >= 0) rows[j]![i]! -= g; }
  }
  for (let k = 0; k < n; k++) {
    let pivot = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(rows[i]![k]!) > Math.abs(rows[pivot]![k]!)) pivot = i;
    [rows[k], rows[pivot]] = [rows[pivot]!, rows[k]!];
    for (let i = k + 1; i < n; i++) {
      const factor = rows[i]![k]! / rows[k]![k]!;
      if (factor !== 0) for (let j = k; j <= n; j++) rows[i]![j]! -= factor * rows[k]![j]!;
    }
  }
  const x = new Float64Array(n);
  for (let i = n - 1; i >= 0; i--) {
    let sum = rows[i]![n]!;
    for (let j = i + 1; j < n; j++) sum -= rows[i]![j]! * x[j]!;
    x[i] = sum / rows[i]![i]!;
  }
  return new Map(POINTS.map((point, index) => [point, index === 0 ? 0 : x[index - 1]!]));
}
