import type { CircuitElement, Part, Terminal } from '../../../catalog-schema/index.ts';
import { Draws } from '../../sim-identify/random.ts';
import { ISSUERS, LINK_SHARES, MISSING_SHARES, type Missable } from './grids.ts';
import { buildPart, drawChoices, drawDesign, drawVariant } from './part-design.ts';

/** Which catalogue: the same facts give the same parts in the same order on every machine. */
export interface CatalogueFacts {
  readonly count: number;
  readonly seed: number;
  /** no families: every value of a part is drawn by itself, so that none tells anything of another */
  readonly unfriendly?: boolean;
}

/** Parts of a family, on average. */
const FAMILY_MEAN = 32;

/**
 * An invented catalogue, part by part: families of near-duplicates (one bracket and circuit; other voltages, ratings, studs, duties), values
 * missing by family and by part, old numbers with their successors. Ids are unique and in no order. Memory does not grow with the count.
 */
export function* generateParts(facts: CatalogueFacts): Generator<Part> {
  let left = facts.count;
  for (let index = 0; left > 0; index++) {
    const family = generateFamily(facts, index).slice(0, left);
    left -= family.length;
    const ids = new Set(family.map(({ id }) => id));
    for (const { thinned } of family) {
      // A family that was cut short must not name successors that are not there.
      const successors = thinned.supersededBy?.filter((id) => ids.has(id));
      const { supersededBy: _all, ...part } = thinned;
      yield successors === undefined || successors.length === 0 ? part : { ...part, supersededBy: successors };
    }
  }
}

/** How many families there are at least; the last ones may be cut short or not reached. */
export function countFamilies({ count, unfriendly }: CatalogueFacts): number {
  return unfriendly === true ? count : Math.max(1, Math.floor((0.9 * count) / FAMILY_MEAN));
}

/** A part as it stands in the catalogue, and with nothing left out. */
export interface FamilyMember { readonly id: string; readonly whole: Part; readonly thinned: Part }

/** The family of that place in the catalogue, drawn anew. */
export function generateFamily(facts: CatalogueFacts, index: number): FamilyMember[] {
  const draws = new Draws(mixSeeds(facts.seed, index));
  const friendly = facts.unfriendly !== true;
  const level = friendly ? draws.unit() : undefined;
  const design = drawDesign(draws, level);
  const choices = drawChoices(draws, design, level);
  const issuer = draws.pick(ISSUERS);
  const code = scramble(index);
  const gone = new Set<Missable>(friendly ? missing(draws, 0.75) : []);
  const size = friendly ? Math.floor(draws.between(8, 2 * FAMILY_MEAN - 7)) : 1;
  const members: FamilyMember[] = [];
  const current: string[] = [];
  while (members.length < size) {
    const variant = drawVariant(draws, choices);
    const chain = friendly && draws.chance(LINK_SHARES.superseded) ? (draws.chance(LINK_SHARES.longerChain) ? 3 : 2) : 1;
    // The oldest of a chain names the next, which names the newest.
    for (let old = chain - 1; old >= 0 && members.length < size; old--) {
      const suffix = String(members.length).padStart(2, '0');
      const number = `${issuer[1]}${code}-${suffix}`;
      const id = number.toLowerCase();
      const next = `${issuer[1]}${code}-${String(members.length + 1).padStart(2, '0')}`.toLowerCase();
      // Two successors stand for the old part together; the second is one that nothing follows, so no cycle can close.
      const both = current.length > 0 && draws.chance(LINK_SHARES.twoSuccessors) ? [next, draws.pick(current)] : [next];
      if (old === 0) current.push(id);
      const whole: Part = {
        ...buildPart(design, variant, id), numbers: [{ issuer: issuer[0], number }],
        ...(draws.chance(LINK_SHARES.claim) ? { replaces: [drawClaim(draws, index)] } : {}),
        ...(old > 0 ? { supersededBy: both } : {}),
      };
      const lost = new Set<Missable>([...gone, ...missing(draws, friendly ? 0.25 : 1)]);
      members.push({ id, whole, thinned: leaveOut(whole, lost) });
    }
  }
  return members;
}

