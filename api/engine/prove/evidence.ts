import { intervalOf, type Observation } from '../../../catalog-schema/index.ts';
import { createState, indexOfNode, type CrankState, type CrankingCircuit, type Manner, type Motion, type Situation } from './cranking-circuit.ts';
import { CIRCUIT_FIGURES } from './fault-table.ts';
import type { Hypothesis } from './hypotheses.ts';
import type { Machine } from './machine.ts';

/** The circuit in every situation that is asked about; what is not asked about is as it was before. */
export type States = Readonly<Record<Situation, CrankState>>;

export function createStates(): States { return { off: createState(), on: createState(), bridged: createState() }; }

/**
 * What a meter would show, and how far from that the model may be. Of a relay that chatters: the middle, and half of the way between
 * contact open and closed, which no reading leaves.
 */
export interface Shown { value: number; sigma: number; half: number }

export function createShown(): Shown { return { value: 0, sigma: 0, half: 0 }; }

/** How uncertain a reading is, all in all; `own`: of the instrument. */
export function sigmaOf({ sigma, half }: Shown, own: number): number { return rootOfSquares(own, sigma, 2 * CIRCUIT_FIGURES.chatterShare.value * half); }

/** How far a reading is from what the machine would show, in sigmas; beyond both ends of a chatter the contact excuses nothing. */
export function residualOf(value: number, own: number, shown: Shown): number {
  const off = value - shown.value;
  const wide = sigmaOf(shown, own);
  if (Math.abs(off) <= shown.half || shown.half === 0) return off / wide;
  return Math.sign(off) * (shown.half / wide + (Math.abs(off) - shown.half) / rootOfSquares(own, shown.sigma));
}

/** A reading with a number: what a machine would show, and how far from that the model and the meter may be. */
export interface Reading {
  /** index in `seen` */
  readonly index: number;
  readonly value: number;
  /** of the instrument */
  readonly sigma: number;
  /** @param shown takes what the machine would show */
  predict(states: States, machine: Machine, shown: Shown): void;
}

/** Something seen or heard: how probable it is on a machine. */
export interface Sign {
  readonly index: number;
  probability(states: States, hypothesis: Hypothesis): number;
}

export interface Evidence {
  readonly readings: readonly Reading[];
  readonly signs: readonly Sign[];
  readonly situations: readonly Situation[];
}

export function collectEvidence(seen: readonly Observation[], nominalV: number): Evidence {
  const readings: Reading[] = [];
  const signs: Sign[] = [];
  const situations = new Set<Situation>(['on']);
  seen.forEach((observation, index) => {
    const situation = situationOf(observation);
    if (situation) situations.add(situation);
    const reading = readingOf(observation, index, nominalV);
    if (reading) readings.push(reading);
    else signs.push({ index, probability: (states, hypothesis) => probabilityOf(observation, states, hypothesis) });
  });
  return { readings, signs, situations: [...situations] };
}

/** Settles the circuit that was laid out last in each situation. */
export function settleAll(circuit: CrankingCircuit, situations: readonly Situation[], into: States): States {
  for (const situation of situations) circuit.settle(situation, into[situation]);
  return into;
}

/** The same with the situation at START settled in a chosen manner. */
export function settleAllAs(circuit: CrankingCircuit, situations: readonly Situation[], manner: Manner, over: Float64Array, into: States): States {
  for (const situation of situations) {
    if (situation === 'on') circuit.settleAs(manner, over, into.on);
    else circuit.settle(situation, into[situation]);
  }
  return into;
}

/** In which situation an observation is made; undefined where the cranking circuit has no part in it. */
function situationOf(observation: Observation): Situation | undefined {
  switch (observation.kind) {
    case 'sound': case 'crank': return observation.startSwitch === false ? 'off' : 'on';
    case 'volts': return observation.startSwitch ? 'on' : 'off';
    case 'amps': return 'on';
    case 'bridge-studs': return 'bridged';
    case 'turn-by-hand': case 'battery-load': return undefined;
    default: throw new Error(`no such observation: ${JSON.stringify(observation satisfies never)}`);
  }
}

