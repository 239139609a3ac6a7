import type { BodySize, CircuitElement, MountingHole, Part, PartClass, Terminal } from '../../../catalog-schema/index.ts';
import type { Draws } from '../../sim-identify/random.ts';
import {
  CLASS_SHARES, COIL_WATTS, DROP_OUT_SHARES, FORM_SHARES, HEAVY_THREADS, HOLE_DIAMETERS, HOLE_SPACINGS, LEAST_AMBIENT_C, LIGHT_THREADS, MOST_AMBIENT_C,
  MOST_ON_S, NOSES_MM, PINION_MODULES, PINION_TEETH, PULL_IN_SHARES, PULL_IN_WATTS, RATINGS, SEALINGS, SLOTS, STARTER_KW, VOLT_SHARES,
  type Form, type Weighted,
} from './grids.ts';

/** What all parts of a family have in common: what they are inside, how their terminals stand, bracket and body. */
export interface FamilyDesign {
  readonly partClass: PartClass;
  readonly form: Form;
  readonly heavyIds: readonly [string, string];
  readonly smallIds: readonly [string, string];
  readonly smallForm: 'tab' | 'stud' | 'screw';
  readonly tabWidthMm: number;
  readonly lightThread: string;
  readonly holes: readonly MountingHole[];
  readonly body: BodySize;
  readonly watts: number;
  readonly pullInWatts: number;
  readonly pullInShare: number;
  readonly dropOutShare: number;
  readonly conductive: boolean;
  readonly drillable: boolean;
  readonly ambientC: { min: number; max: number };
  readonly module: number;
  readonly noseMm: number;
}

/** What tells the parts of a family apart. */
export interface Variant {
  readonly volts: number;
  readonly continuousDuty: boolean;
  readonly mostOnS: number;
  readonly rating: readonly [continuousA: number, inrushA: number];
  readonly heavyThread: string;
  readonly sealing: string;
  readonly powerKw: number;
  readonly rotation: 'cw' | 'ccw';
  readonly teeth: number;
}

type Names = readonly (readonly [string, string])[];
const HEAVY_IDS: Readonly<Record<PartClass, Names>> = {
  'start-relay': [['B', 'M'], ['30', '87'], ['BAT', 'M']], contactor: [['A1', 'A2'], ['B', 'M']], 'plug-in-relay': [['30', '87']],
  'shift-solenoid': [['30', '45'], ['B', 'M'], ['30', 'M']], 'starter-motor': [['30', '31']],
};
const SMALL_IDS: Readonly<Record<PartClass, Names>> = {
  'start-relay': [['S', 'I'], ['S', 'G'], ['86', '85']], contactor: [['X1', 'X2'], ['C1', 'C2']], 'plug-in-relay': [['86', '85']],
  'shift-solenoid': [['50', '31b'], ['S', 'X']], 'starter-motor': [['50', '31b'], ['S', 'X']],
};

/** A value by its weight. */
export function pickWeighted<Value>(draws: Draws, weighted: Weighted<Value>): Value {
  return draws.pick(weighted, ([, weight]) => weight)[0];
}

/** @param level 0 (small and weak) to 1 (large and strong): in a family, size, bracket, rating and studs go together; absent: each by itself */
export function drawDesign(draws: Draws, level: number | undefined): FamilyDesign {
  const partClass = pickWeighted(draws, CLASS_SHARES);
  const form = pickWeighted(draws, FORM_SHARES[partClass]);
  const at = (): number => level ?? draws.unit();
  const { holes, body } = drawBracket(draws, partClass, at);
  const relay = partClass === 'plug-in-relay';
  return {
    partClass, form, holes, body,
    heavyIds: draws.pick(HEAVY_IDS[partClass]),
    smallIds: draws.pick(SMALL_IDS[partClass]),
    smallForm: relay ? 'tab' : draws.pick(['tab', 'tab', 'stud', 'screw'] as const),
    tabWidthMm: draws.chance(0.8) ? 6.3 : 4.8, lightThread: draws.pick(LIGHT_THREADS),
    watts: draws.pick(COIL_WATTS[partClass]), pullInWatts: draws.pick(PULL_IN_WATTS), pullInShare: draws.pick(PULL_IN_SHARES), dropOutShare: draws.pick(DROP_OUT_SHARES),
    conductive: !relay && draws.chance(0.85), drillable: draws.chance(0.25),
    ambientC: { min: pickWeighted(draws, LEAST_AMBIENT_C), max: pickWeighted(draws, MOST_AMBIENT_C) },
    module: pickWeighted(draws, PINION_MODULES), noseMm: draws.pick(NOSES_MM),
  };
}