/** One 32-bit seed of two numbers (finaliser of MurmurHash3, public domain). */
export function mixSeeds(seed: number, index: number): number {
  let bits = (Math.imul(seed, 0x9e3779b1) ^ Math.imul(index + 1, 0x85ebca6b)) >>> 0;
  bits = Math.imul(bits ^ (bits >>> 16), 0x85ebca6b);
  bits = Math.imul(bits ^ (bits >>> 13), 0xc2b2ae35);
  return (bits ^ (bits >>> 16)) >>> 0;
}

/** Seven digits that tell every index apart and follow no order: 7368787 has no factor in common with 10^7. */
function scramble(index: number): string {
  return String((index * 7_368_787 + 1_234_567) % 10_000_000).padStart(7, '0');
}

/** To replace a part of an earlier family, or one that nobody has. */
function drawClaim(draws: Draws, index: number): { issuer: string; number: string; source: string } {
  const [issuer, letters] = draws.pick(ISSUERS);
  const code = scramble(Math.floor(draws.unit() * (index + 1)));
  return { issuer, number: `${letters}${code}-${String(Math.floor(draws.between(0, 20))).padStart(2, '0')}`, source: 'list of the maker' };
}

function missing(draws: Draws, share: number): Missable[] {
  return (Object.keys(MISSING_SHARES) as Missable[]).filter((name) => draws.chance(MISSING_SHARES[name] * share));
}

function leaveOut(part: Part, lost: ReadonlySet<Missable>): Part {
  const { mounting, body, sealing, ambientC, starter, ...rest } = part;
  return {
    ...rest,
    terminals: part.terminals.map((terminal) => thinTerminal(terminal, lost)),
    circuit: part.circuit.map((element) => thinElement(element, lost)),
    ...(mounting && !lost.has('mounting') ? { mounting: dropKeys(mounting, { conductive: lost.has('conductive'), drillable: lost.has('drillable') }) } : {}),
    ...(body && !lost.has('body') ? { body } : {}),
    ...(sealing !== undefined && !lost.has('sealing') ? { sealing } : {}),
    ...(ambientC && !lost.has('ambient') ? { ambientC } : {}),
    ...(starter ? {
      starter: dropKeys(starter, {
        nominalV: lost.has('starterVolts'), powerKw: lost.has('starterPower'), rotation: lost.has('rotation'), pinionTeeth: lost.has('teeth'),
        pinionModuleMm: lost.has('module'), noseMm: lost.has('nose'), lockedRotorA: lost.has('lockedRotor'), freeRunA: lost.has('lockedRotor'),
      }),
    } : {}),
  };
}

function thinTerminal(terminal: Terminal, lost: ReadonlySet<Missable>): Terminal {
  const heavy = terminal.form === 'stud' && terminal.thread !== undefined && !terminal.thread.startsWith('#') && !/^M[45]x/.test(terminal.thread);
  return dropKeys(terminal, { thread: heavy && lost.has('heavyThread'), tabWidthMm: lost.has('tabWidth'), tabThicknessMm: lost.has('tabWidth'), marking: lost.has('marking'), at: lost.has('at') });
}

function thinElement(element: CircuitElement, lost: ReadonlySet<Missable>): CircuitElement {
  switch (element.kind) {
    case 'coil': {
      const kept = dropKeys(element, { ohmAt20C: lost.has('coilOhm'), pullInV: lost.has('pullIn'), dropOutV: lost.has('dropOut'), duty: lost.has('duty') });
      return kept.duty?.type === 'intermittent' && lost.has('mostOn') ? { ...kept, duty: { type: 'intermittent' } } : kept;
    }
    case 'contact': return dropKeys(element, { inrushA: lost.has('inrush'), continuousA: lost.has('continuous'), dropMvPer100A: lost.has('contactDrop') });
    case 'motor': return dropKeys(element, { ohm: lost.has('motorOhm') });
    case 'diode': case 'resistor': return element;
    default: throw new Error(`element ${String(element satisfies never)} is not known`);
  }
}

/** The object without the optional keys that are lost. */
function dropKeys<Shape extends object>(whole: Shape, lost: Partial<Record<keyof Shape, boolean>>): Shape {
  return Object.fromEntries(Object.entries(whole).filter(([key]) => lost[key as keyof Shape] !== true)) as Shape;
}
