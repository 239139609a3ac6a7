import type { Mounting, Part, PartClass, StarterData } from '../../../catalog-schema/index.ts';
import type { PartFacts } from '../part-facts.ts';
import { patternKeyOf } from '../placement/index.ts';

/** Where the holes of a bracket, or bolts, stand to each other. */
export interface Pattern {
  readonly key: string;
  readonly count: number;
  /** centre distance of each two, mm, and by how much their slots let it differ */
  readonly spans: readonly { readonly mm: number; readonly playMm: number }[];
  readonly drillable: boolean;
}

/** What of a part answers the demands that a machine may make; undefined where the catalogue does not say. */
export interface Traits {
  readonly partClass: PartClass;
  /** of the coils at work, or of a starter; none where it is not given */
  readonly nominalV: readonly number[];
  readonly inrushA: number | undefined;
  readonly continuousA: number | undefined;
  /** time its coil bears, s: infinite for continuous duty, -1 for intermittent without a time */
  readonly dutyS: number | undefined;
  /** the holding coils together, ohms at 20 C */
  readonly holdOhm: number | undefined;
  readonly body: { readonly longMm: number; readonly shortMm: number; readonly highMm: number } | undefined;
  readonly sealing: string | undefined;
  readonly ambientC: { readonly min: number; readonly max: number } | undefined;
  readonly pattern: Pattern | undefined;
  readonly starter: StarterData;
  /** thread of its first stud, as written */
  readonly thread: string | undefined;
  readonly wiring: 'no coil' | 'coil to case' | 'coil apart' | 'coil to case, feeds' | 'coil apart, feeds';
}

/** Cost: some microseconds. */
export function traitsOf(part: Part, { coils, contacts, heavy, working, holding }: PartFacts): Traits {
  const { partClass, body, sealing, ambientC, starter = {}, mounting } = part;
  const times = holding.map(({ duty }) => (!duty ? undefined : duty.type === 'continuous' ? Number.POSITIVE_INFINITY : duty.maxOnS ?? -1));
  const ohms = holding.map(({ ohmAt20C }) => ohmAt20C);
  const volts = partClass === 'starter-motor' ? (starter.nominalV === undefined ? [] : [starter.nominalV]) : working.map(({ nominalV }) => nominalV);
  const feeds = contacts.filter(({ form, coils: by }) => form === 'NO' && by.length > 0).length > 1;
  const toCase = coils.some(({ between }) => between.includes('case'));
  return {
    partClass, nominalV: volts, inrushA: heavy?.inrushA, continuousA: heavy?.continuousA,
    dutyS: times.length === 0 || times.includes(undefined) ? undefined : Math.min(...(times as number[])),
    holdOhm: ohms.length === 0 || ohms.includes(undefined) ? undefined : 1 / (ohms as number[]).reduce((sum, ohm) => sum + 1 / ohm, 0),
    body: body && { longMm: Math.max(body.lengthMm, body.widthMm), shortMm: Math.min(body.lengthMm, body.widthMm), highMm: body.heightMm },
    sealing, ambientC, pattern: mounting && patternOf(mounting), starter, thread: part.terminals.find(({ form }) => form === 'stud')?.thread,
    wiring: coils.length === 0 ? 'no coil' : `${toCase ? 'coil to case' : 'coil apart'}${feeds ? ', feeds' : ''}`,
  };
}

export function patternOf(mounting: Pick<Mounting, 'holes' | 'drillable'>): Pattern {
  const { holes, drillable } = mounting;
  const spans = holes.flatMap((a, index) => holes.slice(index + 1).map((b) =>
    ({ mm: Math.hypot(a.xMm - b.xMm, a.yMm - b.yMm), playMm: ((a.slotMm ?? 0) + (b.slotMm ?? 0)) / 2 })));
  return { key: patternKeyOf(mounting), count: holes.length, spans, drillable: drillable === true };
}

/** Whether a bracket may go as it is on bolts that stand so: as many, as far apart. A placement would tell for sure, and takes a thousand times as long. */
export function mayGoOn(own: Pattern, bolts: Pattern, looseMm: number): boolean {
  return own.key === bolts.key
    || (own.count >= bolts.count && bolts.spans.every(({ mm, playMm }) => own.spans.some((span) => Math.abs(span.mm - mm) <= playMm + span.playMm + looseMm)));
}
