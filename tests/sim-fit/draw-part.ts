import type { CircuitElement, Mounting, Part, PartClass, Terminal } from '../../catalog-schema/index.ts';
import type { Draws } from '../sim-identify/random.ts';

// One whole data sheet of an invented part. Values are drawn wider than the product's own defaults (all of it common practice, no source).

export type Form = 'case-return' | 'case-diode' | 'isolated' | 'isolated-diode' | 'isolated-resistor' | 'series-diode' | 'cranking-feed' | 'shift-solenoid' | 'changeover' | 'starter' | 'starter-solenoid';

/** How a part is drawn, before it is written as terminals and a circuit: what its twins change. */
export interface Design {
  partClass: PartClass;
  form: Form;
  nominalV: number;
  heavyThread: string;
  small: SmallEnd;
  /** battery, starter, first and second small terminal, fifth pin */
  ids: readonly string[];
  markings?: readonly string[];
  /** the small terminals are the other way about on the face; the heavy ones likewise */
  smallSwapped: boolean;
  heavySwapped: boolean;
  /** the diode's plus end is the second small terminal */
  diodeTurned: boolean;
  /** a coil to the case needs no second small terminal */
  three: boolean;
  faceMm: { heavyX: number; heavyY: number; smallX: number; smallY: number };
  watts: number;
  pullInShare: number;
  dropOutShare: number;
  /** null is continuous */
  maxOnS: number | null;
  inrushA: number;
  continuousA: number;
  mounting: Mounting;
  body: { lengthMm: number; widthMm: number; heightMm: number };
  sealing: string;
  ambientC: { min: number; max: number };
  starter?: { powerKw: number; rotation: 'cw' | 'ccw'; pinionTeeth: number; pinionModuleMm: number; noseMm: number };
}

export type SmallEnd = { form: 'tab'; widthMm: number } | { form: 'stud' | 'screw'; thread: string } | { form: 'lead' };

const CLASS_FORMS: Readonly<Record<PartClass, readonly (readonly [Form, number])[]>> = {
  'start-relay': [['isolated', 0.36], ['case-return', 0.26], ['cranking-feed', 0.16], ['isolated-diode', 0.14], ['isolated-resistor', 0.08]],
  contactor: [['isolated', 0.55], ['isolated-diode', 0.25], ['case-return', 0.1], ['isolated-resistor', 0.1]],
  'plug-in-relay': [['isolated', 0.4], ['changeover', 0.3], ['isolated-diode', 0.3]],
  'shift-solenoid': [['shift-solenoid', 1]],
  'starter-motor': [['starter', 0.5], ['starter-solenoid', 0.5]],
};
const NAMES: readonly (readonly string[])[] = [['B', 'M', 'S', 'I', 'N'], ['30', '87', '86', '85', '87a'], ['T1', 'T2', 'A1', 'A2', 'T3'], ['A', 'C', 'X', 'Y', 'D'], ['L1', 'L2', '1', '2', 'L3']];
const SMALL: readonly SmallEnd[] = [
  { form: 'tab', widthMm: 6.3 }, { form: 'tab', widthMm: 6.3 }, { form: 'tab', widthMm: 4.8 }, { form: 'stud', thread: 'M5x0.8' }, { form: 'stud', thread: '#10-32' },
  { form: 'stud', thread: 'M4x0.7' }, { form: 'screw', thread: '#8-32' }, { form: 'lead' },
];
export const HEAVY_THREADS = ['M6x1', 'M8x1.25', '1/4-20', '5/16-18', '5/16-24', 'M10x1.5'] as const;
export const SEALINGS = ['IP20', 'IP40', 'IP54', 'IP65', 'IP66', 'IP67'] as const;

