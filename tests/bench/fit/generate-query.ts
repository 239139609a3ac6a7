import {
  isRingGap, readThread, RING_HOLES, type BenchRecord, type Demand, type Measured, type OhmReading, type Part, type RecordTerminal, type Terminal, type Wire,
} from '../../../catalog-schema/index.ts';
import { Draws } from '../../sim-identify/random.ts';
import { countFamilies, generateFamily, mixSeeds, type CatalogueFacts } from './generate-catalogue.ts';

export type Readings = 'full' | 'half' | 'few';

/** How often each thing that may be recorded is recorded. */
const KEPT: Readonly<Record<Readings, number>> = { full: 1, half: 0.5, few: 0.15 };

/**
 * A bench record: a part of the catalogue was on some machine, and is dead. Drawn without the catalogue in memory; held-out seeds are simply
 * other numbers.
 * @param readings absent: full, half, few in turn by the seed
 */
export function generateQuery(seed: number, facts: CatalogueFacts, readings: Readings = (['full', 'half', 'few'] as const)[seed % 3]!): BenchRecord {
  const draws = new Draws(mixSeeds(seed, 0x0bec));
  const family = generateFamily(facts, Math.floor(draws.unit() * countFamilies(facts)));
  return describeMachine(draws, draws.pick(family).whole, readings);
}

function describeMachine(draws: Draws, old: Part, readings: Readings): BenchRecord {
  const kept = (): boolean => draws.chance(KEPT[readings]);
  const contact = old.circuit.find((element) => element.kind === 'contact');
  const coil = old.circuit.find((element) => element.kind === 'coil');
  const nominalV = coil?.kind === 'coil' ? coil.nominalV : old.starter!.nominalV!;
  const round = (value: number, step = 0.1): number => Math.round(value / step) / Math.round(1 / step);

  const inReturn = draws.chance(0.65);
  // With few readings half of the records have no wires at all; a traced harness comes as a whole or not.
  const traced = readings === 'full' || draws.chance(readings === 'half' ? 0.85 : 0.5);
  const wires = traced ? hangWires(draws, old, inReturn) : undefined;
  const interlocked = wires?.some(({ leadsTo }) => leadsTo === 'interlocked-return') === true;
  const interlocks = interlocked ? 'in-return' as const : wires ? 'in-feed' as const : undefined;
  const ambient = old.ambientC!;
  const record: BenchRecord = {
    ...(readings === 'full' || draws.chance(0.85) ? { partClass: old.partClass } : {}),
    system: {
      nominalV, ...(interlocks !== undefined && kept() ? { interlocks } : {}),
      ...(kept() ? { ambientC: { min: Math.max(ambient.min, draws.pick([-20, -15, -10, 0])), max: Math.max(0, Math.min(ambient.max, draws.pick([35, 40, 45, 50]))) } } : {}),
      ...(kept() ? { lowestRestingV: round(nominalV * draws.between(1, 1.05)) } : {}), ...(kept() ? { highestV: round(nominalV * draws.between(1.15, 1.22)) } : {}),
    },
    ...(kept() ? { benchC: Math.round(draws.between(5, 30)) } : {}),
  };
  if (draws.chance(0.3)) record.marked = { ...(draws.chance(0.5) ? { coilV: nominalV } : {}), numbers: [draws.chance(0.7) ? old.numbers![0]!.number : `X-${Math.floor(draws.between(1000, 9999))}`] };
  if (wires) record.wires = wires;
  if (wires || kept()) record.terminals = old.terminals.map((terminal) => measureTerminal(draws, terminal, kept));
  const ohms = readCoils(draws, old, kept);
  if (record.terminals && ohms.length > 0) record.ohms = ohms;
  if (kept()) {
    const holes = old.mounting!.holes;
    const boltMm = Math.min(...holes.map(({ diameterMm }) => boltFor(diameterMm)));
    record.mounting = {
      holes: holes.map((hole) => ({ xMm: round(hole.xMm + 0.1 * draws.normal(), 0.01), yMm: round(hole.yMm + 0.1 * draws.normal(), 0.01), diameterMm: boltMm + 0.4 })),
      plusMinusMm: draws.pick([0.2, 0.3, 0.5]), boltMm, drillable: draws.chance(0.4), ...(kept() ? { panelGrounded: draws.chance(0.8) } : {}),
    };
  }
  if (kept() && draws.chance(0.8)) {
    const { lengthMm, widthMm, heightMm } = old.body!;
    record.space = { lengthMm: lengthMm + Math.floor(draws.between(2, 30)), widthMm: widthMm + Math.floor(draws.between(2, 25)), heightMm: heightMm + Math.floor(draws.between(2, 25)) };
  }
  if (old.starter) record.starter = keepSome(old.starter, kept);
  const demand: Demand = {
    ...(contact?.kind === 'contact' && kept() ? measureInrush(draws, contact.inrushA!, nominalV) : {}),
    ...(contact?.kind === 'contact' && old.partClass !== 'starter-motor' && kept() && draws.chance(0.4) ? { continuousA: { value: round(contact.continuousA! * draws.between(0.3, 0.8), 1), plusMinus: 2 } } : {}),
    ...describeUse(draws, old, kept),
    ...(kept() ? { controlFuseA: draws.pick([10, 15, 20, 25, 30, 40]) } : {}), ...(kept() && draws.chance(0.5) ? { controlRatingA: draws.pick([10, 15, 20, 30]) } : {}),
    ...(kept() && draws.chance(0.3) ? { controlOhm: { value: round(draws.between(0.02, 0.15), 0.01), plusMinus: 0.02 } } : {}),
    ...(kept() && draws.chance(0.6) ? { minSealing: lowerSealing(draws, old.sealing!) } : {}),
  };
  if (Object.keys(demand).length > 0) record.demand = demand;
  return record;
}

