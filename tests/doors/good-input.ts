import type { BenchRecord, FitHistory, Need, Part, Prices, ProveCase } from '../../catalog-schema/index.ts';

/** A record every door accepts: a start relay with an isolated coil whose return runs through the interlocks. */
export const goodRecord: BenchRecord = {
  partClass: 'start-relay',
  system: { nominalV: 12, interlocks: 'in-return', interlockList: [{ name: 'seat', acts: 'return' }] },
  terminals: [
    { id: 'B', form: 'stud', thread: 'M8x1.25', at: { xMm: -20, yMm: 20 } },
    { id: 'M', form: 'stud', thread: 'M8x1.25', at: { xMm: 20, yMm: 20 } },
    { id: 'S', form: 'tab', tabWidthMm: 6.3, at: { xMm: -10, yMm: 0 } },
    { id: 'R', form: 'tab', tabWidthMm: 6.3, at: { xMm: 10, yMm: 0 } },
  ],
  ohms: [{ between: ['S', 'R'], ohm: 4.1, by: 'meter' }],
  mounting: {
    holes: [{ xMm: -25, yMm: -15, diameterMm: 6.6 }, { xMm: 25, yMm: -15, diameterMm: 6.6 }],
    boltMm: 6, panelGrounded: false,
  },
  wires: [
    { tag: 'W1', colour: 'RD', areaMm2: 16, end: { form: 'ring', holeMm: 8.4 }, wasOn: 'B', leadsTo: 'battery' },
    { tag: 'W2', colour: 'RD', areaMm2: 16, end: { form: 'ring', holeMm: 8.4 }, wasOn: 'M', leadsTo: 'starter' },
    { tag: 'W3', colour: 'YE/GN', areaMm2: 1.5, end: { form: 'receptacle', tabWidthMm: 6.3 }, wasOn: 'S', leadsTo: 'start-switch' },
    { tag: 'W4', colour: 'BK', areaMm2: 1.5, end: { form: 'receptacle', tabWidthMm: 6.3 }, wasOn: 'R', leadsTo: 'interlocked-return' },
  ],
  demand: { inrushA: { value: 180, plusMinus: 9 }, controlFuseA: 15, longestOnS: 10 },
};

/** The same relay as a catalogue part: goes on as it is. */
export const goodPart: Part = {
  id: 'same', partClass: 'start-relay', title: 'Start relay, isolated coil', numbers: [{ issuer: 'Works', number: 'SR-0001' }],
  terminals: [
    { id: 'B', form: 'stud', thread: 'M8x1.25', at: { xMm: -20, yMm: 20 } },
    { id: 'M', form: 'stud', thread: 'M8x1.25', at: { xMm: 20, yMm: 20 } },
    { id: 'S', form: 'tab', tabWidthMm: 6.3, at: { xMm: -10, yMm: 0 } },
    { id: 'R', form: 'tab', tabWidthMm: 6.3, at: { xMm: 10, yMm: 0 } },
  ],
  circuit: [
    { kind: 'coil', id: 'k', between: ['S', 'R'], nominalV: 12, ohmAt20C: 4, pullInV: 7, dropOutV: 1.5, duty: { type: 'intermittent', maxOnS: 30 } },
    { kind: 'contact', id: 'h', between: ['B', 'M'], form: 'NO', coils: ['k'], inrushA: 400, continuousA: 100 },
  ],
  mounting: {
    holes: [{ xMm: -25, yMm: -15, diameterMm: 6.6 }, { xMm: 25, yMm: -15, diameterMm: 6.6 }], conductive: true, drillable: false,
  },
};

/** A relay whose coil returns through its own case: the trap on a machine with interlocks in the return. */
export const caseReturnPart: Part = {
  ...goodPart, id: 'case-return', title: 'Start relay, coil to case', numbers: [{ issuer: 'Works', number: 'SR-0002' }],
  terminals: goodPart.terminals.slice(0, 3),
  circuit: [
    { kind: 'coil', id: 'k', between: ['S', 'case'], nominalV: 12, ohmAt20C: 4, pullInV: 7, dropOutV: 1.5, duty: { type: 'intermittent', maxOnS: 30 } },
    goodPart.circuit[1]!,
  ],
};

export const goodPrices: Prices = {
  currency: 'EUR', today: '2026-11-25', labourPerHour: 60, misfitCost: 85, waitCostPerDay: 12,
  shelf: [{ partId: 'same', onHand: 2, reserved: 1, unitCost: 20 }],
  suppliers: [{ id: 'north', freight: 7.5 }],
  offers: [{ supplierId: 'north', partId: 'same', price: 18, leadDays: 2, breaks: [{ minQty: 5, price: 16 }, { minQty: 10, price: 15 }] }],
};

/** Of a demo part that goes on many machines, and of one that is in no catalogue. */
export const goodHistory: FitHistory = [
  { partId: 'ov-3120-12', held: 7, cameBack: 1 }, { partId: 'ov-3120-12', machineKind: 'quay sweeper', held: 3, cameBack: 2 }, { partId: 'nowhere', held: 1, cameBack: 0 },
];

/** Clicks, does not crank, and the contact has the battery across it while the coil is fed. */
export const goodCase: ProveCase = {
  system: { nominalV: 12, batteryCcaA: 230 },
  seen: [
    { kind: 'sound', heard: 'one-click' }, { kind: 'crank', seen: 'nothing' },
    { kind: 'volts', startSwitch: true, plus: 'coil-feed', minus: 'coil-return', volts: 11.9 },
    { kind: 'volts', startSwitch: true, plus: 'relay-battery-stud', minus: 'relay-starter-stud', volts: { value: 12.3, plusMinus: 0.1 } },
  ],
};

export const goodNeed: Need = {
  currency: 'EUR', today: '2026-11-25',
  needs: [{ id: 'n1', qty: 2, by: '2026-11-26', waitCostPerDay: 5, anyOf: [{ partId: 'a' }, { partId: 'b', extraCost: 1.5 }] }, { id: 'n2', qty: 1, by: '2026-11-25', anyOf: [{ partId: 'b' }] }],
  shelf: [{ partId: 'a', onHand: 1, unitCost: 12.5 }],
  suppliers: [{ id: 'north', freight: 6, freeFreightFrom: 40 }, { id: 'south', freight: 3, minOrder: 10 }],
  offers: [
    { supplierId: 'north', partId: 'a', price: 11.125, leadDays: 2 }, { supplierId: 'north', partId: 'b', price: 9, leadDays: 2, pack: 2, breaks: [{ minQty: 4, price: 7 }] },
    { supplierId: 'south', partId: 'b', price: 8, leadDays: 4, coreCharge: 2 },
  ],
};
