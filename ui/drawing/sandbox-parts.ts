import type { Part, Plan, RecordTerminal, SwitchState, Terminal, Wire } from '../../catalog-schema/index.ts';

/** Invented parts that stress the drawings: for the sandbox page and the tests only. */
export const CASE_RELAY_TERMINALS: RecordTerminal[] = [
  { id: 'B', form: 'stud', thread: 'M8x1.25', marking: 'B+', at: { xMm: -17, yMm: 12 }, nutAcrossFlatsMm: 13 },
  { id: 'M', form: 'stud', majorDiameterMm: 7.9, marking: 'M', at: { xMm: 17, yMm: 12 }, nutAcrossFlatsMm: 13 },
  { id: 'S', form: 'tab', tabWidthMm: 6.3, tabThicknessMm: 0.8, marking: 'S', at: { xMm: -8, yMm: -10 } },
  { id: 'I', form: 'tab', tabWidthMm: 6.3, tabThicknessMm: 0.8, marking: 'I', at: { xMm: 8, yMm: -10 } },
];
export const CASE_RELAY_WIRES: Wire[] = [
  { tag: '1', colour: 'RD', areaMm2: 16, wasOn: 'B', leadsTo: 'battery', end: { form: 'ring', holeMm: 8.4 } },
  { tag: '2', colour: 'RD/WH', areaMm2: 2.5, wasOn: 'B', leadsTo: 'tap', end: { form: 'ring', holeMm: 8.4 } },
  { tag: '3', colour: 'BK', areaMm2: 16, wasOn: 'M', leadsTo: 'starter', end: { form: 'ring', holeMm: 8.4 } },
  { tag: '4', colour: 'YE/GN', areaMm2: 1, wasOn: 'S', leadsTo: 'start-switch', end: { form: 'receptacle', tabWidthMm: 6.3 } },
  { tag: '5', colour: 'WH', areaMm2: 1, wasOn: 'I', leadsTo: 'interlocked-return', end: { form: 'receptacle', tabWidthMm: 6.3 } },
];
export const CUBE_TERMINALS: RecordTerminal[] = ['30', '85', '86', '87', '87a'].map((id) => ({
  id, form: 'tab', marking: id, tabWidthMm: 6.3 }));