/** The wires that were on it, as a machine would hang them. */
function hangWires(draws: Draws, old: Part, inReturn: boolean): Wire[] {
  const [first, second, third, fourth, fifth] = old.terminals as [Terminal, ...(Terminal | undefined)[]];
  const on = (terminal: Terminal | undefined, leadsTo: Wire['leadsTo'], tag: string): Wire[] =>
    (terminal ? [{ tag, areaMm2: leadsTo === 'battery' || leadsTo === 'starter' ? 16 : 1.5, end: endFor(terminal), wasOn: terminal.id, leadsTo }] : []);
  const back = (terminal: Terminal | undefined): Wire[] => on(terminal, inReturn ? 'interlocked-return' : 'chassis', 'G1');
  if (old.partClass === 'starter-motor') {
    const carriesCoil = old.circuit.some(({ kind }) => kind === 'coil');
    if (!carriesCoil) return on(first, 'starter', 'B1');
    const start = third ?? second;
    return [...on(first, 'battery', 'B1'), ...on(start, 'start-switch', 'S1'), ...(third ? on(second, 'chassis', 'G1') : [])];
  }
  const [start, other] = fifth ? [fourth, fifth] : [third, fourth];
  const feeds = old.circuit.some((element) => element.kind === 'contact' && element.id === 'feed');
  return [
    ...on(first, 'battery', 'B1'), ...(old.partClass !== 'plug-in-relay' && draws.chance(0.3) ? on(first, 'tap', 'B2') : []), ...on(second, 'starter', 'M1'),
    ...on(start, 'start-switch', 'S1'), ...(feeds ? (draws.chance(0.85) ? on(other, 'cranking-feed', 'I1') : []) : back(other)),
  ];
}

function endFor(terminal: Terminal): NonNullable<Wire['end']> {
  if (terminal.form === 'tab' || terminal.form === 'pin') return { form: 'receptacle', tabWidthMm: terminal.tabWidthMm ?? 6.3 };
  const thread = terminal.thread === undefined ? undefined : readThread(terminal.thread);
  const holes = RING_HOLES.map(({ holeMm }) => holeMm).filter((holeMm) => thread && isRingGap(holeMm - thread.majorMm));
  return holes.length === 0 ? { form: 'bare' } : { form: 'ring', holeMm: Math.min(...holes) };
}

