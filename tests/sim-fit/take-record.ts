import type { BenchRecord, Measured, RecordTerminal, Wire } from '../../catalog-schema/index.ts';
import type { Draws } from '../sim-identify/random.ts';
import { heavyContactOf } from './judge-wiring.ts';
import { THREAD_MM, THREAD_PITCH_MM } from './threads-known.ts';
import type { Machine } from './truth.ts';

// What a technician writes down of a machine and its removed part: some of it, and each figure a little off. Instruments are worse than the
// product takes them to be: wider by a fifth, and shifted.

/** Shares of what is written down: of the readings, and of the plain facts that whoever works the machine can answer without an instrument. */
export interface Taking { readonly readings: number; readonly facts: number }

/**
 * Plain facts are the class of the removed part, the kind of interlocks, whether the panel may be drilled, how long and whether continuously the
 * part is on, the temperatures and the sealing it works at, and what is printed on fuse and start switch. All else is a reading.
 */
export const LEVELS = {
  full: { readings: 1, facts: 1 }, 'half measured': { readings: 0.5, facts: 1 }, half: { readings: 0.5, facts: 0.5 }, few: { readings: 0.2, facts: 0.2 },
} as const satisfies Record<string, Taking>;
export type Level = keyof typeof LEVELS;
/** Kinds of reading that can be left out as a whole. */
export const KINDS = ['terminals', 'ohms', 'mounting', 'wires', 'demand', 'space', 'marked number'] as const;
export type Kind = (typeof KINDS)[number];

const WIDER = 1.2;

/** The record at a share of readings and facts (each is taken or not by itself), less whole kinds. */
export function takeRecord(machine: Machine, { readings, facts }: Taking, draws: Draws, without: ReadonlySet<Kind> = new Set()): BenchRecord {
  const taken = (): boolean => draws.chance(readings);
  const told = (): boolean => draws.chance(facts);
  const careful = readings === 1;
  const keep = <T extends object>(value: T): T | undefined => (taken() ? value : undefined);
  const tell = <T extends object>(value: T): T | undefined => (told() ? value : undefined);
  const system: BenchRecord['system'] = {
    nominalV: machine.nominalV, ...tell({ interlocks: machine.interlocks }), ...tell({ ambientC: machine.ambient }),
    ...keep({ lowestRestingV: round(machine.restingV, 2) }), ...keep({ lowestCrankingV: round(machine.crankingV, 2) }), ...keep({ highestV: round(machine.highestV, 2) }),
  };
  const record: BenchRecord = { system, ...tell({ partClass: machine.partClass }), ...keep({ benchC: Math.round(draws.between(-5, 35)) }) };
  const parts: { readonly kind: Kind; readonly read: () => Partial<BenchRecord> }[] = [
    { kind: 'marked number', read: () => markedOf(machine, draws, taken) },
    { kind: 'terminals', read: () => ({ ...keep({ terminals: terminalsOf(machine, draws, taken) }), ...(machine.starter && { starter: starterOf(machine, taken) }) }) },
    { kind: 'ohms', read: () => ohmsOf(machine, draws, record.benchC ?? 20, taken) },
    { kind: 'mounting', read: () => ({ ...keep({ mounting: mountingOf(machine, draws, taken, told, careful) }) }) },
    { kind: 'space', read: () => ({ ...keep({ space: roomOf(machine, draws) }) }) },
    { kind: 'wires', read: () => ({ wires: wiresOf(machine, draws, taken) }) },
    { kind: 'demand', read: () => demandOf(machine, draws, taken, told, careful) },
  ];
  // Each kind is read even where it is left out, so that leaving one out changes nothing else.
  for (const { kind, read } of parts) {
    const value = read();
    if (!without.has(kind)) Object.assign(record, value);
  }
  return record;
}

export function round(value: number, places: number): number {
  return Math.round(value * 10 ** places) / 10 ** places;
}

