import type { CrankFault } from '../../../catalog-schema/index.ts';

const practice = 'common practice, no source';

export interface FaultShare { readonly share: number; readonly source: string; readonly reason: string }

/**
 * How often each fault is found on machines brought in because they do not crank: the share before anything was seen. A shop may set its
 * own. Nobody counted them: the order follows what benches say, the figures are round.
 */
export const FAULT_SHARES: Readonly<Record<CrankFault, FaultShare>> = {
  'battery-weak': { share: 0.23, source: practice, reason: 'left over winter, old, or flat from a short' },
  'battery-connection': { share: 0.13, source: practice, reason: 'corroded posts and loose clamps' },
  'ground-connection': { share: 0.08, source: practice, reason: 'paint, rust or a loose strap between battery, frame and engine' },
  'battery-cable': { share: 0.04, source: practice, reason: 'corroded under its insulation or at its lug' },
  'start-cable': { share: 0.03, source: practice, reason: 'less moved and shorter than the battery cable' },
  'relay-contacts': { share: 0.11, source: practice, reason: 'burnt by years of inrush' },
  'relay-coil-open': { share: 0.05, source: practice, reason: 'burnt through by a stuck start switch, or a broken lead' },
  'relay-stuck-closed': { share: 0.02, source: practice, reason: 'welded by a weak battery that made it chatter' },
  'coil-feed': { share: 0.1, source: practice, reason: 'fuse, start switch, an interlock in the feed, a plug' },
  'coil-return': { share: 0.07, source: practice, reason: 'seat, brake or blade switch in the return, or its ground' },
  'starter-open': { share: 0.04, source: practice, reason: 'worn brushes, an open field or armature' },
  'starter-dragging': { share: 0.04, source: practice, reason: 'worn bushings, shorted windings' },
  'starter-drive': { share: 0.02, source: practice, reason: 'pinion that does not engage or slips' },
  'engine-locked': { share: 0.02, source: practice, reason: 'seized, hydraulically locked, a jammed driven machine' },
  none: { share: 0.02, source: practice, reason: 'cranks by the time it is on the bench' },
};

/** Median and spread of a quantity that is drawn log-normally: sigma of its natural logarithm. */
export interface Spread { readonly median: number; readonly sigma: number; readonly unit: string; readonly source: string; readonly reason: string }

const spread = (median: number, sigma: number, unit: string, reason: string, source = practice): Spread => ({ median, sigma, unit, source, reason });

/**
 * The cranking circuit of a 12 V machine. Of another voltage: volts in proportion; ohms of battery, starter and coil with its square
 * (the same power); cables, joints and contacts as they are.
 */
export const CIRCUIT_SPREADS = {
  batteryOhmOfCca: spread(3.4, 0.33, 'V: resistance x CCA, warm, good battery', 'the load test passes at (12.6 - 9.6) V over half the CCA, 6 V: a good one has about half of it'),
  cca: spread(230, 0.35, 'A', 'cold-cranking current of the battery where the label was not read'),
  joint: spread(0.0008, 1, 'Ohm', 'one good joint: post to clamp'),
  cable: spread(0.002, 0.75, 'Ohm', 'a good cable with its two lugs: 1.2 m of 16 mm2 has 1.45 mOhm (IEC 60228 class 5)', 'IEC 60228; spread common practice, no source'),
  contact: spread(0.0008, 0.9, 'Ohm', 'a good main contact'),
  starterOhm: spread(0.03, 0.4, 'Ohm', 'armature, brushes and field of a starter at rest'),
  crankingA: spread(115, 0.42, 'A', 'current that turns the engine over: the torque it asks for'),
  spinningA: spread(28, 0.3, 'A', 'current of a starter that turns nothing'),
  coilOhm: spread(4, 0.42, 'Ohm', 'coil of a start relay'),
  switchOhm: spread(0.18, 0.9, 'Ohm', 'start switch, fuse, plugs and interlocks of a good feed'),
  returnOhm: spread(0.07, 1, 'Ohm', 'a good return, with or without switches'),

  weakBatteryFactor: spread(4, 0.9, 'x the resistance of a good one', 'a weak battery: flat, sulphated or with a dead cell'),
  deepBatteryV: spread(2.5, 0.75, 'V below a flat one', 'from one dead cell to next to nothing'),
  badJointOhm: spread(0.06, 1.1, 'Ohm', 'corroded post, cable, ground or contact that still passes some current'),
  badControlOhm: spread(8, 1, 'Ohm', 'bad plug, switch or fuse holder of the feed or return that still passes some current'),
  wornBrushFactor: spread(12, 0.7, 'x the resistance of a good starter', 'brushes that hardly touch'),
  draggingFactor: spread(3, 0.4, 'x the current that turns the engine over', 'a starter that drags: friction and shorted turns on top of the engine'),
  lockedFactor: spread(12, 0.3, 'x the current that turns the engine over', 'an engine that does not turn: more than any starter gives'),
} as const satisfies Record<string, Spread>;

export interface Figure { readonly value: number; readonly unit: string; readonly source: string; readonly reason: string }

const figure = (value: number, unit: string, reason: string, source = practice): Figure => ({ value, unit, source, reason });

