import type { Part } from '../../../catalog-schema/index.ts';
import { isOneCoilAlone, threadOf, type PartFacts } from '../part-facts.ts';
import { wiringFormOf } from '../rewire/index.ts';
import { settingOf } from '../settings.ts';

/**
 * What a part is sorted out by, one number a column; NaN where the part does not say. A column never shows a part worse than its check
 * would find it: where several coils answer together the column holds a number that is at least as good.
 */
export const COLUMNS = [
  /** time its coil bears, s: the least of the holding coils'; infinite for continuous duty, -1 for intermittent without a time */
  'dutyS',
  /** resistance of the holding coils together, ohms at 20 C, without the resistors across them */
  'holdOhm',
  /** the greatest pull-in voltage that a holding coil gives, V at 20 C */
  'pullInV',
  'inrushA', 'continuousA',
  'ambientMinC', 'ambientMaxC',
  /** the longer and the shorter side of the body in the bracket's plane, and its height, mm */
  'bodyLongMm', 'bodyShortMm', 'bodyHighMm',
  /** major diameters of the thickest and thinnest stud fit for a starter cable, mm; -1 where there is none, NaN where one is not given */
  'studThickMm', 'studThinMm',
  'pinionModuleMm', 'powerKw', 'noseMm',
] as const;
export type Column = (typeof COLUMNS)[number];

/** Major diameter of a thread as written, mm; NaN where it cannot be read. */
export type MajorOf = (thread: string) => number;

/** Reads each thread once. */
export function rememberMajors(): MajorOf {
  const known = new Map<string, number>();
  return (thread) => {
    let majorMm = known.get(thread);
    if (majorMm === undefined) known.set(thread, majorMm = threadOf({ thread })?.majorMm ?? Number.NaN);
    return majorMm;
  };
}

/** The numbers of one part, in the order of COLUMNS. */
export function measureColumns({ body, ambientC, starter }: Part, facts: PartFacts, majorOf: MajorOf): number[] {
  const { heavy, holding } = facts;
  const studs = majorDiameters(facts, majorOf);
  return [
    leastDuty(facts), holdingOhm(facts), Math.max(...holding.flatMap(({ pullInV }) => pullInV ?? []), Number.NEGATIVE_INFINITY),
    heavy?.inrushA ?? Number.NaN, heavy?.continuousA ?? Number.NaN,
    ambientC?.min ?? Number.NaN, ambientC?.max ?? Number.NaN,
    body ? Math.max(body.lengthMm, body.widthMm) : Number.NaN, body ? Math.min(body.lengthMm, body.widthMm) : Number.NaN, body?.heightMm ?? Number.NaN,
    studs === undefined ? Number.NaN : Math.max(...studs, -1), studs === undefined ? Number.NaN : studs.length === 0 ? -1 : Math.min(...studs),
    starter?.pinionModuleMm ?? Number.NaN, starter?.powerKw ?? Number.NaN, starter?.noseMm ?? Number.NaN,
  ].map((value) => (value === Number.NEGATIVE_INFINITY ? Number.NaN : value));
}

/**
 * What settles the checks that hang on no column: parts of equal profile fare alike at class, contact form, voltage, rotation and teeth. With
 * them stands the form of the circuit, as far as it alone may refuse every wiring: whether it is one coil with contacts,
 * whether a coil ends in the case or on a contact, and the bracket.
 */
export function profileOf(part: Part, { contacts, coils, working }: PartFacts): string {
  const { partClass, starter, mounting } = part;
  return JSON.stringify([
    wiringFormOf(part), isOneCoilAlone(part), coils.some(({ between }) => between.includes('case')),
    contacts.some((contact) => coils.some(({ between }) => between.some((node) => contact.between.includes(node)))), mounting?.conductive ?? null,
    partClass, coils.length > 0, [...new Set(working.map(({ nominalV }) => nominalV))],
    contacts.some(({ form, coils: by }) => form === 'NO' && by.length > 0), contacts.some(({ form }) => form === 'NO'), contacts.some(({ form }) => form === 'NC'),
    partClass === 'starter-motor' ? [starter?.nominalV ?? null, starter?.rotation ?? null, starter?.pinionTeeth ?? null] : null,
  ]);
}

function leastDuty({ holding }: PartFacts): number {
  if (holding.length === 0 || holding.some(({ duty }) => !duty)) return Number.NaN;
  const times = holding.map(({ duty }) => (duty!.type === 'continuous' ? Number.POSITIVE_INFINITY : duty!.maxOnS));
  // A coil that gives no time may pass where none is asked for: then no other coil's time decides.
  return times.some((time) => time === undefined) ? -1 : Math.min(...(times as number[]));
}

function holdingOhm({ holding }: PartFacts): number {
  if (holding.length === 0 || holding.some(({ ohmAt20C }) => ohmAt20C === undefined)) return Number.NaN;
  if (holding.length === 1) return holding[0]!.ohmAt20C!;
  // Rounding may not make the coils look lower than they are.
  return (1 + 1e-9) / holding.reduce((sum, { ohmAt20C }) => sum + 1 / ohmAt20C!, 0);
}

/** undefined where a stud's thread is not given; thin studs are control terminals. */
function majorDiameters({ studs }: PartFacts, majorOf: MajorOf): number[] | undefined {
  const all = studs.map(({ thread }) => (thread === undefined ? Number.NaN : majorOf(thread)));
  return all.some(Number.isNaN) ? undefined : all.filter((majorMm) => majorMm >= settingOf('heavyStudMm'));
}
