import type { RefusalCode } from '../../../catalog-schema/index.ts';
import { CRANKING_FEED, STARTER, BATTERY, type JudgedState, type MachineSide, type MachineWire } from './machine-side.ts';
import { coilsOf, limitOf } from './nets-judge.ts';
import type { PartSide } from './part-side.ts';
import type { Jumper } from './jumper-sets.ts';
import type { TrialCircuit, Trials, Variant } from './trial-circuit.ts';
import { findWireAmps, isOverLimit, listLimited, type Ties } from './wire-currents.ts';

/** One thing that would go wrong, with the figures that say how badly. */
export interface Trouble {
  readonly code: RefusalCode;
  readonly state: JudgedState;
  /** seen when the switches come to this state with the relay in, and not from rest */
  readonly fromIn: boolean;
  /** the wire or jumper that carries too much, and what it may carry */
  readonly overloaded?: MachineWire | Jumper;
  readonly amps?: number;
  readonly limitA?: number;
  /** does the current pass a contact that the relay has closed? */
  readonly throughContact?: boolean;
  /** the coil that tells (its number in the part), what it gets */
  readonly coil?: number;
  readonly volts?: number;
}

/** A wiring to be explained; it need not obey the rules of placing. */
export interface Wiring extends Ties {
  /** nets with the panel as it stands */
  readonly nets: Uint8Array;
  readonly heavy: number;
}

/**
 * Everything that would be wrong with a wiring, in each judged state, reached from rest and from the relay in. Empty when it is right.
 * Slower than the judge of the search and apart from it, since it looks on where that one stops.
 */
export function findTroubles(machine: MachineSide, part: PartSide, trials: Trials, wiring: Wiring): Trouble[] {
  const troubles: Trouble[] = [];
  const allIn = 2 ** part.plungers.length - 1;
  for (const state of machine.states) {
    const fromRest = inspectState(machine, part, trials, wiring, state, 0);
    troubles.push(...fromRest);
    const heldIn = inspectState(machine, part, trials, wiring, state, allIn);
    // What is wrong from rest already is not told again as what stays wrong.
    const restOff = !state.startSwitch && !state.engineRuns && fromRest.some((t) => OFF_CODES.has(t.code));
    troubles.push(...heldIn.filter((t) => !(restOff && OFF_CODES.has(t.code))).map((t) => ({ ...t, fromIn: true })));
  }
  return troubles;
}

const OFF_CODES: ReadonlySet<RefusalCode> = new Set<RefusalCode>(['starter-always-live', 'always-pulled-in', 'latches']);