/** The values a family comes in; without a level (no family) any value there is. */
export interface VariantChoices {
  readonly volts: readonly number[];
  readonly continuousDuty: readonly boolean[];
  readonly mostOnS: readonly number[];
  readonly ratings: readonly Variant['rating'][];
  readonly heavyThreads: readonly string[];
  readonly sealings: readonly string[];
  readonly powersKw: readonly number[];
  readonly rotations: readonly Variant['rotation'][];
  readonly teeth: readonly number[];
}

export function drawChoices(draws: Draws, { partClass }: FamilyDesign, level: number | undefined): VariantChoices {
  const near = <Value>(grid: readonly Value[], spread: number): Value => {
    const place = level === undefined ? draws.unit() : level + spread * draws.between(-1, 1);
    return grid[Math.max(0, Math.min(grid.length - 1, Math.floor(place * grid.length)))]!;
  };
  const several = <Value>(most: number, draw: () => Value): Value[] =>
    Array.from({ length: level === undefined ? 1 : 1 + Math.floor(draws.unit() * most) }, draw);
  const continuousShare = { 'start-relay': 0.12, contactor: 0.9, 'plug-in-relay': 0.95, 'shift-solenoid': 0.02, 'starter-motor': 0.02 }[partClass];
  return {
    volts: several(4, () => pickWeighted(draws, VOLT_SHARES[partClass])),
    continuousDuty: several(1, () => draws.chance(continuousShare)), mostOnS: several(2, () => pickWeighted(draws, MOST_ON_S)),
    ratings: several(3, () => near(RATINGS[partClass], 0.15)), heavyThreads: several(3, () => near(HEAVY_THREADS, 0.2)),
    sealings: several(3, () => pickWeighted(draws, SEALINGS)), powersKw: several(2, () => near(STARTER_KW, 0.12)),
    rotations: several(2, () => (draws.chance(0.65) ? 'cw' as const : 'ccw' as const)), teeth: several(3, () => draws.pick(PINION_TEETH)),
  };
}

export function drawVariant(draws: Draws, choices: VariantChoices): Variant {
  return {
    volts: draws.pick(choices.volts), continuousDuty: draws.pick(choices.continuousDuty), mostOnS: draws.pick(choices.mostOnS), rating: draws.pick(choices.ratings),
    heavyThread: draws.pick(choices.heavyThreads), sealing: draws.pick(choices.sealings), powerKw: draws.pick(choices.powersKw),
    rotation: draws.pick(choices.rotations), teeth: draws.pick(choices.teeth),
  };
}

/** Holes and body: two in line, two across a corner, four, three on a circle, one. */
function drawBracket(draws: Draws, partClass: PartClass, at: () => number): { holes: MountingHole[]; body: BodySize } {
  const place = <Value>(grid: readonly Value[]): Value => grid[Math.min(grid.length - 1, Math.max(0, Math.floor((at() + draws.between(-0.1, 0.1)) * grid.length)))]!;
  const spacing = place(HOLE_SPACINGS);
  const diameterMm = place(HOLE_DIAMETERS);
  const [slotMm, slotAngleDeg] = pickWeighted(draws, SLOTS);
  const slot = slotMm > 0 ? { slotMm, slotAngleDeg } : {};
  const pair = (x: number, y: number, size: number, more: object = {}): MountingHole[] => [{ xMm: -x, yMm: -y, diameterMm: size, ...more }, { xMm: x, yMm: y, diameterMm: size, ...more }];
  const size = (length: number, width: number, height: number): BodySize => ({ lengthMm: Math.round(length), widthMm: Math.round(width), heightMm: Math.round(height) });
  switch (partClass) {
    case 'plug-in-relay':
      return { holes: [{ xMm: 0, yMm: draws.pick([18, 20, 21, 22, 24]), diameterMm: draws.pick([4.5, 5.3, 5.5, 6.5]) }], body: size(draws.pick([26, 28, 30]), draws.pick([26, 28, 30, 42]), draws.pick([24, 26, 28, 35])) };
    case 'shift-solenoid': {
      const round = 16 + 12 * at();
      const body = size(2 * round + draws.pick([8, 10, 12]), 2 * round + draws.pick([8, 10, 12]), 80 + 40 * at());
      if (draws.chance(0.4)) return { holes: pair(Math.round(round + 6), 0, draws.pick([5.5, 6.6]), draws.chance(0.3) ? { slotMm: 3, slotAngleDeg: 0 } : {}), body };
      const radius = Math.round(2 * round) / 2;
      return { holes: [90, 210, 330].map((degrees) => ({ ...onCircle(radius, degrees), diameterMm: 5.5 })), body };
    }
    case 'starter-motor': {
      const half = draws.pick([40, 44, 46, 50, 52, 57, 60, 64]) * (0.85 + 0.3 * at());
      const bolt = draws.pick([8.5, 10.5, 11, 13]);
      const flange = Math.round(2 * half) / 2;
      const body = size(2 * flange + 24, 2 * flange + draws.pick([10, 14, 18]), 150 + 120 * at());
      const kind = draws.unit();
      if (kind < 0.5) return { holes: pair(flange, 0, bolt), body };
      if (kind < 0.75) return { holes: pair(flange, draws.pick([18, 23, 26]), bolt), body };
      return { holes: [90, 210, 330].map((degrees) => ({ ...onCircle(flange, degrees), diameterMm: bolt })), body };
    }
    case 'start-relay': case 'contactor': {
      const body = size(spacing + draws.pick([14, 16, 18, 20]), spacing * 0.5 + draws.pick([10, 12, 14, 18]), 45 + 35 * at());
      const kind = draws.unit();
      if (kind < 0.65) return { holes: pair(spacing / 2, 0, diameterMm, slot), body };
      if (kind < 0.75) return { holes: pair(spacing / 2, draws.pick([8, 10, 12, 15]), diameterMm), body };
      const y = draws.pick([15, 16, 18, 20, 22]);
      return { holes: [...pair(spacing / 2, y, diameterMm), ...pair(-spacing / 2, y, diameterMm)], body };
    }
    default: throw new Error(`part class ${String(partClass satisfies never)} is not known`);
  }
}