function readingOf(observation: Observation, index: number, nominalV: number): Reading | undefined {
  switch (observation.kind) {
    case 'volts': {
      const { plus, minus, startSwitch } = observation;
      const from = indexOfNode(plus);
      const to = indexOfNode(minus);
      const { value, high } = intervalOf(observation.volts, 'voltmeter');
      return { index, value, sigma: (high - value) / 2, predict: (states, _machine, shown) => showVolts(startSwitch ? states.on : states.off, from, to, nominalV, shown) };
    }
    case 'amps': {
      const { value, high } = intervalOf(observation.amps, 'clamp');
      return {
        index, value, sigma: (high - value) / 2,
        predict: ({ on }, _machine, shown) => showAmps(on, shown),
      };
    }
    case 'battery-load': {
      const { ratioOfCca, seconds } = observation;
      const { value, high } = intervalOf(observation.volts, 'voltmeter');
      return {
        index, value, sigma: (high - value) / 2,
        predict: (_states, machine, shown) => {
          shown.value = voltsUnderLoad(machine, ratioOfCca, seconds);
          shown.sigma = CIRCUIT_FIGURES.modelV.value;
          shown.half = 0;
        },
      };
    }
    case 'sound': case 'crank': case 'bridge-studs': case 'turn-by-hand': return undefined;
    default: throw new Error(`no such observation: ${JSON.stringify(observation satisfies never)}`);
  }
}

/** What a battery shows at the end of a load test: it sags further the longer it is loaded. */
export function voltsUnderLoad({ batteryV, batteryOhm, ccaA, load }: Machine, ratioOfCca: number, seconds: number): number {
  const { loadSag, loadSpread } = CIRCUIT_FIGURES;
  const growth = 1 + (loadSag.value - 1) * Math.log1p(seconds) / Math.log1p(15);
  return Math.max(0, batteryV - ratioOfCca * ccaA * batteryOhm * growth * (1 + loadSpread.value * load));
}

/** What a meter shows between two points, and how far off the model may be. */
export function showVolts(state: CrankState, from: number, to: number, nominalV: number, shown: Shown): void {
  const f = CIRCUIT_FIGURES;
  if (state.island[from] !== state.island[to]) {
    shown.value = 0;
    shown.sigma = f.ghostV.value * nominalV / 12;
    shown.half = 0;
    return;
  }
  const value = state.volts[from]! - state.volts[to]!;
  shown.value = value;
  shown.sigma = rootOfSquares(f.modelV.value, (f.restShare.value + (f.modelShare.value - f.restShare.value) * Math.min(1, Math.abs(state.batteryA) / f.unevenA.value)) * value);
  shown.half = Math.abs(state.span[from]! - state.span[to]!) / 2;
}

/** What a clamp about the battery cable shows. */
export function showAmps({ batteryA, batterySpanA }: CrankState, shown: Shown): void {
  const f = CIRCUIT_FIGURES;
  shown.value = batteryA;
  shown.sigma = rootOfSquares(f.modelShare.value * batteryA, f.modelA.value);
  shown.half = Math.abs(batterySpanA) / 2;
}

/** Math.hypot takes ten times as long. */
export function rootOfSquares(a: number, b: number, c = 0): number { return Math.sqrt(a * a + b * b + c * c); }

type Heard = Extract<Observation, { kind: 'sound' }>['heard'];
type Cranked = Extract<Observation, { kind: 'crank' }>['seen'];
type Bridged = Extract<Observation, { kind: 'bridge-studs' }>['seen'];
type Turned = Extract<Observation, { kind: 'turn-by-hand' }>['seen'];