/** How far a reading is off that is sworn to a half-width of two sigma: wider than that, and shifted by a share of a sigma. */
export function stray(half: number, shift: number, draws: Draws): number {
  return half / 2 * (WIDER * draws.normal() + shift);
}

/** Off by the instrument, wider and shifted; given bare or with the half-width the technician swears to. */
export function read(value: number, half: number, places: number, draws: Draws, bare: boolean): Measured {
  const shown = Math.max(10 ** -places, round(value + stray(half, 0.2, draws), places));
  return bare ? shown : { value: shown, plusMinus: Number(half.toPrecision(2)) };
}

function markedOf({ old }: Machine, draws: Draws, taken: () => boolean): Partial<BenchRecord> {
  const number = old.truth.numbers?.[0]?.number;
  const legible = draws.chance(0.6);
  const coil = old.truth.circuit.find((element) => element.kind === 'coil');
  const numbers = taken() && legible && number !== undefined ? { numbers: [number] } : {};
  const coilV = taken() && draws.chance(0.4) && coil ? { coilV: coil.nominalV } : {};
  const marked = { ...numbers, ...coilV };
  return Object.keys(marked).length > 0 ? { marked } : {};
}

function terminalsOf({ old }: Machine, draws: Draws, taken: () => boolean): RecordTerminal[] {
  return old.truth.terminals.map((terminal): RecordTerminal => {
    const bare = draws.chance(0.5);
    const major = terminal.thread === undefined ? undefined : THREAD_MM[terminal.thread]! - 0.08;
    return {
      id: terminal.id, form: terminal.form,
      ...(major !== undefined && taken() && { majorDiameterMm: read(major, 0.06, 2, draws, bare) }),
      ...(terminal.thread !== undefined && taken() && { pitchMm: read(THREAD_PITCH_MM[terminal.thread]!, 0.02, 2, draws, bare) }),
      ...(terminal.tabWidthMm !== undefined && taken() && { tabWidthMm: read(terminal.tabWidthMm, 0.06, 2, draws, bare) }),
      ...(terminal.marking !== undefined && taken() && { marking: terminal.marking }),
      ...(taken() && { at: { xMm: Math.round(terminal.at!.xMm + 1.2 * draws.normal()), yMm: Math.round(terminal.at!.yMm + 1.2 * draws.normal()) } }),
    };
  });
}

function starterOf({ starter }: Machine, taken: () => boolean): NonNullable<BenchRecord['starter']> {
  const { powerKw, rotation, pinionTeeth, pinionModuleMm, noseMm } = starter!;
  return {
    ...(taken() && { powerKw }), ...(taken() && { rotation }), ...(taken() && { pinionTeeth }), ...(taken() && { pinionModuleMm }), ...(taken() && { noseMm }),
  };
}

function ohmsOf({ old }: Machine, draws: Draws, benchC: number, taken: () => boolean): Partial<BenchRecord> {
  const part = old.truth;
  const heavy = heavyContactOf(part);
  const warm = 1 + 0.00393 * (benchC - 20);
  const coils = part.circuit.filter((element) => element.kind === 'coil');
  const ohms = coils.flatMap((coil): NonNullable<BenchRecord['ohms']> => {
    if (coil.between.some((node) => part.inside?.includes(node))) return [];
    const resistor = part.circuit.find((element) => element.kind === 'resistor');
    const across = resistor ? 1 / (1 / (coil.ohmAt20C! * warm) + 1 / resistor.ohm) : coil.ohmAt20C! * warm;
    const bySupply = draws.chance(0.3);
    const value = read(across, bySupply ? Math.max(0.03, 0.03 * across) : Math.max(0.2, 0.03 * across), 2, draws, !bySupply && draws.chance(0.5));
    return taken() ? [{ between: [coil.between[0], coil.between[1]], ohm: value, by: bySupply ? 'supply' : 'meter' }] : [];
  });
  if (heavy && taken() && part.terminals.some(({ id }) => id === heavy.between[1])) ohms.push({ between: [heavy.between[0], heavy.between[1]], ohm: 'open' });
  return ohms.length > 0 ? { ohms } : {};
}

