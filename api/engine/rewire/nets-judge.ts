import { settingOf } from '../settings.ts';
import type { SettledPlungers } from '../circuit/index.ts';
import { BATTERY, CRANKING_FEED, START_SWITCH, STARTER, type JudgedState, type MachineSide } from './machine-side.ts';
import type { PartSide } from './part-side.ts';
import type { TrialCircuit } from './trial-circuit.ts';

/** What the rules say of one way to join the nets, before the current of each single wire is looked at. */
export interface NetsVerdict {
  /** pulls in from rest and feeds the starter when it should */
  readonly cranks: boolean;
  /** judged states that are not as they should be; only the wanted-in one where it does not crank */
  readonly wrongStates: number;
  /** values of the listed states, settled from rest; empty unless right */
  readonly listed: readonly { readonly pulledIn: boolean; readonly starterLive: boolean; readonly controlA: number }[];
  /** what each node draws in every settled state, for the currents of the wires; empty unless right */
  readonly settled: readonly { readonly position: number; readonly drawnA: Float64Array }[];
  /** most a wire may carry, A */
  readonly limitA: number;
}

const NO_STATES = { listed: [], settled: [], limitA: 0 } as const;

/** Judges nets of one part on one machine. It keeps its circuit from one question to the next, so each costs a few small solutions. */
export class NetsJudge {
  readonly #machine: MachineSide;
  readonly #part: PartSide;
  readonly #trial: TrialCircuit;
  readonly #allIn: number;
  readonly #order: readonly JudgedState[];

  constructor(machine: MachineSide, part: PartSide, trial: TrialCircuit) {
    this.#machine = machine;
    this.#part = part;
    this.#trial = trial;
    this.#allIn = 2 ** part.plungers.length - 1;
    this.#order = [...machine.states].sort((a, b) => Number(b.wantedIn) - Number(a.wantedIn));
  }

  /** @param heavy plungers of the contact between battery and starter, as bits */
  judge(nets: Uint8Array, heavy: number): NetsVerdict {
    const { positions } = this.#machine;
    let wrongStates = 0;
    const seen: (PositionOutcome | undefined)[] = positions.map(() => undefined);
    for (const state of this.#order) {
      const outcome = seen[state.position] ??= this.#settlePosition(nets, state.position, state.wantedIn ? heavy : -1);
      if (outcome === undefined) return { cranks: false, wrongStates: 1, ...NO_STATES };
      if (!this.#isRight(nets, state, outcome, heavy)) {
        if (state.wantedIn) return { cranks: false, wrongStates: 1, ...NO_STATES };
        wrongStates++;
      }
    }
    if (wrongStates > 0) return { cranks: true, wrongStates, ...NO_STATES };

    const listed = this.#machine.states.filter((state) => state.listed).map((state) => {
      const rest = seen[state.position]!.rest;
      const mask = rest.settled ? rest.mask : 0;
      this.#trial.lay(nets, positions[state.position]!);
      this.#trial.solve(mask);
      this.#trial.joinThroughContacts(mask);
      return {
        pulledIn: (mask & heavy) !== 0, starterLive: this.#trial.isStarterLive(), controlA: roundAmps(this.#trial.controlA()),
      };
    });
    const settled = seen.flatMap((outcome, position) => [...new Set([maskOf(outcome!.rest), maskOf(outcome!.fromIn)])].map((mask) => {
      this.#trial.lay(nets, positions[position]!);
      this.#trial.solve(mask);
      return { position, drawnA: this.#trial.drawnA() };
    }));
    return { cranks: true, wrongStates: 0, listed, settled, limitA: limitOf(this.#machine, this.#part, nets) };
  }

  /** @returns undefined as soon as `mustGoIn` (bits; -1: no such wish) does not go in from rest */
  #settlePosition(nets: Uint8Array, position: number, mustGoIn: number): PositionOutcome | undefined {
    this.#trial.lay(nets, this.#machine.positions[position]!);
    const rest = this.#trial.settle(0);
    if (mustGoIn >= 0 && !(rest.settled && mustGoIn > 0 && (rest.mask & mustGoIn) === mustGoIn)) return undefined;
    const fromIn = rest.settled && rest.mask === this.#allIn ? rest : this.#trial.settle(this.#allIn);
    return { rest, fromIn };
  }

  #isRight(nets: Uint8Array, state: JudgedState, outcome: PositionOutcome, heavy: number): boolean {
    const { rest, fromIn } = outcome;
    if (!rest.settled || !fromIn.settled) return false;
    if (!this.#isMaskRight(nets, state, rest.mask, heavy)) return false;
    return rest.mask === fromIn.mask || this.#isMaskRight(nets, state, fromIn.mask, heavy);
  }

  #isMaskRight(nets: Uint8Array, state: JudgedState, mask: number, heavy: number): boolean {
    const trial = this.#trial;
    trial.lay(nets, this.#machine.positions[state.position]!);
    trial.joinThroughContacts(mask);
    const starterLive = trial.isStarterLive();
    const { crankingFeed } = this.#machine.has;
    if (state.wantedIn) {
      if (!starterLive || heavy === 0 || (mask & heavy) !== heavy) return false;
    } else {
      if (starterLive || (mask & heavy) !== 0) return false;
      if (state.engineRuns && (mask !== 0 || trial.areJoined(STARTER, CRANKING_FEED))) return false;
      trial.solve(mask);
      for (const coil of coilsOf(this.#part, heavy)) if (Math.abs(trial.coilVolts(coil)) > this.#part.coils[coil]!.dropOutV) return false;
    }
    return state.engineRuns || !crankingFeed || trial.areJoined(CRANKING_FEED, BATTERY) === starterLive;
  }
}

interface PositionOutcome {
  readonly rest: SettledPlungers;
  readonly fromIn: SettledPlungers;
}

/** Coils of these plungers (bits). */
export function coilsOf(part: PartSide, plungers: number): number[] {
  return part.plungers.flatMap((coils, p) => ((plungers & (1 << p)) !== 0 ? [...coils] : []));
}

/** Most that a wire other than battery and starter may carry with these nets, A. */
export function limitOf(machine: MachineSide, part: PartSide, nets: Uint8Array): number {
  if (machine.controlFuseA !== undefined) return machine.controlFuseA;
  let coilA = 0;
  for (const coil of part.coils) {
    const isFed = [coil.a, coil.b].some((node) => node < nets.length && nets[node] === nets[START_SWITCH]);
    if (isFed) coilA += machine.nominalV / coil.ohm;
  }
  return Math.max(settingOf('leastWireLimitA'), settingOf('wireLimitOfCoilCurrent') * coilA);
}

/** Below this a current is rounding, not a current, A. */
const LEAST_LISTED_A = 1e-6;

/** Six significant digits, as every listed current; never -0. */
function roundAmps(amps: number): number {
  return Math.abs(amps) < LEAST_LISTED_A ? 0 : Number(amps.toPrecision(6));
}

function maskOf(outcome: SettledPlungers): number {
  if (!outcome.settled) throw new Error('maskOf: plungers that do not settle have no state of rest');
  return outcome.mask;
}
