import type { BenchRecord, MachineSystem, RecordTerminal, Refusal, Wire } from '../../../catalog-schema/index.ts';
import { CIRCUIT_CONSTANTS } from '../circuit/index.ts';
import { settingOf } from '../settings.ts';

/** Points of the machine that a wire can lead to. Node 0 is chassis, 0 V. The part's own nodes are numbered from FIRST_PART_NODE. */
export const CHASSIS = 0;
export const BATTERY = 1;
export const STARTER = 2;
export const START_SWITCH = 3;
export const INTERLOCKED_RETURN = 4;
export const CRANKING_FEED = 5;
export const FIRST_PART_NODE = 6;

export type Role = 'battery' | 'starter' | 'start-switch' | 'chassis' | 'interlocked-return' | 'cranking-feed' | 'tap';

export interface MachineWire {
  readonly tag: string;
  readonly role: Role;
  /** the machine's point it leads to */
  readonly leadsTo: number;
  readonly wasOn: string;
  /** what the record knows of the terminal it was on */
  readonly oldTerminal: RecordTerminal | undefined;
  readonly end: Wire['end'];
  readonly colour: string | undefined;
}

/** One setting of everything outside that decides what flows. */
export interface SwitchPosition {
  readonly startLive: boolean;
  readonly returnClosed: boolean;
  readonly feedDriven: boolean;
}

export interface JudgedState {
  readonly startSwitch: boolean;
  readonly interlocks: boolean;
  readonly engineRuns: boolean;
  /** should the relay be in and the starter live? */
  readonly wantedIn: boolean;
  /** index in `positions` */
  readonly position: number;
  /** false for the second look at the running engine (interlocks open), which is judged and not listed */
  readonly listed: boolean;
}

export interface MachineSide {
  readonly system: MachineSystem;
  readonly nominalV: number;
  readonly controlOhm: number;
  /** the ends of the interval in which the record has it; none where it is given without one */
  readonly controlOhmEnds: readonly number[];
  readonly controlFuseA: number | undefined;
  readonly interlocks: 'in-return' | 'in-feed' | 'both' | 'none';
  readonly interlocksAssumed: boolean;
  readonly panelGrounded: boolean | undefined;
  readonly wires: readonly MachineWire[];
  readonly has: { readonly interlockedReturn: boolean; readonly crankingFeed: boolean; readonly starter: boolean };
  readonly positions: readonly SwitchPosition[];
  readonly states: readonly JudgedState[];
  /** why nothing can be judged: a wire not traced, or battery, starter or start switch not recorded */
  readonly refusals: readonly Refusal[];
}

/** Read what a bench record says of the machine around the part. */
export function readMachine(record: BenchRecord): MachineSide {
  const oldTerminals = new Map((record.terminals ?? []).map((terminal) => [terminal.id, terminal]));
  const wires: MachineWire[] = [];
  const refusals: Refusal[] = [];
  for (const wire of record.wires ?? []) {
    const role = wire.leadsTo;
    if (role === undefined || role === 'unknown') {
      refusals.push({ code: 'wire-not-traced', why: describeTracing(wire) });
      continue;
    }
    wires.push({
      tag: wire.tag, role, leadsTo: pointOf(role), wasOn: wire.wasOn, oldTerminal: oldTerminals.get(wire.wasOn), end: wire.end, colour: wire.colour,
    });
  }
  if (refusals.length === 0) {
    for (const [role, words] of REQUIRED) if (!wires.some((wire) => wire.role === role)) refusals.push(describeMissing(words));
  }
  const has = {
    interlockedReturn: wires.some((wire) => wire.role === 'interlocked-return'),
    crankingFeed: wires.some((wire) => wire.role === 'cranking-feed'),
    starter: wires.some((wire) => wire.role === 'starter'),
  };
  const stated = record.system.interlocks;
  const interlocks = stated ?? (has.interlockedReturn ? 'in-return' : 'in-feed');
  const given = record.demand?.controlOhm;
  const controlOhm = given === undefined ? settingOf('controlOhm') : typeof given === 'number' ? given : given.value;
  return {
    system: record.system,
    nominalV: record.system.nominalV,
    controlOhm: Math.max(controlOhm, CIRCUIT_CONSTANTS.bareOhm.value),
    controlOhmEnds: typeof given !== 'object' ? [] : [given.value - given.plusMinus, given.value + given.plusMinus].map((ohm) => Math.max(ohm, CIRCUIT_CONSTANTS.bareOhm.value)),
    controlFuseA: record.demand?.controlFuseA,
    interlocks,
    interlocksAssumed: stated === undefined && !has.interlockedReturn,
    panelGrounded: record.mounting?.panelGrounded,
    wires, has, refusals,
    ...listStates(interlocks, has),
  };
}