export function drawDesign(draws: Draws, partClass: PartClass): Design {
  const form = draws.pick(CLASS_FORMS[partClass], ([, share]) => share)[0];
  const starter = partClass === 'starter-motor';
  const plugIn = partClass === 'plug-in-relay';
  const nominalV = draws.pick([12, 24, 6, 36, 48], (volts) => (volts === 12 ? 0.6 : volts === 24 ? 0.2 : starter || plugIn ? 0.02 : 0.07));
  const inrushA = plugIn ? draws.pick([40, 60, 80, 120, 150]) : partClass === 'contactor' ? draws.pick([150, 200, 300, 400, 600]) : draws.pick([200, 300, 400, 500, 600, 800]);
  return {
    partClass, form, nominalV,
    heavyThread: draws.pick(HEAVY_THREADS), small: plugIn ? { form: 'tab', widthMm: 6.3 } : draws.pick(SMALL),
    ids: draws.pick(NAMES), ...(draws.chance(0.5) && { markings: draws.pick(NAMES) }), smallSwapped: false, heavySwapped: false, diodeTurned: draws.chance(0.3), three: draws.chance(0.5),
    faceMm: { heavyX: Math.round(draws.between(14, 26)), heavyY: Math.round(draws.between(4, 12)), smallX: Math.round(draws.between(5, 11)), smallY: Math.round(draws.between(24, 34)) },
    watts: { 'start-relay': 38, contactor: 13, 'plug-in-relay': 1.8, 'shift-solenoid': 115, 'starter-motor': 110 }[partClass] * Math.exp(0.4 * draws.normal()),
    pullInShare: draws.between(0.52, 0.7), dropOutShare: draws.between(0.06, 0.25),
    maxOnS: partClass === 'contactor' || plugIn || (partClass === 'start-relay' && draws.chance(0.12)) ? null : draws.pick([15, 20, 30, 45, 60, 120]),
    inrushA, continuousA: Math.round(inrushA * draws.between(0.2, 0.4)),
    mounting: drawMounting(draws, starter),
    body: starter ? { lengthMm: Math.round(draws.between(120, 160)), widthMm: Math.round(draws.between(90, 120)), heightMm: Math.round(draws.between(170, 250)) }
      : { lengthMm: Math.round(draws.between(55, 95)), widthMm: Math.round(draws.between(35, 60)), heightMm: Math.round(draws.between(40, 80)) },
    sealing: draws.pick(SEALINGS), ambientC: { min: draws.pick([-40, -30, -25, -20]), max: draws.pick([70, 80, 85, 100]) },
    ...(starter && { starter: {
      powerKw: draws.pick([0.6, 0.8, 1, 1.2, 1.4, 2]), rotation: draws.chance(0.7) ? 'cw' : 'ccw', pinionTeeth: draws.pick([8, 9, 10, 11, 13]),
      pinionModuleMm: draws.pick([2.117, 2.54, 2.5, 3]), noseMm: Math.round(draws.between(15, 35)),
    } }),
  };
}

function drawMounting(draws: Draws, starter: boolean): Mounting {
  const diameterMm = starter ? draws.pick([9, 10.8]) : draws.pick([5.5, 6.5, 7]);
  const span = starter ? draws.pick([100, 114, 120]) : draws.pick([38, 42.5, 50, 52.4, 57, 63.5]);
  const count = starter ? draws.pick([2, 2, 3]) : draws.pick([2, 2, 2, 2, 4, 3]);
  const slotMm = draws.chance(0.25) ? draws.pick([3, 5, 8]) : 0;
  const depth = Math.round(draws.between(0.4, 0.8) * span);
  const corners: readonly (readonly [number, number])[] = count === 2 ? [[-span / 2, 0], [span / 2, 0]] : count === 3 ? [[-span / 2, 0], [span / 2, 0], [Math.round(span / 7), depth]]
    : [[-span / 2, 0], [span / 2, 0], [-span / 2, depth], [span / 2, depth]];
  return {
    holes: corners.map(([xMm, yMm], i) => ({ xMm, yMm, diameterMm, ...(slotMm > 0 && i % 2 === 1 && { slotMm, slotAngleDeg: 0 }) })),
    conductive: draws.chance(0.88), drillable: draws.chance(0.25),
  };
}

