import type { ProveCase } from '../../../catalog-schema/index.ts';
import { batteryOhmFactor, CIRCUIT_FIGURES, CIRCUIT_SPREADS, loadTestLimitV, type Spread } from './fault-table.ts';
import type { Hypothesis } from './hypotheses.ts';

/** A machine's cranking circuit as one draw has it. Ohms above 0; an open place is off altogether. */
export interface Machine {
  batteryV: number;
  batteryOhm: number;
  plusPostOhm: number;
  batteryCableOhm: number;
  contactOhm: number;
  startCableOhm: number;
  starterOhm: number;
  engineGroundOhm: number;
  frameGroundOhm: number;
  minusPostOhm: number;
  switchOhm: number;
  coilOhm: number;
  returnOhm: number;
  /** volts across the coil at which it goes in, and at which it lets go */
  pullInV: number;
  dropOutV: number;
  /** current that keeps the starter turning: its torque by its constant */
  turningA: number;
  /** current that gets it turning */
  movingA: number;
  /** back-EMF below which it turns slowly */
  slowV: number;
  /** the start switch is fed from the battery clamp, else from the relay's battery stud */
  feedFromClamp: boolean;
  /** CCA of the battery */
  ccaA: number;
  /** departure of a load test from the model, sigmas */
  load: number;
  /** without its fault it would crank as it should */
  cranksWhenSound: boolean;
  /** how far the sound machine is from not moving the engine, and from turning it slowly, as a share; above 0: it would not */
  soundMoves: number;
  soundTurns: number;
  /** how far its battery is from where the customary load test has it, as a share of the limit: weak below, any other above; above 0: it is not there */
  loadsWrong: number;
}

/** So many independent standard normal numbers make a machine: one for each quantity, the last for the fault's severity. */
export const DRAWS = 22;
export const FEED = 18;
export const SEVERITY = 21;

/** A battery has some volts, however dead it is. */
const LEAST_BATTERY_V = 0.01;

/** Turns standard normal numbers into machines of one case: what is wrong with them is said by a hypothesis. */
export class MachineMaker {
  readonly nominalV: number;
  readonly celsius: number;
  readonly #scale: number;
  readonly #square: number;
  readonly #ccaA: number | undefined;
  readonly #batteryFactor: number;
  /** volts at the end of the customary load test below which a battery is weak */
  readonly #limitV: number;
  readonly #machine = {} as Machine;
  /** what was drawn last of each quantity: from one machine to the next often one quantity alone differs, and an exponential costs more than all else */
  readonly #lastZ = new Float64Array(DRAWS).fill(Number.NaN);
  readonly #lastDraw = new Float64Array(DRAWS);

  constructor({ nominalV, batteryCcaA, ambientC }: ProveCase['system']) {
    this.nominalV = nominalV;
    this.celsius = ambientC ?? 20;
    this.#scale = nominalV / 12;
    this.#square = this.#scale ** 2;
    this.#ccaA = batteryCcaA;
    this.#batteryFactor = batteryOhmFactor(this.celsius);
    this.#limitV = loadTestLimitV(this.celsius, CUSTOMARY_LOAD, nominalV);
  }