// How people report what they heard and saw: common practice, no source.
const HEARD: Readonly<Record<'silent' | 'chatters' | 'click' | Exclude<Motion, 'dead'>, Readonly<Record<Heard, number>>>> = {
  silent: { nothing: 0.96, 'one-click': 0.02, 'rapid-clicks': 0.004, hum: 0.012, grinding: 0.004 },
  chatters: { nothing: 0.005, 'one-click': 0.045, 'rapid-clicks': 0.925, hum: 0.02, grinding: 0.005 },
  click: { nothing: 0.035, 'one-click': 0.94, 'rapid-clicks': 0.01, hum: 0.01, grinding: 0.005 },
  stalled: { nothing: 0.03, 'one-click': 0.72, 'rapid-clicks': 0.01, hum: 0.23, grinding: 0.01 },
  slow: { nothing: 0.15, 'one-click': 0.36, 'rapid-clicks': 0.02, hum: 0.4, grinding: 0.07 },
  normal: { nothing: 0.35, 'one-click': 0.4, 'rapid-clicks': 0.02, hum: 0.16, grinding: 0.07 },
  spinning: { nothing: 0.08, 'one-click': 0.25, 'rapid-clicks': 0.02, hum: 0.35, grinding: 0.3 },
};
const CRANKED: Readonly<Record<Motion, Readonly<Record<Cranked, number>>>> = {
  dead: { nothing: 0.9858, slow: 0.01, normal: 0.0002, 'spins-without-engaging': 0.004 },
  stalled: { nothing: 0.9508, slow: 0.04, normal: 0.0002, 'spins-without-engaging': 0.009 },
  slow: { nothing: 0.05, slow: 0.937, normal: 0.003, 'spins-without-engaging': 0.01 },
  normal: { nothing: 0.004, slow: 0.05, normal: 0.936, 'spins-without-engaging': 0.01 },
  spinning: { nothing: 0.04, slow: 0.02, normal: 0.002, 'spins-without-engaging': 0.938 },
};
/** With the switch off nobody listens for the starter: a standing engine is seen to stand. */
const STANDS_OFF: Readonly<Record<Cranked, number>> = { nothing: 0.9955, slow: 0.003, normal: 0.0002, 'spins-without-engaging': 0.0013 };
const BRIDGED: Readonly<Record<Motion, Readonly<Record<Bridged, number>>>> = {
  dead: { nothing: 0.93, slow: 0.008, normal: 0.002, 'spark-only': 0.06 },
  stalled: { nothing: 0.1, slow: 0.03, normal: 0.002, 'spark-only': 0.868 },
  slow: { nothing: 0.03, slow: 0.87, normal: 0.06, 'spark-only': 0.04 },
  normal: { nothing: 0.005, slow: 0.05, normal: 0.94, 'spark-only': 0.005 },
  spinning: { nothing: 0.57, slow: 0.06, normal: 0.02, 'spark-only': 0.35 },
};
const TURNED: Readonly<Record<'locked' | 'turns', Readonly<Record<Turned, number>>>> = {
  locked: { free: 0.002, stiff: 0.028, locked: 0.97 },
  turns: { free: 0.935, stiff: 0.0642, locked: 0.0008 },
};

/** Of machines whose relay is stuck closed, how many are told to crank well without a word of their cranking by themselves. */
const STUCK_NOT_SAID = 0.01;

/** How probable it is that this is what was seen or heard. */
export function probabilityOf(observation: Observation, states: States, hypothesis: Hypothesis): number {
  switch (observation.kind) {
    case 'sound': {
      const off = observation.startSwitch === false;
      return HEARD[soundOf(off ? states.off : states.on, hypothesis)][observation.heard];
    }
    case 'crank': {
      const off = observation.startSwitch === false;
      const { motion } = off ? states.off : states.on;
      const chance = (off && motion === 'dead' ? STANDS_OFF : CRANKED[motion])[observation.seen];
      return !off && observation.seen === 'normal' && hypothesis.fault === 'relay-stuck-closed' ? chance * STUCK_NOT_SAID : chance;
    }
    case 'bridge-studs': return BRIDGED[states.bridged.motion][observation.seen];
    case 'turn-by-hand': return TURNED[hypothesis.fault === 'engine-locked' ? 'locked' : 'turns'][observation.seen];
    case 'volts': case 'amps': case 'battery-load': throw new Error(`${observation.kind} is a reading`);
    default: throw new Error(`no such observation: ${JSON.stringify(observation satisfies never)}`);
  }
}

function soundOf(state: CrankState, { fault }: Hypothesis): keyof typeof HEARD {
  if (state.relay === 'chatters') return 'chatters';
  if (state.motion !== 'dead') return state.motion;
  return state.relay === 'out' || fault === 'relay-stuck-closed' ? 'silent' : 'click';
}

/** A machine with a fault does not crank as it should, and one without does: how far a draw may count for its hypothesis. */
export function chanceOfComplaint({ motion }: Manner, { fault }: Hypothesis): number {
  if (fault === 'relay-stuck-closed') return 1;
  if (fault === 'none') return motion === 'normal' ? 1 : 0;
  return motion === 'normal' ? CIRCUIT_FIGURES.crankingFault.value : 1;
}
