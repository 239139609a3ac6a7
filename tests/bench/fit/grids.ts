import type { CircuitElement, Part, PartClass } from '../../../catalog-schema/index.ts';

// The values that catalogues of these parts are made of, as lists give them: rounded, and the same few again and again.
// How common each is: common practice, no source.

/** A value with how common it is. */
export type Weighted<Value> = readonly (readonly [Value, number])[];

export const CLASS_SHARES: Weighted<PartClass> = [
  ['start-relay', 0.34], ['contactor', 0.18], ['plug-in-relay', 0.14], ['shift-solenoid', 0.12], ['starter-motor', 0.22],
];

export type Form =
  | 'case-return' | 'isolated' | 'isolated-diode' | 'isolated-resistor' | 'cranking-feed' | 'changeover' | 'changeover-diode'
  | 'changeover-resistor' | 'shift-solenoid' | 'starter-alone' | 'starter-with-solenoid' | 'starter-with-solenoid-isolated';

export const FORM_SHARES: Readonly<Record<PartClass, Weighted<Form>>> = {
  'start-relay': [['case-return', 0.35], ['isolated', 0.3], ['isolated-diode', 0.08], ['isolated-resistor', 0.05], ['cranking-feed', 0.22]],
  contactor: [['isolated', 0.55], ['isolated-diode', 0.25], ['case-return', 0.12], ['isolated-resistor', 0.08]],
  'plug-in-relay': [['isolated', 0.3], ['isolated-diode', 0.12], ['isolated-resistor', 0.1], ['changeover', 0.26], ['changeover-diode', 0.12], ['changeover-resistor', 0.1]],
  'shift-solenoid': [['shift-solenoid', 1]],
  'starter-motor': [['starter-alone', 0.3], ['starter-with-solenoid', 0.62], ['starter-with-solenoid-isolated', 0.08]],
};

export const VOLT_SHARES: Readonly<Record<PartClass, Weighted<number>>> = {
  'start-relay': [[12, 0.6], [24, 0.18], [6, 0.12], [36, 0.04], [48, 0.06]],
  contactor: [[12, 0.3], [24, 0.25], [36, 0.15], [48, 0.26], [6, 0.04]],
  'plug-in-relay': [[12, 0.62], [24, 0.3], [6, 0.04], [48, 0.04]],
  'shift-solenoid': [[12, 0.7], [24, 0.28], [6, 0.02]],
  'starter-motor': [[12, 0.72], [24, 0.24], [6, 0.04]],
};

/** Power of the coil at its nominal voltage, W. */
export const COIL_WATTS: Readonly<Record<PartClass, readonly number[]>> = {
  'start-relay': [24, 28, 32, 36, 40, 45, 50, 60], contactor: [6, 8, 10, 12, 13.5, 15, 18, 22], 'plug-in-relay': [1.4, 1.6, 1.7, 1.8, 2.2, 2.6],
  'shift-solenoid': [90, 105, 120, 130, 145], 'starter-motor': [90, 105, 120, 130, 145],
};
/** Power of a pull-in winding at its nominal voltage, W. */
export const PULL_IN_WATTS: readonly number[] = [320, 360, 400, 440, 480, 520];
export const PULL_IN_SHARES: readonly number[] = [0.58, 0.6, 0.62, 0.65, 0.68, 0.7];
export const DROP_OUT_SHARES: readonly number[] = [0.08, 0.1, 0.12, 0.15, 0.2];
export const MOST_ON_S: Weighted<number> = [[5, 0.08], [10, 0.2], [15, 0.15], [20, 0.1], [30, 0.32], [60, 0.15]];

/** Continuous and inrush rating of the main contact, A, from weak to strong. */
export const RATINGS: Readonly<Record<PartClass, readonly (readonly [number, number])[]>> = {
  'start-relay': [[60, 300], [80, 400], [85, 500], [100, 600], [100, 750], [120, 800], [150, 900], [150, 1000], [200, 1200], [200, 1500]],
  contactor: [[50, 120], [80, 200], [100, 250], [100, 400], [150, 400], [150, 600], [200, 600], [200, 1000], [300, 1000], [400, 1500]],
  'plug-in-relay': [[20, 60], [30, 60], [30, 90], [40, 100], [40, 120], [50, 150], [70, 200], [80, 240]],
  'shift-solenoid': [[80, 400], [100, 500], [120, 600], [120, 700], [150, 800], [150, 900], [200, 1100], [250, 1400]],
  'starter-motor': [[80, 400], [100, 500], [120, 600], [120, 700], [150, 800], [150, 900], [200, 1100], [250, 1400]],
};