function onCircle(radius: number, degrees: number): { xMm: number; yMm: number } {
  const round = (mm: number): number => Math.round(mm * 10) / 10 + 0;
  return { xMm: round(radius * Math.cos((degrees * Math.PI) / 180)), yMm: round(radius * Math.sin((degrees * Math.PI) / 180)) };
}

/** The part with every value its list could give. */
export function buildPart(design: FamilyDesign, variant: Variant, id: string): Part {
  const starter = design.partClass === 'starter-motor' ? describeStarter(design, variant) : {};
  return {
    id, partClass: design.partClass, title: describeTitle(design, variant),
    terminals: listTerminals(design, variant), ...(design.form.startsWith('starter-with') ? { inside: ['m'] } : {}),
    circuit: wireInside(design, variant),
    mounting: { holes: design.holes.map((hole) => ({ ...hole })), conductive: design.conductive, drillable: design.drillable },
    body: { ...design.body }, sealing: variant.sealing, ambientC: { ...design.ambientC }, ...starter,
  };
}

function describeStarter({ module, noseMm }: FamilyDesign, { volts, powerKw, rotation, teeth }: Variant): Pick<Part, 'starter'> {
  const lockedRotorA = Math.round((powerKw * 1000 / volts) * 0.37) * 10;
  return {
    starter: { nominalV: volts, powerKw, rotation, pinionTeeth: teeth, pinionModuleMm: module, noseMm, lockedRotorA, freeRunA: Math.round(lockedRotorA / 60) * 10 || 10 },
  };
}

function listTerminals(design: FamilyDesign, { heavyThread }: Variant): Terminal[] {
  const { form, heavyIds: [battery, load], smallIds: [first, second], smallForm, tabWidthMm, lightThread } = design;
  const plugIn = design.partClass === 'plug-in-relay';
  const tab = (id: string, width: number, xMm: number, yMm: number): Terminal => ({ id, form: 'tab', tabWidthMm: width, tabThicknessMm: 0.8, marking: id, at: { xMm, yMm } });
  const heavy = (id: string, xMm: number, yMm = 0): Terminal => (plugIn ? tab(id, 6.3, xMm, yMm) : { id, form: 'stud', thread: heavyThread, marking: id, at: { xMm, yMm } });
  const small = (id: string, xMm: number, yMm: number): Terminal => (smallForm === 'tab' ? tab(id, tabWidthMm, xMm, yMm) : { id, form: smallForm, thread: lightThread, marking: id, at: { xMm, yMm } });
  switch (form) {
    case 'case-return': return [heavy(battery, -18), heavy(load, 18), small(first, 0, 16)];
    case 'isolated': case 'isolated-diode': case 'isolated-resistor': case 'cranking-feed':
      return plugIn ? [heavy(battery, 0, -8.5), heavy(load, 0, 8.5), small(first, -8.8, 0), small(second, 8.8, 0)]
        : [heavy(battery, -18), heavy(load, 18), small(first, -9, 16), small(second, 9, 16)];
    case 'changeover': case 'changeover-diode': case 'changeover-resistor':
      return [heavy(battery, 0, -8.5), heavy(load, 0, 8.5), tab('87a', 6.3, 0, 0.5), small(first, -8.8, 0), small(second, 8.8, 0)];
    case 'shift-solenoid': return [heavy(battery, -16, 8), heavy(load, 16, 8), small(first, 0, -14)];
    case 'starter-alone': return [heavy(battery, 26, 12)];
    case 'starter-with-solenoid': return [heavy(battery, 0, 34), small(first, -16, 26)];
    case 'starter-with-solenoid-isolated': return [heavy(battery, 14, 34), heavy(load, -14, 34), small(first, -20, 20)];
    default: throw new Error(`form ${String(form satisfies never)} is not known`);
  }
}