function measureTerminal(draws: Draws, terminal: Terminal, kept: () => boolean): RecordTerminal {
  const thread = terminal.thread === undefined ? undefined : readThread(terminal.thread);
  const measured = (value: number, sigma: number): Measured => ({ value: Math.round((value + sigma * draws.normal()) * 100) / 100, plusMinus: 2 * sigma });
  return {
    id: terminal.id, form: terminal.form,
    ...(thread && kept() ? { majorDiameterMm: measured(thread.majorMm - 0.1, 0.03) } : {}),
    ...(terminal.tabWidthMm !== undefined && kept() ? { tabWidthMm: measured(terminal.tabWidthMm, 0.05) } : {}),
    ...(terminal.marking !== undefined && kept() && draws.chance(0.7) ? { marking: terminal.marking } : {}),
    ...(terminal.at && kept() && draws.chance(0.7) ? { at: { ...terminal.at } } : {}),
  };
}

function readCoils(draws: Draws, old: Part, kept: () => boolean): OhmReading[] {
  const touchable = new Set([...old.terminals.map(({ id }) => id), 'case']);
  return old.circuit.flatMap((element): OhmReading[] => {
    if (element.kind !== 'coil' || !element.between.every((node) => touchable.has(node)) || !kept()) return [];
    const ohm = element.ohmAt20C! * (1 + 0.03 * draws.normal());
    return [{ between: element.between, ohm: { value: Number(ohm.toPrecision(3)), plusMinus: Number(Math.max(0.05, 0.06 * ohm).toPrecision(2)) } }];
  });
}

/** By a clamp at the starter cable, or computed from battery, cable and starter. */
function measureInrush(draws: Draws, ratedA: number, nominalV: number): Pick<Demand, 'inrushA' | 'from'> {
  const amps = ratedA * draws.between(0.45, 0.85);
  if (draws.chance(0.75)) return { inrushA: { value: Math.round(amps), plusMinus: Math.max(1, Math.round(amps * draws.pick([0.04, 0.06, 0.1]))) } };
  return {
    from: {
      batteryCcaA: Math.max(200, Math.round(amps / 10) * 15), cable: [{ areaMm2: draws.pick([16, 25, 35]), lengthMm: Math.round(draws.between(400, 2500)) }],
      ...(draws.chance(0.7) ? { starterOhm: { value: Number((0.75 * nominalV / amps).toPrecision(3)), plusMinus: Number((0.06 * nominalV / amps).toPrecision(2)) } } : {}),
    },
  };
}

function describeUse(draws: Draws, old: Part, kept: () => boolean): Demand {
  const coil = old.circuit.find((element) => element.kind === 'coil');
  if (coil?.kind !== 'coil' || !kept()) return {};
  if (coil.duty?.type === 'continuous') return draws.chance(0.6) ? { continuousUse: true } : { longestOnS: 30 };
  const most = coil.duty?.maxOnS ?? 30;
  return { longestOnS: draws.pick([5, 10, 15, 20, 30, 60].filter((seconds) => seconds <= most)) };
}

function keepSome<Shape extends object>(whole: Shape, kept: () => boolean): Shape {
  return Object.fromEntries(Object.entries(whole).filter(() => kept())) as Shape;
}

/** A bolt that goes through the hole with half a millimetre to spare, of the usual ones. */
function boltFor(holeMm: number): number {
  return [12, 10, 8, 6.35, 6, 5, 4].find((bolt) => bolt <= holeMm - 0.4) ?? 3;
}

function lowerSealing(draws: Draws, sealing: string): string {
  const solids = sealing[2] === 'X' ? 0 : Math.max(0, Number(sealing[2]) - (draws.chance(0.5) ? 1 : 0));
  const water = sealing[3] === 'X' ? 0 : Number(sealing[3]);
  return `IP${solids}${water > 4 ? 4 : Math.max(0, water - (draws.chance(0.4) ? 1 : 0))}`;
}