function inspectState(
  machine: MachineSide, part: PartSide, trials: Trials, wiring: Wiring, state: JudgedState, start: number,
): Trouble[] {
  const { nets, heavy } = wiring;
  const position = machine.positions[state.position]!;
  const base = { state, fromIn: false };
  const trial = trials.of('whole');
  trial.lay(nets, position);
  const end = trial.settle(start);
  if (!end.settled) {
    for (const mask of end.cycle) {
      const over = findOverloads(machine, part, trials, wiring, state, mask, 'coils-out')[0];
      if (!over) continue;
      const withoutDiodes = findOverloads(machine, part, trials, wiring, state, mask, 'coils-and-diodes-out');
      const code = withoutDiodes.length > 0 ? 'shorts-a-wire' : 'polarity';
      return [{ ...base, code, ...over, throughContact: mask !== 0 }];
    }
    const coil = coilsOf(part, heavy)[0];
    trial.solve(end.cycle.find((mask) => mask !== 0) ?? 0);
    return [{ ...base, code: 'chatters', ...(coil === undefined ? {} : { coil, volts: Math.abs(trial.coilVolts(coil)) }) }];
  }

  const troubles: Trouble[] = [];
  const { mask } = end;
  trial.solve(mask);
  const heavyCoils = coilsOf(part, heavy);
  const voltsOf = (coil: number): number => Math.abs(trial.coilVolts(coil));
  const starterA = trial.starterA();
  trial.joinThroughContacts(mask);
  const starterLive = trial.isStarterLive();
  const feedLive = trial.areJoined(CRANKING_FEED, BATTERY);
  const starterOnFeed = trial.areJoined(STARTER, CRANKING_FEED);
  const isIn = (mask & heavy) !== 0;
  const halfHeld = heavyCoils.find((coil) => voltsOf(coil) > part.coils[coil]!.dropOutV);
  const weakest = [...heavyCoils].sort((a, b) => voltsOf(a) / part.coils[a]!.pullInV - voltsOf(b) / part.coils[b]!.pullInV)[0];
  const withCoil = (coil: number | undefined) => (coil === undefined ? {} : { coil, volts: voltsOf(coil) });

  if (state.wantedIn) {
    if (heavy === 0 || (mask & heavy) !== heavy || !starterLive) {
      troubles.push({ ...base, code: cranksWithDiodesTurned(part, trials, wiring, position) ? 'polarity' : 'never-pulls-in', ...withCoil(weakest) });
    }
  } else if (state.engineRuns) {
    if (mask !== 0 || starterLive || starterOnFeed || halfHeld !== undefined) {
      troubles.push({ ...base, code: 'back-feeds', ...withCoil(halfHeld ?? weakest), amps: starterA });
    }
  } else if (isIn || starterLive || halfHeld !== undefined) {
    troubles.push({ ...base, code: codeOfLive(part, state, start, mask, isIn, starterLive, trial), ...withCoil(halfHeld ?? weakest), amps: starterA });
  }
  if (!state.engineRuns && machine.has.crankingFeed && feedLive !== starterLive) troubles.push({ ...base, code: 'cranking-feed-lost' });
  for (const over of findOverloads(machine, part, trials, wiring, state, mask, 'whole')) {
    const sameWire = (other: { overloaded: MachineWire | Jumper }): boolean => other.overloaded === over.overloaded;
    const coilsOut = findOverloads(machine, part, trials, wiring, state, mask, 'coils-out').some(sameWire);
    const allOut = coilsOut && findOverloads(machine, part, trials, wiring, state, mask, 'coils-and-diodes-out').some(sameWire);
    troubles.push({ ...base, code: !coilsOut ? 'over-fuse' : allOut ? 'shorts-a-wire' : 'polarity', ...over, throughContact: mask !== 0 });
  }
  return troubles;
}

function codeOfLive(
  part: PartSide, state: JudgedState, start: number, mask: number, isIn: boolean, starterLive: boolean, trial: TrialCircuit,
): RefusalCode {
  if (state.startSwitch) return 'defeats-interlock';
  if (start !== 0) return 'latches';
  if (starterLive) {
    trial.joinThroughContacts(0);
    if (trial.isStarterLive() || part.plungers.length === 0) return 'starter-always-live';
  }
  if (isIn || mask !== 0) return 'always-pulled-in';
  return 'latches';
}

function cranksWithDiodesTurned(part: PartSide, trials: Trials, wiring: Wiring, position: MachineSide['positions'][number]): boolean {
  if (part.diodes.length === 0 || wiring.heavy === 0) return false;
  const trial = trials.of('diodes-turned');
  trial.lay(wiring.nets, position);
  const end = trial.settle(0);
  if (!end.settled || (end.mask & wiring.heavy) !== wiring.heavy) return false;
  trial.joinThroughContacts(end.mask);
  return trial.isStarterLive();
}

function findOverloads(
  machine: MachineSide, part: PartSide, trials: Trials, wiring: Wiring, state: JudgedState, mask: number, variant: Variant,
): { overloaded: MachineWire | Jumper; amps: number; limitA: number }[] {
  const trial = trials.of(variant);
  trial.lay(wiring.nets, machine.positions[state.position]!);
  trial.solve(mask);
  const amps = findWireAmps(machine, part, wiring, state.position, trial.drawnA());
  const limitA = limitOf(machine, part, wiring.nets);
  return listLimited(machine, part, wiring).filter((tie) => isOverLimit(amps[tie]!, limitA)).map((tie) => ({
    overloaded: machine.wires[tie] ?? wiring.jumpers[tie - machine.wires.length]!, amps: Math.abs(amps[tie]!), limitA,
  })).sort((a, b) => b.amps - a.amps);
}