/** The data sheet in the contract's words, nothing left out. */
export function writePart(design: Design, id: string): Part {
  const [battery, starter, first, second, fifth] = design.ids as [string, string, string, string, string];
  const { faceMm, partClass, form } = design;
  const [heavySide, smallSide] = [design.heavySwapped ? -1 : 1, design.smallSwapped ? -1 : 1];
  const heavyEnd = partClass === 'plug-in-relay' ? { form: 'tab' as const, tabWidthMm: 6.3 } : { form: 'stud' as const, thread: design.heavyThread };
  const smallEnd = design.small.form === 'tab' ? { form: 'tab' as const, tabWidthMm: design.small.widthMm }
    : design.small.form === 'lead' ? { form: 'lead' as const } : { form: design.small.form, thread: design.small.thread };
  const markingOf = (i: number): { marking?: string } => (design.markings ? { marking: design.markings[i]! } : {});
  const heavies: Terminal[] = [
    { id: battery, ...heavyEnd, ...markingOf(0), at: { xMm: -heavySide * faceMm.heavyX, yMm: faceMm.heavyY } },
    { id: starter, ...heavyEnd, ...markingOf(1), at: { xMm: heavySide * faceMm.heavyX, yMm: faceMm.heavyY } },
  ];
  const smalls: Terminal[] = [
    { id: first, ...smallEnd, ...markingOf(2), at: { xMm: -smallSide * faceMm.smallX, yMm: faceMm.smallY } },
    { id: second, ...smallEnd, ...markingOf(3), at: { xMm: smallSide * faceMm.smallX, yMm: faceMm.smallY } },
  ];
  const terminals = form === 'starter' ? heavies.slice(0, 1) : form === 'starter-solenoid' ? [heavies[0]!, smalls[0]!]
    : form === 'shift-solenoid' || ((form === 'case-return' || form === 'case-diode') && design.three) ? [...heavies, smalls[0]!]
      : form === 'changeover' ? [...heavies, ...smalls, { id: fifth, ...heavyEnd, ...markingOf(4), at: { xMm: 0, yMm: faceMm.heavyY - 4 } }] : [...heavies, ...smalls];
  const inside = form === 'series-diode' || form === 'starter' || form === 'starter-solenoid' ? ['m'] : undefined;
  return {
    id, partClass, title: `invented ${partClass}`, terminals, ...(inside && form !== 'starter' && { inside }), circuit: writeCircuit(design, { battery, starter, first, second, fifth }),
    mounting: structuredClone(design.mounting), body: { ...design.body }, sealing: design.sealing, ambientC: { ...design.ambientC },
    ...(design.starter && { starter: { nominalV: design.nominalV, ...design.starter } }),
  };
}

function writeCircuit(design: Design, at: Record<'battery' | 'starter' | 'first' | 'second' | 'fifth', string>): CircuitElement[] {
  const { form, nominalV, diodeTurned } = design;
  const volts = (share: number): number => round3(share * nominalV);
  const duty = design.maxOnS === null ? { type: 'continuous' as const } : { type: 'intermittent' as const, maxOnS: design.maxOnS };
  const coil = (id: string, a: string, b: string, watts: number): CircuitElement => ({
    kind: 'coil', id, between: [a, b], nominalV, ohmAt20C: round3(nominalV ** 2 / watts), pullInV: volts(design.pullInShare), dropOutV: volts(design.dropOutShare), duty,
  });
  const contact = (a: string, b: string, coils: string[], id = 'X', contactForm: 'NO' | 'NC' = 'NO', share = 1): CircuitElement => ({
    kind: 'contact', id, between: [a, b], form: contactForm, coils, inrushA: Math.round(design.inrushA * share), continuousA: Math.max(1, Math.round(design.continuousA * share)),
  });
  const main = contact(at.battery, at.starter, ['K']);
  const isolated = [coil('K', at.first, at.second, design.watts), main];
  const diode = (from: string, to: string): CircuitElement => ({ kind: 'diode', from, to });
  const [plus, minus] = diodeTurned ? [at.second, at.first] : [at.first, at.second];
  switch (form) {
    case 'case-return': return [coil('K', at.first, 'case', design.watts), main];
    case 'case-diode': return [coil('K', at.first, 'case', design.watts), main, diodeTurned ? diode(at.first, 'case') : diode('case', at.first)];
    case 'isolated': return isolated;
    case 'isolated-diode': return [...isolated, diode(minus, plus)];
    case 'isolated-resistor': return [...isolated, { kind: 'resistor', between: [at.first, at.second], ohm: round3(12 * nominalV ** 2 / design.watts) }];
    case 'series-diode': return [{ kind: 'diode', from: plus, to: 'm' }, coil('K', 'm', minus, design.watts), main];
    case 'cranking-feed': return [coil('K', at.first, 'case', design.watts), main, contact(at.battery, at.second, ['K'], 'Y', 'NO', 0.04)];
    case 'shift-solenoid': return [coil('P', at.first, at.starter, 3.4 * design.watts), coil('H', at.first, 'case', design.watts), contact(at.battery, at.starter, ['P', 'H'])];
    case 'changeover': return [coil('K', at.first, at.second, design.watts), main, contact(at.battery, at.fifth, ['K'], 'Y', 'NC', 0.6)];
    case 'starter': return [{ kind: 'motor', between: [at.battery, 'case'] }];
    case 'starter-solenoid': return [coil('K', at.first, 'case', design.watts), contact(at.battery, 'm', ['K']), { kind: 'motor', between: ['m', 'case'] }];
    default: throw new Error(`form ${String(form satisfies never)} is not known`);
  }
}

export function round3(value: number): number {
  return Number(value.toPrecision(3));
}