function wireInside(design: FamilyDesign, variant: Variant): CircuitElement[] {
  const { form, heavyIds: [battery, load], smallIds: [first, second], watts, pullInWatts, pullInShare, dropOutShare } = design;
  const { volts, continuousDuty, mostOnS, rating: [continuousA, inrushA] } = variant;
  const coil = (id: string, between: [string, string], power: number): CircuitElement => ({
    kind: 'coil', id, between, nominalV: volts, ohmAt20C: Number(((volts * volts) / power).toPrecision(3)),
    pullInV: Math.round(volts * pullInShare * 10) / 10, dropOutV: Math.round(volts * dropOutShare * 10) / 10,
    duty: continuousDuty ? { type: 'continuous' } : { type: 'intermittent', maxOnS: mostOnS },
  });
  const main = (between: [string, string], coils: string[] = ['coil']): CircuitElement => ({ kind: 'contact', id: 'main', between, form: 'NO', coils, continuousA, inrushA, dropMvPer100A: 45 });
  const across = (kind: string): CircuitElement[] => (kind.endsWith('diode') ? [{ kind: 'diode', from: second, to: first }]
    : kind.endsWith('resistor') ? [{ kind: 'resistor', between: [first, second], ohm: Math.round((10 * volts * volts) / watts / 10) * 10 || 10 }] : []);
  const motorOhm = Number((volts * volts / (variant.powerKw * 1000 * 3.7)).toPrecision(3));
  switch (form) {
    case 'case-return': return [coil('coil', [first, 'case'], watts), main([battery, load])];
    case 'isolated': case 'isolated-diode': case 'isolated-resistor': return [coil('coil', [first, second], watts), main([battery, load]), ...across(form)];
    case 'cranking-feed':
      return [coil('coil', [first, 'case'], watts), main([battery, load]), { kind: 'contact', id: 'feed', between: [battery, second], form: 'NO', coils: ['coil'], continuousA: 10 }];
    case 'changeover': case 'changeover-diode': case 'changeover-resistor': {
      const closed: CircuitElement = { kind: 'contact', id: 'rest', between: [battery, '87a'], form: 'NC', coils: ['coil'], continuousA: Math.round(continuousA * 0.075) * 10 || 10, inrushA: Math.round(inrushA / 20) * 10 };
      return [coil('coil', [first, second], watts), main([battery, load]), closed, ...across(form)];
    }
    case 'shift-solenoid': return [coil('pull-in', [first, load], pullInWatts), coil('hold-in', [first, 'case'], watts), main([battery, load], ['pull-in', 'hold-in'])];
    case 'starter-alone': return [{ kind: 'motor', between: [battery, 'case'], ohm: motorOhm }];
    case 'starter-with-solenoid': case 'starter-with-solenoid-isolated':
      return [coil('pull-in', [first, 'm'], pullInWatts), coil('hold-in', [first, 'case'], watts), main([battery, 'm'], ['pull-in', 'hold-in']),
        { kind: 'motor', between: ['m', form === 'starter-with-solenoid' ? 'case' : load], ohm: motorOhm }];
    default: throw new Error(`form ${String(form satisfies never)} is not known`);
  }
}

const CLASS_WORDS: Readonly<Record<PartClass, string>> = {
  'start-relay': 'Start relay', contactor: 'Contactor', 'plug-in-relay': 'Plug-in relay', 'shift-solenoid': 'Shift solenoid', 'starter-motor': 'Starter motor',
};
const FORM_WORDS: Readonly<Record<Form, string>> = {
  'case-return': 'coil returns through the case', isolated: 'isolated coil', 'isolated-diode': 'isolated coil with diode', 'isolated-resistor': 'isolated coil with resistor',
  'cranking-feed': 'cranking feed terminal', changeover: 'changeover', 'changeover-diode': 'changeover with diode', 'changeover-resistor': 'changeover with resistor',
  'shift-solenoid': 'two windings', 'starter-alone': 'for a remote start relay', 'starter-with-solenoid': 'with shift solenoid', 'starter-with-solenoid-isolated': 'with shift solenoid, isolated ground',
};

function describeTitle({ partClass, form }: FamilyDesign, { volts, powerKw, rotation, teeth, heavyThread }: Variant): string {
  const starter = partClass === 'starter-motor' ? ` ${powerKw} kW, ${rotation === 'cw' ? 'clockwise' : 'counter-clockwise'}, ${teeth} teeth` : '';
  const studs = partClass === 'plug-in-relay' ? '' : `, ${heavyThread.replace(/x.*/, '')} studs`;
  return `${CLASS_WORDS[partClass]} ${volts} V${starter}, ${FORM_WORDS[form]}${studs}`;
}
