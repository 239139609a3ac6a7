import { solveNetwork, type Network, type NetworkElement, type NetworkSolution } from './solve-network.ts';

/** Coils that move one plunger together. */
export interface Plunger {
  readonly id: string;
  readonly coils: readonly RelayCoil[];
}

export interface RelayCoil {
  readonly between: readonly [string, string];
  readonly ohm: number;
  /** the plunger goes in once every coil has this or more, V */
  readonly pullInV: number;
  /** it stays in while the signed sum of the coils' currents exceeds the least dropOutV / ohm, V */
  readonly dropOutV: number;
}

export interface RelayNetwork {
  readonly ground: string;
  readonly elements: readonly (NetworkElement | RelayContact)[];
  readonly plungers: readonly Plunger[];
}

/** A contact moved by a plunger: NO is closed while the plunger is in, NC while it is out. */
export interface RelayContact {
  readonly kind: 'relay-contact';
  readonly between: readonly [string, string];
  readonly form: 'NO' | 'NC';
  readonly plunger: string;
  readonly ohm?: number;
}

export type RelayOutcome =
  | { readonly kind: 'settled'; readonly pulledIn: readonly string[]; readonly solution: NetworkSolution }
  /** the states it goes round for ever, in order: the relay is heard as rapid clicks */
  | { readonly kind: 'chatters'; readonly cycle: readonly { readonly pulledIn: readonly string[]; readonly solution: NetworkSolution }[] };

/**
 * Let the relays of a network come to rest: solve, move every plunger that must move, solve again.
 * `solution.amps` has the contacts and sources in the order of `elements`, then one entry for each coil of each plunger.
 * @param pulledIn plungers that are in at the start; none when absent
 */
export function settleRelays(network: RelayNetwork, pulledIn: readonly string[] = []): RelayOutcome {
  const { plungers } = network;
  if (plungers.length > MOST_PLUNGERS) throw new RangeError(`settleRelays: ${plungers.length} plungers, want ${MOST_PLUNGERS} at most`);
  const solutions = new Map<number, NetworkSolution>();
  const solveIn = (mask: number): NetworkSolution => {
    const known = solutions.get(mask);
    if (known) return known;
    const solution = solveNetwork(setContacts(network, mask));
    solutions.set(mask, solution);
    return solution;
  };
  const move = (mask: number): number => {
    const { volts } = solveIn(mask);
    let next = mask;
    plungers.forEach((plunger, p) => {
      const coilVolts = plunger.coils.map((coil) => volts.get(coil.between[0])! - volts.get(coil.between[1])!);
      if (staysOrGoesIn((mask & (1 << p)) !== 0, plunger.coils, coilVolts)) next |= 1 << p;
      else next &= ~(1 << p);
    });
    return next;
  };
  const nameOf = (mask: number): string[] => plungers.filter((_, p) => (mask & (1 << p)) !== 0).map((plunger) => plunger.id);
  const start = plungers.reduce((mask, plunger, p) => (pulledIn.includes(plunger.id) ? mask | (1 << p) : mask), 0);
  const end = settlePlungers(start, move);
  if (end.settled) return { kind: 'settled', pulledIn: nameOf(end.mask), solution: solveIn(end.mask) };
  return { kind: 'chatters', cycle: end.cycle.map((mask) => ({ pulledIn: nameOf(mask), solution: solveIn(mask) })) };
}

/** Plungers are kept as bits of one number. */
export const MOST_PLUNGERS = 30;

export type SettledPlungers =
  | { readonly settled: true; readonly mask: number }
  | { readonly settled: false; readonly cycle: readonly number[] };

/**
 * Follow `move` from `start` until nothing moves, or until a state comes back: then the states from its first visit on are a cycle.
 * All plungers move at once in each round.
 */
export function settlePlungers(start: number, move: (mask: number) => number): SettledPlungers {
  let mask = start;
  let next = move(mask);
  if (next === mask) return { settled: true, mask };
  const visited = [mask];
  for (;;) {
    mask = next;
    const first = visited.indexOf(mask);
    if (first >= 0) return { settled: false, cycle: visited.slice(first) };
    visited.push(mask);
    next = move(mask);
    if (next === mask) return { settled: true, mask };
  }
}

/** The plunger rule: in from out needs every coil at its pull-in; staying in needs the signed sum of currents. No coils: never in. */
export function staysOrGoesIn(
  isIn: boolean,
  coils: readonly { readonly ohm: number; readonly pullInV: number; readonly dropOutV: number }[],
  volts: ArrayLike<number>,
): boolean {
  if (coils.length === 0) return false;
  if (!isIn) {
    for (let i = 0; i < coils.length; i++) if (Math.abs(volts[i]!) < coils[i]!.pullInV) return false;
    return true;
  }
  let sumA = 0;
  let leastA = Infinity;
  for (let i = 0; i < coils.length; i++) {
    const coil = coils[i]!;
    sumA += volts[i]! / coil.ohm;
    leastA = Math.min(leastA, coil.dropOutV / coil.ohm);
  }
  return Math.abs(sumA) > leastA;
}

function setContacts(network: RelayNetwork, mask: number): Network {
  const isIn = new Map(network.plungers.map((plunger, p) => [plunger.id, (mask & (1 << p)) !== 0]));
  const elements = network.elements.map((element): NetworkElement => {
    if (element.kind !== 'relay-contact') return element;
    const pulled = isIn.get(element.plunger);
    if (pulled === undefined) throw new RangeError(`settleRelays: no plunger ${element.plunger}`);
    const closed = pulled === (element.form === 'NO');
    return { kind: 'contact', between: element.between, closed, ...(element.ohm === undefined ? {} : { ohm: element.ohm }) };
  });
  const coils = network.plungers.flatMap((plunger) => plunger.coils.map((coil): NetworkElement => (
    { kind: 'resistor', between: coil.between, ohm: coil.ohm })));
  return { ground: network.ground, elements: [...elements, ...coils] };
}
