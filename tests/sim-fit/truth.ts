import type { Catalogue, LeadsTo, MachineSystem, Part, PartClass, Prices, StarterData, WireEnd } from '../../catalog-schema/index.ts';

// What is so in a simulated world. The catalogue and the bench record show parts of it; the oracle sees all of it.

/** What was planted in the family of the removed part, each a twin of a part that fits with one thing changed. */
export const TRAPS = [
  'interlock', 'cranking-feed', 'duty', 'voltage', 'polarity', 'inrush', 'coil-current', 'rotation', 'no-solenoid', 'pinion', 'nose', 'power',
  'bracket', 'stud', 'tab', 'space', 'claim',
] as const;
export type Trap = (typeof TRAPS)[number];
/** Those whose acceptance could hurt somebody, or wreck the machine. */
export const SAFETY_TRAPS: ReadonlySet<Trap> = new Set<Trap>(['interlock', 'cranking-feed', 'duty', 'voltage', 'polarity', 'inrush', 'coil-current', 'rotation', 'no-solenoid']);

export interface TruePart {
  /** the whole data sheet */
  readonly truth: Part;
  /** what the catalogue says of it: the same with values left out */
  readonly row: Part;
  readonly family: number;
  readonly trap?: Trap;
}

export interface World {
  readonly seed: number;
  readonly parts: readonly TruePart[];
  readonly catalogue: Catalogue;
  readonly prices: Prices;
}

export interface TrueWire {
  readonly tag: string;
  readonly goal: Exclude<LeadsTo, 'unknown'>;
  /** terminal of the removed part */
  readonly wasOn: string;
  readonly end: WireEnd;
  readonly areaMm2: number;
}

export interface TrueBolt { readonly x: number; readonly y: number }

/** A machine whose part was removed. Volts, amperes, ohms, millimetres, seconds, degrees Celsius. */
export interface Machine {
  readonly old: TruePart;
  readonly partClass: PartClass;
  readonly nominalV: number;
  readonly interlocks: NonNullable<MachineSystem['interlocks']>;
  readonly restingV: number;
  readonly crankingV: number;
  readonly highestV: number;
  readonly ambient: { readonly min: number; readonly max: number };
  /** how much warmer than its surroundings the coil gets */
  readonly coilRiseK: number;
  readonly controlOhm: number;
  readonly fuseA: number;
  readonly contactA: number;
  readonly inrushA: number;
  readonly continuousA: number;
  readonly onS: number;
  readonly continuousUse: boolean;
  readonly minSealing: string;
  readonly room: { readonly lengthMm: number; readonly widthMm: number; readonly heightMm: number };
  readonly bolts: readonly TrueBolt[];
  readonly boltMm: number;
  readonly panelHoleMm: number;
  readonly panelDrillable: boolean;
  readonly panelGrounded: boolean;
  readonly wires: readonly TrueWire[];
  readonly starter?: StarterData;
  /** what the inrush comes from, where it can be computed */
  readonly source?: { readonly batteryCcaA: number; readonly restingV: number; readonly cable: { areaMm2: number; lengthMm: number }; readonly starterOhm: number };
}