/** Threads of heavy studs, from thin to thick. */
export const HEAVY_THREADS: readonly string[] = ['M6x1', '1/4-20', '5/16-24', '5/16-18', 'M8x1.25', '3/8-16', 'M10x1.5', 'M12x1.75'];
export const LIGHT_THREADS: readonly string[] = ['#8-32', '#10-32', '#10-24', 'M4x0.7', 'M5x0.8'];

/** Centre distance of two holes, mm. */
export const HOLE_SPACINGS: readonly number[] = [
  38, 40, 42, 44.5, 46, 48, 50, 50.8, 52, 54, 55, 57.2, 58.5, 60, 62, 63.5, 65, 66, 68, 70, 72, 75, 76.2, 80,
];
export const HOLE_DIAMETERS: readonly number[] = [5.5, 6.6, 7, 7.1, 8.5, 9];
export const SLOTS: Weighted<readonly [travelMm: number, angleDeg: number]> = [[[0, 0], 0.55], [[3, 0], 0.1], [[4, 90], 0.1], [[6, 0], 0.1], [[6, 90], 0.1], [[8, 0], 0.05]];

export const SEALINGS: Weighted<string> = [['IP20', 0.08], ['IP40', 0.08], ['IP44', 0.14], ['IP54', 0.3], ['IPX4', 0.04], ['IP65', 0.12], ['IP66', 0.08], ['IP67', 0.14], ['IP5X', 0.02]];
export const LEAST_AMBIENT_C: Weighted<number> = [[-40, 0.35], [-35, 0.1], [-30, 0.15], [-25, 0.2], [-20, 0.12], [-10, 0.06], [0, 0.02]];
export const MOST_AMBIENT_C: Weighted<number> = [[55, 0.06], [60, 0.08], [65, 0.08], [70, 0.14], [75, 0.12], [80, 0.12], [85, 0.2], [90, 0.08], [105, 0.08], [110, 0.04]];

export const STARTER_KW: readonly number[] = [0.4, 0.6, 0.7, 0.8, 0.9, 1, 1.1, 1.2, 1.4, 1.5, 1.8, 2, 2.2, 2.5, 3, 3.2, 4];
export const PINION_TEETH: readonly number[] = [8, 9, 10, 11, 12, 13];
/** Millimetres; 1.588, 2.117 and 2.54 are 16, 12 and 10 DP. */
export const PINION_MODULES: Weighted<number> = [[1.588, 0.1], [2, 0.15], [2.117, 0.3], [2.5, 0.15], [2.54, 0.15], [3, 0.15]];
export const NOSES_MM: readonly number[] = [14, 16, 18, 19, 20, 22, 24, 25, 28, 30, 32, 35];

/** Issuers are invented; the letters begin their numbers. */
export const ISSUERS: readonly (readonly [name: string, letters: string])[] = [
  ['Pellowin', 'PW'], ['Ostrevik', 'OV'], ['Kordaly', 'KD'], ['Quillmere', 'QM'], ['Brackenholm', 'BH'], ['Sellaby', 'SLB'], ['Torvane', 'TV'], ['Dunmarrow', 'DM'],
];

/** How often a value is not given, of parts; whole families leave out the same three times in four. */
export const MISSING_SHARES = {
  coilOhm: 0.12, pullIn: 0.3, dropOut: 0.5, duty: 0.06, mostOn: 0.4, inrush: 0.18, continuous: 0.12, contactDrop: 0.7, heavyThread: 0.04, tabWidth: 0.08,
  marking: 0.15, at: 0.3, mounting: 0.06, conductive: 0.1, drillable: 0.4, body: 0.2, sealing: 0.4, ambient: 0.35,
  starterPower: 0.1, rotation: 0.04, teeth: 0.08, module: 0.2, nose: 0.3, lockedRotor: 0.5, motorOhm: 0.5, starterVolts: 0.02,
} as const;
export type Missable = keyof typeof MISSING_SHARES;

/** Shares a person might want changed: numbers, claims and successors. */
export const LINK_SHARES = { claim: 0.15, superseded: 0.1, longerChain: 0.35, twoSuccessors: 0.05 } as const;

export type Mounting = NonNullable<Part['mounting']>;
export type Coil = Extract<CircuitElement, { kind: 'coil' }>;