export const CUBE_WIRES: Wire[] = [
  { tag: 'a', colour: 'OG', areaMm2: 2.5, wasOn: '30', leadsTo: 'battery' },
  { tag: 'b', colour: 'GY/BK', areaMm2: 1, wasOn: '85', leadsTo: 'chassis' },
  { tag: 'c', colour: 'VT', areaMm2: 1, wasOn: '86', leadsTo: 'start-switch' },
  { tag: 'd', colour: 'GN/YE', areaMm2: 2.5, wasOn: '87', leadsTo: 'starter' },
  { tag: 'e', colour: 'PK', areaMm2: 1, wasOn: '87a', leadsTo: 'unknown' },
];
export const UNPLACED: RecordTerminal[] = [
  { id: 'L', form: 'stud' }, { id: 'R', form: 'stud' }, { id: 'x', form: 'tab' }, { id: 'y', form: 'screw', thread: '#10-32' },
];
export const MANY_WIRES: Wire[] = [
  ...CASE_RELAY_WIRES,
  { tag: '6', colour: 'OG', areaMm2: 4, wasOn: 'B', leadsTo: 'tap' },
  { tag: '7', colour: 'BU', areaMm2: 1, wasOn: 'M', leadsTo: 'unknown' },
  { tag: '8', colour: 'BN', areaMm2: 1, wasOn: 'M', leadsTo: 'cranking-feed' },
  { tag: '9', colour: 'TQ', areaMm2: 1, wasOn: 'S', leadsTo: 'unknown' },
  { tag: '10', wasOn: 'I', leadsTo: 'chassis' },
];
export const UNIVERSAL: Part = {
  id: 'u-4', partClass: 'start-relay', title: 'Four-post universal, isolated coil',
  terminals: [
    { id: 'BAT', form: 'stud', thread: '5/16-24', at: { xMm: -19, yMm: 0 } },
    { id: 'STA', form: 'stud', thread: '5/16-24', at: { xMm: 19, yMm: 0 } },
    { id: '+', form: 'stud', thread: '#10-32', marking: '+', at: { xMm: -7, yMm: 14 } },
    { id: '-', form: 'stud', thread: '#10-32', marking: '−', at: { xMm: 7, yMm: 14 } },
  ] satisfies Terminal[],
  circuit: [
    { kind: 'coil', id: 'k', between: ['+', '-'], nominalV: 12, ohmAt20C: 4.2 },
    { kind: 'contact', id: 'c', between: ['BAT', 'STA'], form: 'NO', coils: ['k'], inrushA: 400 },
    { kind: 'diode', from: '-', to: '+' },
  ],
  mounting: {
    holes: [{ xMm: -30, yMm: 0, diameterMm: 6.6, slotMm: 8, slotAngleDeg: 0 }, { xMm: 30, yMm: 0, diameterMm: 6.6 }], conductive: true, drillable: true,
  },
  body: { lengthMm: 70, widthMm: 42, heightMm: 60 },
};
export const SHIFT: Part = {
  id: 'sh', partClass: 'shift-solenoid', title: 'Shift solenoid',
  terminals: [
    { id: '30', form: 'stud', thread: 'M10x1.5', at: { xMm: -14, yMm: 9 } }, { id: '45', form: 'stud', thread: 'M10x1.5', at: { xMm: 14, yMm: 9 } },
    { id: '50', form: 'tab', tabWidthMm: 6.3, at: { xMm: 0, yMm: -9 } },
  ],
  circuit: [
    { kind: 'coil', id: 'pull', between: ['50', '45'], nominalV: 12, ohmAt20C: 0.4 },
    { kind: 'coil', id: 'hold', between: ['50', 'case'], nominalV: 12, ohmAt20C: 1.1 },
    { kind: 'contact', id: 'c', between: ['30', '45'], form: 'NO', coils: ['pull', 'hold'] },
  ],
};
export const CHANGEOVER: Part = {
  id: 'co', partClass: 'plug-in-relay', title: 'Changeover with diode',
  terminals: CUBE_TERMINALS as Terminal[], inside: ['j'],
  circuit: [
    { kind: 'coil', id: 'k', between: ['86', 'j'], nominalV: 12, ohmAt20C: 85 }, { kind: 'diode', from: 'j', to: '85' },
    { kind: 'contact', id: 'no', between: ['30', '87'], form: 'NO', coils: ['k'] }, { kind: 'contact', id: 'nc', between: ['30', '87a'], form: 'NC', coils: ['k'] },
    { kind: 'resistor', between: ['85', '86'], ohm: 680 },
  ],
};
export const PLAN: Plan = {
  wires: [
    { tag: '1', from: 'B', to: 'BAT', moved: false, newEnd: false }, { tag: '2', from: 'B', to: 'BAT', moved: false, newEnd: false },
    { tag: '3', from: 'M', to: 'STA', moved: false, newEnd: false }, { tag: '4', from: 'S', to: '-', moved: true, newEnd: true },
    { tag: '5', from: 'I', to: '+', moved: true, newEnd: true },
  ],
  jumpers: [{ from: '-', to: 'chassis' }], leftOff: [], bareTerminals: [], changes: 5, states: [],
};
export const PLAN_CUBE: Plan = {
  wires: [
    { tag: 'a', from: '30', to: '30', moved: false, newEnd: false }, { tag: 'b', from: '85', to: '86', moved: true, newEnd: false },
    { tag: 'c', from: '86', to: '85', moved: true, newEnd: false }, { tag: 'd', from: '87', to: '87', moved: false, newEnd: true },
  ],
  jumpers: [{ from: '86', to: '30' }], leftOff: ['e'], bareTerminals: ['87a'], changes: 5, states: [],
};

/** Every position of the switches that a plan with a cranking feed is judged in. */
export const STATES: readonly SwitchState[] = [
  { startSwitch: false, interlocks: false, engineRuns: false, pulledIn: false, starterLive: false, controlA: 0 },
  { startSwitch: false, interlocks: true, engineRuns: false, pulledIn: false, starterLive: false, controlA: 0 },
  { startSwitch: true, interlocks: false, engineRuns: false, pulledIn: false, starterLive: false, controlA: 0 },
  { startSwitch: true, interlocks: true, engineRuns: false, pulledIn: true, starterLive: true, controlA: 2.98 },
  { startSwitch: false, interlocks: true, engineRuns: true, pulledIn: false, starterLive: false, controlA: 0 },
];