/** A wire that must be there is not in the record. */
export function describeMissing(words: string): Refusal {
  return { code: 'wire-not-traced', why: `No wire of this record leads to ${words}: hang every wire of the old part and trace it.` };
}

const REQUIRED: readonly (readonly [Role, string])[] = [
  ['battery', 'the battery'], ['start-switch', 'the start switch'],
];

function pointOf(role: Role): number {
  switch (role) {
    case 'battery': case 'tap': return BATTERY;
    case 'starter': return STARTER;
    case 'start-switch': return START_SWITCH;
    case 'chassis': return CHASSIS;
    case 'interlocked-return': return INTERLOCKED_RETURN;
    case 'cranking-feed': return CRANKING_FEED;
    default: return refuseRole(role);
  }
}

function refuseRole(role: never): never {
  throw new TypeError(`unknown role ${JSON.stringify(role)}`);
}

/** The states to judge, and the distinct settings of the switches they need. */
export function listStates(
  interlocks: MachineSide['interlocks'], has: MachineSide['has'],
): { positions: SwitchPosition[]; states: JudgedState[] } {
  const positions: SwitchPosition[] = [];
  const positionOf = (startLive: boolean, interlocksClosed: boolean, feedDriven: boolean): number => {
    // Without a wire to it the state of the return changes nothing: one solution serves both.
    const returnClosed = interlocksClosed && has.interlockedReturn;
    const known = positions.findIndex((p) => p.startLive === startLive && p.returnClosed === returnClosed && p.feedDriven === feedDriven);
    return known >= 0 ? known : positions.push({ startLive, returnClosed, feedDriven }) - 1;
  };
  const states: JudgedState[] = [];
  for (const startSwitch of [false, true]) {
    for (const closed of [false, true]) {
      if (interlocks === 'none' && !closed) continue;
      // Ahead of the start-switch wire an open interlock leaves the wire dead; in the return it leaves it live.
      const startLive = startSwitch && (closed || interlocks !== 'in-feed');
      states.push({
        startSwitch, interlocks: closed, engineRuns: false, wantedIn: startSwitch && closed, listed: true,
        position: positionOf(startLive, closed, false),
      });
    }
  }
  if (has.crankingFeed) {
    for (const closed of interlocks === 'none' || !has.interlockedReturn ? [true] : [true, false]) {
      states.push({
        startSwitch: false, interlocks: closed, engineRuns: true, wantedIn: false, listed: closed, position: positionOf(false, closed, true),
      });
    }
  }
  return { positions, states };
}

function describeTracing(wire: Wire): string {
  const colour = wire.colour === undefined ? '' : ` (${wire.colour})`;
  return `Wire ${wire.tag}${colour} is not traced. Off its terminal and touching nothing, measure its end against battery minus: `
    + 'volts at rest make it battery or tap, volts only with the start switch on the start switch, volts only while the engine runs a cranking feed; '
    + 'without volts, take the battery minus off and measure ohms to chassis: 0 Ohm always is chassis, 0 Ohm only with seat, brake and blades '
    + 'as for starting is the interlocked return, a few hundredths of an ohm through a heavy cable the starter.';
}