  /** One object is used over and over: read it before the next call. */
  make(z: Float64Array, { fault, place, open, faint, deep }: Hypothesis): Machine {
    const m = this.#machine;
    const s = CIRCUIT_SPREADS;
    const f = CIRCUIT_FIGURES;
    const square = this.#square;
    m.ccaA = this.#ccaA ?? this.#draw(s.cca, z, 0) / this.#scale;
    m.batteryV = (f.goodBatteryV.value + f.goodBatterySpreadV.value * z[1]!) * this.#scale;
    m.batteryOhm = this.#draw(s.batteryOhmOfCca, z, 2) * this.#scale / m.ccaA * this.#batteryFactor;
    m.plusPostOhm = this.#draw(s.joint, z, 3);
    m.minusPostOhm = this.#draw(s.joint, z, 4);
    m.batteryCableOhm = this.#draw(s.cable, z, 5);
    m.startCableOhm = this.#draw(s.cable, z, 6);
    m.engineGroundOhm = this.#draw(s.joint, z, 7);
    m.frameGroundOhm = this.#draw(s.cable, z, 8);
    m.contactOhm = this.#draw(s.contact, z, 9);
    m.starterOhm = this.#draw(s.starterOhm, z, 10) * square;
    m.turningA = this.#draw(s.crankingA, z, 11) / this.#scale;
    m.coilOhm = this.#draw(s.coilOhm, z, 12) * square;
    m.pullInV = within(f.pullInLow.value, f.pullInHigh.value, z[13]!) * this.nominalV;
    m.dropOutV = Math.min(within(f.dropOutLow.value, f.dropOutHigh.value, z[14]!) * this.nominalV, 0.95 * m.pullInV);
    m.switchOhm = this.#draw(s.switchOhm, z, 15) * square;
    m.returnOhm = this.#draw(s.returnOhm, z, 16) * square;
    m.slowV = (f.slowV.value + f.slowSpreadV.value * z[17]!) * this.#scale;
    m.feedFromClamp = isFedFromClamp(z);
    m.load = z[19]!;
    m.movingA = m.turningA * f.breakaway.value * Math.exp(f.breakawaySpread.value * z[20]!);
    judgeSound(m);
    const severity = z[SEVERITY]!;
    switch (fault) {
      case 'battery-weak':
        m.batteryV = Math.max(LEAST_BATTERY_V, deep === true ? f.flatBatteryV.value - draw(s.deepBatteryV, z[1]!) : Math.min(f.fullestBatteryV.value, f.weakBatteryV.value + f.weakBatterySpreadV.value * z[1]!)) * this.#scale;
        m.batteryOhm *= Math.max(1, draw(s.weakBatteryFactor, severity));
        break;
      case 'starter-dragging': turn(m, Math.max(1, draw(s.draggingFactor, severity))); break;
      case 'engine-locked': turn(m, draw(s.lockedFactor, severity)); break;
      case 'starter-drive': turn(m, draw(s.spinningA, severity) / this.#scale / m.turningA); break;
      default: if (place !== undefined && !open) worsen(m, place, severity, square, faint === true);
    }
    const loadedV = m.batteryV - CUSTOMARY_LOAD * m.ccaA * m.batteryOhm * f.loadSag.value;
    m.loadsWrong = (fault === 'battery-weak' ? loadedV - this.#limitV : this.#limitV - loadedV) / this.#limitV;
    return m;
  }

  #draw(spread: Spread, z: Float64Array, index: number): number {
    if (z[index] !== this.#lastZ[index]) {
      this.#lastZ[index] = z[index]!;
      this.#lastDraw[index] = draw(spread, z[index]!);
    }
    return this.#lastDraw[index]!;
  }
}

/** A load test takes half of the CCA for 15 s (customary practice of the battery industry). */
export const CUSTOMARY_LOAD = 0.5;

/** A starter that has to give so many times the torque. */
function turn(m: Machine, factor: number): void {
  m.turningA *= factor;
  m.movingA *= factor;
}

export function isFedFromClamp(z: Float64Array): boolean { return z[FEED]! < FEED_FROM_CLAMP_BELOW; }

/** Where the standard normal distribution has the share of machines fed from the clamp below it (0.35). */
const FEED_FROM_CLAMP_BELOW = -0.3853;

function worsen(m: Machine, place: NonNullable<Hypothesis['place']>, severity: number, square: number, faint: boolean): void {
  const s = CIRCUIT_SPREADS;
  const joint = faint ? s.badControlOhm : s.badJointOhm;
  switch (place) {
    case 'plus-post': m.plusPostOhm += draw(joint, severity); break;
    case 'minus-post': m.minusPostOhm += draw(joint, severity); break;
    case 'battery-cable': m.batteryCableOhm += draw(joint, severity); break;
    case 'start-cable': m.startCableOhm += draw(joint, severity); break;
    case 'contact': m.contactOhm += draw(joint, severity); break;
    case 'engine-ground': m.engineGroundOhm += draw(joint, severity); break;
    case 'frame-ground': m.frameGroundOhm += draw(joint, severity); break;
    case 'feed': m.switchOhm += draw(s.badControlOhm, severity) * square; break;
    case 'return': m.returnOhm += draw(s.badControlOhm, severity) * square; break;
    case 'starter': m.starterOhm *= Math.max(1, draw(s.wornBrushFactor, severity)); break;
    case 'coil': throw new Error('a coil is open or it is not');
    default: throw new Error(`no such place: ${place satisfies never}`);
  }
}

function draw({ median, sigma }: Spread, z: number): number { return median * Math.exp(sigma * z); }

/** Between two ends in 95 of 100 cases, and never far beyond them. */
function within(low: number, high: number, z: number): number {
  return (low + high) / 2 + (high - low) / 4 * Math.max(-2.8, Math.min(2.8, z));
}

/** Whether, before it had its fault, the current through all its ohms turned the engine, and not slowly. */
function judgeSound(m: Machine): void {
  const ohm = m.batteryOhm + m.plusPostOhm + m.minusPostOhm + m.batteryCableOhm + m.startCableOhm + m.engineGroundOhm + m.frameGroundOhm + m.contactOhm + m.starterOhm;
  m.soundMoves = 1 - m.batteryV / ohm / m.movingA;
  m.soundTurns = 1 - (m.batteryV - m.turningA * ohm) / m.slowV;
  m.cranksWhenSound = m.soundMoves <= 0 && m.soundTurns <= 0;
}
