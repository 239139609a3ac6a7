import { factsOf } from '../../../api/engine/part-facts.ts';
import { UNSAID, type Gates, type ProfileGate, type ScoreWeights } from '../../../api/engine/retrieve/index.ts';
import type { Snapshot } from '../../../api/engine/snapshot/index.ts';
import { profileOf } from '../../../api/engine/snapshot/index-columns.ts';
import { RING_GAP_MM, type BenchRecord } from '../../../catalog-schema/index.ts';
import { NOTHING_PASSES, type Limit, type ProfileGroup, type Question } from './score-question.ts';
import type { ScoreRows } from './score-rows.ts';

// The weights of the comparison are made up and alike for all who are asked: here only speed and equality count. One number for each thing a
// part may leave unsaid, not one for each class as in a fit, is kinder to the databases.
const UNSAID_FACTORS = UNSAID.map((_, bit) => 0.55 + 0.025 * bit);
const DOUBT_FACTOR = 0.5;
const PROFILE_DOUBT_FACTOR = 0.6;
const LUG_CENTS = 780;
const MISFIT_CENTS = 8500;

/** What the retrieval is asked. */
export function weighQuestion(record: BenchRecord): ScoreWeights {
  return {
    chanceOf: ({ doubt, doubtMask }, mask, doubtful) => {
      let chance = doubt ? PROFILE_DOUBT_FACTOR : 1;
      for (let bit = 0; bit < UNSAID.length; bit++) if (((mask & doubtMask) >>> bit) & 1) chance *= UNSAID_FACTORS[bit]!;
      for (let left = doubtful; left !== 0; left &= left - 1) chance *= DOUBT_FACTOR;
      return chance;
    },
    misfitMinor: MISFIT_CENTS, rings: heavyRings(record), lugMinor: LUG_CENTS,
  };
}

/** The same, for whoever does not know the snapshot: its codes become values. */
export function askQuestion(record: BenchRecord, gates: Gates, snapshot: Snapshot, rows: ScoreRows): Question {
  const limits = gates.columns.map(({ column, low, high, sureLow, sureHigh }): Limit => {
    const { values } = snapshot.column(column);
    const least = (code: number): number => (code <= 1 ? Number.NEGATIVE_INFINITY : values[code - 1] ?? NOTHING_PASSES);
    const most = (code: number): number => (code >= values.length ? Number.POSITIVE_INFINITY : values[code - 1] ?? -NOTHING_PASSES);
    return { column, low: least(low), high: most(high), sureLow: least(sureLow), sureHigh: most(sureHigh) };
  });
  const fates = gates.sealing?.fates ?? [];
  const sealings = (fate: 'out' | 'doubt'): number[] => snapshot.sealingCodes.flatMap((text, code) => (text !== '' && fates[code] === fate ? [rows.sealingCodes.get(text)!] : []));
  return {
    groups: groupProfiles(gates.profiles, snapshot, rows), limits, sealing: { out: sealings('out'), open: sealings('doubt') },
    unsaidFactors: UNSAID_FACTORS, doubtFactor: DOUBT_FACTOR,
    rings: heavyRings(record).map((holeMm) => ({ least: holeMm - RING_GAP_MM.most, most: holeMm - RING_GAP_MM.least })),
    lugCents: LUG_CENTS, misfitCents: MISFIT_CENTS,
  };
}

/** Rings that come to the heavy studs: those of the cables. */
function heavyRings({ wires = [] }: BenchRecord): number[] {
  return wires.flatMap(({ leadsTo, end }) => (end?.form === 'ring' && (leadsTo === 'battery' || leadsTo === 'starter' || leadsTo === 'tap') ? [end.holeMm] : []));
}

function groupProfiles(gates: readonly ProfileGate[], snapshot: Snapshot, rows: ScoreRows): ProfileGroup[] {
  const groups = new Map<string, { codes: number[]; factor: number; outMask: number; doubtMask: number }>();
  for (const { profile, doubt, outMask, doubtMask } of gates) {
    const part = snapshot.partAt(snapshot.profiles[profile]!.start);
    const code = rows.profileCodes.get(profileOf(part, factsOf(part)))!;
    const key = `${doubt} ${outMask} ${doubtMask}`;
    const group = groups.get(key);
    if (group) group.codes.push(code);
    else groups.set(key, { codes: [code], factor: doubt ? PROFILE_DOUBT_FACTOR : 1, outMask, doubtMask });
  }
  return [...groups.values()];
}
