import { settingOf } from '../settings.ts';
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
const DEAD: NetsVerdict = { cranks: false, wrongStates: 1, ...NO_STATES };

/** Judges nets of one part on one machine. It keeps its circuit from one question to the next, so each costs a few small solutions. */
export class NetsJudge {
  readonly #machine: MachineSide;
  readonly #part: PartSide;
  readonly #trial: TrialCircuit;
  readonly #allIn: number;
  readonly #order: readonly JudgedState[];
  /** what was found of each position in the question at hand */
  readonly #seen: (PositionOutcome | undefined)[];

  constructor(machine: MachineSide, part: PartSide, trial: TrialCircuit) {
    this.#machine = machine;
    this.#part = part;
    this.#trial = trial;
    this.#allIn = 2 ** part.plungers.length - 1;
    this.#seen = machine.positions.map(() => undefined);
    this.#order = [...machine.states].sort((a, b) => Number(b.wantedIn) - Number(a.wantedIn));
  }

  /** @param heavy plungers of the contact between battery and starter, as bits */
  judge(nets: Uint8Array, heavy: number): NetsVerdict {
    const { positions } = this.#machine;
    let wrongStates = 0;
    const seen = this.#seen.fill(undefined);
    for (const state of this.#order) {
      const outcome = seen[state.position] ??= this.#settlePosition(nets, state.position, state.wantedIn ? heavy : -1, heavy);
      if (outcome === undefined) return DEAD;
      if (!this.#isRight(state, outcome, heavy)) {
        if (state.wantedIn) return DEAD;
        wrongStates++;
      }
    }
    if (wrongStates > 0) return { cranks: true, wrongStates, ...NO_STATES };

    const listed = this.#machine.states.filter((state) => state.listed).map((state) => {
      const { mask, starterLive, controlA } = seen[state.position]!.rest!;
      return { pulledIn: (mask & heavy) !== 0, starterLive, controlA: roundAmps(controlA) };
    });
    const settled = seen.flatMap((outcome, position) => [...new Set([outcome!.rest!.mask, outcome!.fromIn!.mask])].map((mask) => {
      this.#trial.lay(nets, positions[position]!);
      this.#trial.solve(mask);
      return { position, drawnA: this.#trial.drawnA() };
    }));
    return { cranks: true, wrongStates: 0, listed, settled, limitA: limitOf(this.#machine, this.#part, nets) };
  }

  /** @returns undefined as soon as `mustGoIn` (bits; -1: no such wish) does not go in from rest */
  #settlePosition(nets: Uint8Array, position: number, mustGoIn: number, heavy: number): PositionOutcome | undefined {
    this.#trial.lay(nets, this.#machine.positions[position]!);
    const rest = this.#settle(0, heavy);
    if (mustGoIn >= 0 && !(rest !== undefined && mustGoIn > 0 && (rest.mask & mustGoIn) === mustGoIn)) return undefined;
    return { rest, fromIn: rest !== undefined && rest.mask === this.#allIn ? rest : this.#settle(this.#allIn, heavy) };
  }

  /** Where the plungers come to rest from `start` in the circuit that is laid, and how all stands then; undefined where they never do. */
  #settle(start: number, heavy: number): Settled | undefined {
    const trial = this.#trial;
    const end = trial.settle(start);
    if (!end.settled) return undefined;
    // The last solution is the settled one.
    const { mask } = end;
    trial.joinThroughContacts(mask);
    return {
      mask, starterLive: trial.isStarterLive(), starterOnFeed: trial.areJoined(STARTER, CRANKING_FEED), feedLive: trial.areJoined(CRANKING_FEED, BATTERY),
      isHalfHeld: this.#isHalfHeld(heavy), controlA: trial.controlA(),
    };
  }

  /** Has a coil of these plungers more than what it is sure to let go at? */
  #isHalfHeld(plungers: number): boolean {
    for (let p = 0; p < this.#part.plungers.length; p++) {
      if ((plungers & (1 << p)) === 0) continue;
      for (const coil of this.#part.plungers[p]!) if (Math.abs(this.#trial.coilVolts(coil)) > this.#part.coils[coil]!.dropOutV) return true;
    }
    return false;
  }

  #isRight(state: JudgedState, { rest, fromIn }: PositionOutcome, heavy: number): boolean {
    if (rest === undefined || fromIn === undefined || !this.#isSettledRight(state, rest, heavy)) return false;
    return rest === fromIn || rest.mask === fromIn.mask || this.#isSettledRight(state, fromIn, heavy);
  }

  #isSettledRight(state: JudgedState, { mask, starterLive, starterOnFeed, feedLive, isHalfHeld }: Settled, heavy: number): boolean {
    if (state.wantedIn) {
      if (!starterLive || heavy === 0 || (mask & heavy) !== heavy) return false;
    } else {
      if (starterLive || isHalfHeld || (mask & heavy) !== 0) return false;
      if (state.engineRuns && (mask !== 0 || starterOnFeed)) return false;
    }
    return state.engineRuns || !this.#machine.has.crankingFeed || feedLive === starterLive;
  }
}

interface PositionOutcome {
  readonly rest: Settled | undefined;
  readonly fromIn: Settled | undefined;
}

interface Settled {
  readonly mask: number;
  readonly starterLive: boolean;
  readonly starterOnFeed: boolean;
  readonly feedLive: boolean;
  readonly isHalfHeld: boolean;
  readonly controlA: number;
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