export const CIRCUIT_FIGURES = {
  goodBatteryV: figure(12.6, 'V at rest', 'a charged battery', 'battery industry, open-circuit volts by state of charge: 12.65 V full, 12.45 V at 75 % (from memory)'),
  goodBatterySpreadV: figure(0.16, 'V, sigma', 'state of charge of batteries that crank'),
  weakBatteryV: figure(12.0, 'V at rest', 'a weak battery: from full and sulphated to flat or one dead cell', 'open-circuit volts by state of charge: 12.06 V at 25 % (from memory); spread common practice, no source'),
  weakBatterySpreadV: figure(0.55, 'V, sigma', 'state of charge of batteries that do not crank'),
  flatBatteryV: figure(11.6, 'V at rest', 'a battery with nothing left in it', 'open-circuit volts by state of charge, rounded: 11.6 V at 0 %, as the reference data has it'),
  pullInLow: figure(0.4, 'of nominal', 'least true pull-in of a coil'),
  pullInHigh: figure(0.7, 'of nominal', 'greatest true pull-in'),
  dropOutLow: figure(0.15, 'of nominal', 'least true drop-out'),
  dropOutHigh: figure(0.45, 'of nominal', 'greatest true drop-out'),
  breakaway: figure(1.2, 'x the current that keeps it turning', 'current that gets an engine moving'),
  breakawaySpread: figure(0.12, 'sigma of ln(factor)', 'how it differs between engines and where they stopped'),
  slowV: figure(4.6, 'V of back-EMF on 12 V', 'below this the engine turns slowly: a good one has 7 V and more'),
  slowSpreadV: figure(1, 'V, sigma', 'what one person calls slow'),
  spinningV: figure(9, 'V of back-EMF on 12 V', 'above this nothing holds the starter back'),
  heardA: figure(25, 'A', 'a standing starter that takes this much hums or darkens the lamps'),
  feedFromClamp: figure(0.35, 'of machines', 'start switch fed from the battery clamp, not from the stud of the relay that the battery cable sits on'),
  modelV: figure(0.03, 'V', 'what the model leaves out of a reading: probes, lamps that are lit, a starter that is not quite even'),
  modelShare: figure(0.02, 'of a reading', 'likewise'),
  restShare: figure(0.005, 'of a reading', 'likewise where nothing flows: the meter alone'),
  unevenA: figure(40, 'A', 'from this current on readings are as uneven as the starter; in proportion below'),
  fullestBatteryV: figure(13, 'V at rest', 'a battery just off its charger'),
  modelA: figure(0.5, 'A', 'what the model leaves out of a clamp meter\'s reading: lamps, a charger'),
  chatterShare: figure(0.3, 'of the span', 'what a meter shows while the contact opens and closes, about the middle, sigma'),
  ghostV: figure(0.05, 'V', 'what a meter shows between points that nothing joins, sigma'),
  strayReadingShare: figure(0.00005, 'of readings', 'slip of probe or pen'),
  loadSag: figure(1.2, 'x the resistance while cranking', 'a battery under load for 15 s sags further than at once'),
  loadSpread: figure(0.04, 'of the sag, sigma', 'how evenly a load tester loads'),
  neverCranked: figure(0.01, 'of machines', 'a machine that would not crank well even without its fault: a cold engine, a starter too small'),
  sharesWeigh: figure(30, 'closed jobs', 'what the shares before anything was learned are worth: a shop that closes some hundred jobs a year goes by its own within one'),
  otherwiseUnderLoad: figure(0.02, 'of batteries', 'a good battery that fails the customary load test, or a weak one that passes it'),
  crankingFault: figure(0.0003, 'of machines with a fault', 'a machine with a fault that cranks all the same when it is looked at'),
} as const satisfies Record<string, Figure>;

/**
 * Resistance of a battery by temperature against 25 C, from the cranking current that it gives: k(T) = 0.61 + 0.0082 T - 0.0000417 T^2, T in
 * degrees Fahrenheit (a published calculator citing vehicle makers' studies, as the reference data has it: low to medium confidence).
 */
export function batteryOhmFactor(celsius: number): number {
  const k = (c: number): number => {
    const f = Math.min(98, Math.max(-40, c * 9 / 5 + 32));
    return 0.61 + 0.0082 * f - 0.0000417 * f * f;
  };
  return k(25) / k(celsius);
}

/**
 * Least volts of a 12 V battery after 15 s at half its CCA, by temperature (customary table of the battery industry; straight between its
 * lines, level beyond them).
 */
const LOAD_TEST_V: readonly (readonly [celsius: number, volts: number])[] = [
  [-17.8, 8.5], [-12.2, 8.7], [-6.7, 8.9], [-1.1, 9.1], [4.4, 9.3], [10, 9.4], [15.6, 9.5], [21.1, 9.6],
];

/** Volts below which a load test has failed: the table's, for another load in proportion to the sag. */
export function loadTestLimitV(celsius: number, ratioOfCca: number, nominalV: number): number {
  const first = LOAD_TEST_V[0]!;
  const last = LOAD_TEST_V.at(-1)!;
  let limit = celsius <= first[0] ? first[1] : last[1];
  for (let i = 1; i < LOAD_TEST_V.length; i++) {
    const [c0, v0] = LOAD_TEST_V[i - 1]!;
    const [c1, v1] = LOAD_TEST_V[i]!;
    if (celsius >= c0 && celsius <= c1) limit = v0 + (v1 - v0) * (celsius - c0) / (c1 - c0);
  }
  const full = CIRCUIT_FIGURES.goodBatteryV.value;
  return (full - (full - limit) * ratioOfCca / 0.5) * nominalV / 12;
}