function mountingOf(machine: Machine, draws: Draws, taken: () => boolean, told: () => boolean, careful: boolean): NonNullable<BenchRecord['mounting']> {
  // By caliper, edge to edge of the holes, to twice what the product takes a caliper to be; in a hurry by rule or tape.
  const half = draws.pick(careful ? [0.1] : [0.1, 0.3, 0.5, 1]);
  const off = (): number => stray(half, 0.1, draws);
  return {
    holes: machine.bolts.map(({ x, y }) => ({ xMm: round(x + off(), 1), yMm: round(y + off(), 1), diameterMm: machine.panelHoleMm })), plusMinusMm: half,
    ...(taken() && { boltMm: machine.boltMm }), ...(told() && { drillable: machine.panelDrillable }), ...(taken() && { panelGrounded: machine.panelGrounded }),
  };
}

function roomOf({ room }: Machine, draws: Draws): NonNullable<BenchRecord['space']> {
  const tape = (mm: number): number => Math.max(1, Math.round(mm + 0.8 * draws.normal() - 0.3));
  return { lengthMm: tape(room.lengthMm), widthMm: tape(room.widthMm), heightMm: tape(room.heightMm), plusMinusMm: 1 };
}

function wiresOf(machine: Machine, draws: Draws, taken: () => boolean): Wire[] {
  return machine.wires.map(({ tag, goal, wasOn, end, areaMm2 }): Wire => {
    const shown: Wire['end'] = end.form === 'ring' ? { form: 'ring', holeMm: round(end.holeMm + 0.04 * draws.normal(), 1) } : end;
    // A cable to a bare starter is live only while a relay elsewhere is in: the record has no word for that.
    const traced = taken() && machine.old.truth.circuit.some(({ kind }) => kind === 'coil');
    return { tag, wasOn, ...(taken() && { areaMm2 }), ...(taken() && { end: shown }), ...(traced && { leadsTo: goal }) };
  });
}

function demandOf(machine: Machine, draws: Draws, taken: () => boolean, told: () => boolean, careful: boolean): Partial<BenchRecord> {
  const bare = draws.chance(0.5);
  const clamp = (amps: number): Measured => read(amps, Math.max(1, 0.05 * amps), 0, draws, bare);
  // With every reading taken the clamp meter was on the cable; else the current is sometimes left to be computed.
  const byClamp = draws.chance(0.7) || careful || machine.source === undefined;
  const path = read(machine.controlOhm, draws.chance(0.8) ? 0.02 : 0.1, 3, draws, false);
  const relay = machine.partClass !== 'starter-motor';
  const from = machine.source && {
    ...(taken() && { batteryCcaA: machine.source.batteryCcaA }), ...(taken() && { restingV: round(machine.source.restingV, 2) }), ...(taken() && { cable: [machine.source.cable] }),
    ...(taken() && { starterOhm: read(machine.source.starterOhm, Math.max(0.001, 0.08 * machine.source.starterOhm), 4, draws, false) }),
  };
  const demand: NonNullable<BenchRecord['demand']> = {
    ...(relay && {
      ...(byClamp ? taken() && { inrushA: clamp(machine.inrushA) } : from && Object.keys(from).length > 0 && { from }),
      ...(taken() && { continuousA: clamp(machine.continuousA) }), ...(told() && { longestOnS: machine.onS }), ...(told() && { continuousUse: machine.continuousUse }),
      ...(told() && { controlRatingA: machine.contactA }), ...(taken() && { controlOhm: path }),
    }),
    ...(told() && { controlFuseA: machine.fuseA }), ...(told() && { minSealing: machine.minSealing }),
  };
  return Object.keys(demand).length > 0 ? { demand } : {};
}
