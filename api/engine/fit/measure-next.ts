import { amountInMinor, fromMinor, type Criterion, type FitReading } from '../../../catalog-schema/index.ts';
import { circuitKeyOf } from '../rewire/index.ts';
import { settingOf } from '../settings.ts';
import { compareText } from './compare-text.ts';
import type { Evaluated } from './evaluated.ts';
import type { Notes, Reading } from './finding.ts';
import { learn } from './learned.ts';
import type { FitMachine } from './machine.ts';
import { entropyOf, findSaving, type ReadPart } from './reading-worth.ts';

/** One reading that may be taken, and the listed fits that hang on it. */
interface OpenReading {
  readonly what: string;
  readonly from: Reading['from'];
  readonly criteria: Set<Criterion>;
  readonly settles: { readonly each: Evaluated; readonly chance: number; readonly share: number; readonly isOther: boolean; readonly like: string | undefined }[];
}

/**
 * Which reading, not yet taken, is worth most to the listed fits. With prices in money: by how much the least expected cost is expected to
 * fall (`findSaving`); readings that can change no choice are left out. Without prices in bits: the entropy of what the reading
 * tells of each listed fit, counted at the fit's share of unknowns that it settles, added up.
 */
export function rankReadings(machine: FitMachine, listed: readonly Evaluated[], notes: Notes): { readings: FitReading[]; unit: string } {
  const open = gatherReadings(listed.filter(({ fit }) => fit.verdict !== 'no'));
  const { cost } = machine;
  const unit = cost ? cost.supply.currency : 'bit';
  const worthOf = cost ? createSavings(machine, listed) : worthInBits;
  const ranked = open.map((reading) => ({ reading, worth: worthOf(reading) })).filter(({ worth }) => worth > 0)
    .toSorted((a, b) => b.worth - a.worth || compareText(a.reading.what, b.reading.what));
  if (ranked.length > 0) {
    notes.assume(cost
      ? `worth of a reading: ${unit} by which the least expected cost is expected to fall once it is taken; the bother of taking it is not counted`
      : 'worth of a reading: bits it tells of the listed fits, each at the share of its unknowns that the reading settles, added up');
  }
  const most = settingOf('readingsListed');
  if (ranked.length > most) notes.use('readingsListed');
  const readings = ranked.slice(0, most).map(({ reading, worth }): FitReading => ({
    what: reading.what, why: describeReading(reading), worth, settles: [...reading.criteria].toSorted(compareText), from: reading.from,
  }));
  return { readings, unit };
}

function gatherReadings(fits: readonly Evaluated[]): OpenReading[] {
  const open = new Map<string, OpenReading>();
  for (const each of fits) {
    const groups = groupUnknowns(each);
    for (const group of groups) {
      // Several readings of one unknown settle it together, each its part.
      const chance = group.chance ** (1 / group.readings.size);
      for (const { what, from } of group.readings.values()) {
        let entry = open.get(what);
        if (!entry) open.set(what, entry = { what, from, criteria: new Set(), settles: [] });
        for (const criterion of group.criteria) entry.criteria.add(criterion);
        const share = 1 / (groups.length * group.readings.size);
        const last = entry.settles.at(-1);
        if (last?.each === each) entry.settles[entry.settles.length - 1] = { ...last, chance: last.chance * chance, share: last.share + share };
        else entry.settles.push({ each, chance, share, isOther: group.isOther, like: group.like });
      }
    }
  }
  return [...open.values()];
}

interface UnknownGroup { chance: number; readonly isOther: boolean; readonly like: string | undefined; readonly readings: Map<string, Reading>; readonly criteria: Set<Criterion> }

/** The unknowns of one part, those that hang on the same taken together. One that no reading is named for is left out. */
function groupUnknowns({ findings, part }: Evaluated): UnknownGroup[] {
  const groups = new Map<string, UnknownGroup>();
  findings.forEach(({ outcome, criterion, hangsOn, probability, readings = [], isOther, like, byCircuit }, index) => {
    if (outcome !== 'unknown' || readings.length === 0) return;
    const key = hangsOn ?? `finding ${index}`;
    let group = groups.get(key);
    if (!group) groups.set(key, group = { chance: 1, isOther: isOther === true, like: byCircuit ? circuitKeyOf(part) : isOther === undefined ? like : undefined, readings: new Map(), criteria: new Set() });
    group.chance = Math.min(group.chance, probability);
    group.criteria.add(criterion);
    for (const reading of readings) group.readings.set(reading.what, reading);
  });
  return [...groups.values()];
}

function worthInBits({ settles }: OpenReading): number {
  return Math.round(settles.reduce((sum, { chance, share }) => sum + share * entropyOf(chance), 0) * 1e6) / 1e6;
}

/** Prepares the worth of readings in money: what each priced fit costs, and the least of those that a reading does not touch. */
function createSavings(machine: FitMachine, listed: readonly Evaluated[]): (reading: OpenReading) => number {
  const { currency } = machine.cost!.supply;
  const misfit = machine.cost!.rates.misfitCost ?? 0;
  const costAt = ({ cost, learned }: Evaluated, chance: number): number => fromMinor(cost!.totalMinor - cost!.misfitMinor, currency) + (1 - learn(chance, learned)) * misfit;
  const priced = listed.filter(({ fit, cost }) => cost !== undefined && fit.verdict !== 'no')
    .map((each) => ({ each, now: costAt(each, each.chance) })).toSorted((a, b) => a.now - b.now);
  return ({ settles }) => {
    const touched = new Set(settles.map(({ each }) => each));
    const apart = priced.find(({ each }) => !touched.has(each))?.now ?? Number.POSITIVE_INFINITY;
    const parts = settles.filter(({ each }) => each.cost !== undefined).map(({ each, chance, isOther, like }): ReadPart => ({
      chance, isOther, like, now: costAt(each, each.chance), ifHolds: costAt(each, chance > 0 ? Math.min(1, each.chance / chance) : 0), ifNot: costAt(each, 0),
    }));
    return parts.length === 0 ? 0 : fromMinor(amountInMinor(findSaving(apart, parts), currency), currency);
  };
}

function describeReading({ from, criteria, settles }: OpenReading): string {
  const fits = settles.length;
  return `${[...criteria].join(', ')} of ${fits} listed ${fits === 1 ? 'fit hangs' : 'fits hang'} on it${from === 'maker' ? ' (the maker says, or the part in the hand)' : ''}`;
}
