import type { Part, PartClass } from '../../../catalog-schema/index.ts';
import { settingOf } from '../settings.ts';
import type { SamplePart } from './sample-part.ts';
import { traitsOf, type Traits } from './traits.ts';

/** A part of a class with its traits. */
export interface Member extends SamplePart {
  readonly traits: Traits;
}

/** Another part of the class that shares its bracket or its body, and how alike it is in what both give, 0..1. */
export interface Relative {
  readonly member: Member;
  readonly likeness: number;
}

/** Relatives that are less alike than this, against the nearest, say nothing more. */
const LEAST_LIKENESS = 0.03;

/**
 * All parts of one class, told apart into families: catalogues are made of near-duplicates, and what one of a family leaves unsaid the others say.
 * Nothing here hangs on a record.
 */
export class Kin {
  readonly partClass: PartClass;
  readonly #listParts: () => readonly SamplePart[];
  #members: readonly Member[] | undefined;
  #sharing: ReadonlyMap<string, readonly Member[]> | undefined;

  /** @param listParts in order of id; not asked before something is left unsaid or unrecorded */
  constructor(partClass: PartClass, listParts: () => readonly SamplePart[]) {
    this.partClass = partClass;
    this.#listParts = listParts;
  }

  get members(): readonly Member[] {
    return this.#members ??= this.#listParts().map(({ part, facts }) => ({ part, facts, traits: traitsOf(part, facts) }));
  }

  /** At most `kinAsked` of those that share its bracket, and as many of those that share its body; in order of id. */
  relativesOf(part: Part, traits: Traits): Relative[] {
    const most = settingOf('kinAsked');
    const sharing = this.#sharing ??= gatherSharing(this.members);
    const near = new Set(sharedKeys(traits).flatMap((key) => (sharing.get(key) ?? []).slice(0, most)));
    const all = [...near].filter((member) => member.part.id !== part.id).map((member) => ({ member, likeness: likenessOf(traits, member.traits) }));
    const best = all.reduce((most_, { likeness }) => Math.max(most_, likeness), 0);
    return all.filter(({ likeness }) => likeness > LEAST_LIKENESS * best);
  }
}

function gatherSharing(members: readonly Member[]): Map<string, Member[]> {
  const sharing = new Map<string, Member[]>();
  for (const member of members) {
    for (const key of sharedKeys(member.traits)) {
      const there = sharing.get(key);
      if (there) there.push(member);
      else sharing.set(key, [member]);
    }
  }
  return sharing;
}

function sharedKeys({ pattern, body }: Traits): string[] {
  return [...(pattern ? [pattern.key] : []), ...(body ? [`${body.longMm} x ${body.shortMm}`] : [])];
}

/** A product over all traits: what differs takes from it, what one of the two does not give takes a little. */
function likenessOf(a: Traits, b: Traits): number {
  const [unknown, other, unlike] = [settingOf('kinUnknown'), settingOf('kinOther'), settingOf('kinUnlike')];
  const same = (x: unknown, y: unknown, otherwise: number): number => (x === undefined || y === undefined ? unknown : x === y ? 1 : otherwise);
  const near = (x: number | undefined, y: number | undefined, share: number, otherwise: number): number =>
    (x === undefined || y === undefined ? unknown : Math.abs(x - y) <= share * Math.max(Math.abs(x), Math.abs(y)) ? 1 : otherwise);
  const tenth = 0.1;
  const body = near(a.body?.longMm, b.body?.longMm, tenth / 3, unlike) * near(a.body?.shortMm, b.body?.shortMm, tenth / 3, other) * near(a.body?.highMm, b.body?.highMm, tenth, other);
  const outer = same(a.nominalV[0], b.nominalV[0], other) * same(a.pattern?.key, b.pattern?.key, unlike) * same(a.wiring, b.wiring, unlike) * body
    * same(a.sealing, b.sealing, other) * same(a.ambientC?.min, b.ambientC?.min, other) * same(a.ambientC?.max, b.ambientC?.max, other) * same(a.thread, b.thread, other);
  if (a.partClass === 'starter-motor') {
    return (['rotation', 'pinionTeeth', 'pinionModuleMm', 'powerKw', 'noseMm'] as const).reduce((product, key) => product * same(a.starter[key], b.starter[key], other), outer);
  }
  return outer * near(a.inrushA, b.inrushA, tenth, unlike) * near(a.continuousA, b.continuousA, tenth, other) * near(a.holdOhm, b.holdOhm, tenth, other) * same(a.dutyS, b.dutyS, other);
}
