import type { FitHistory, Learned } from '../../../catalog-schema/index.ts';
import { settingOf } from '../settings.ts';
import type { Notes } from './finding.ts';
import { wilsonInterval } from './wilson.ts';

/** What the shop saw of one part. */
export interface LearnedPart {
  /** the counts and their interval, as shown: of machines of this kind where there are any, else of all */
  readonly shown: Learned;
  /** fittings that held and that came back, those on other kinds of machine at their share */
  readonly held: number;
  readonly cameBack: number;
}

/** Gathers what was learned of each part, on this kind of machine and on others. Without a kind all machines count alike, in full. */
export function gatherLearned(history: FitHistory, machineKind: string | undefined): ReadonlyMap<string, LearnedPart> {
  const counts = new Map<string, { same: [number, number]; all: [number, number] }>();
  for (const row of history) {
    let count = counts.get(row.partId);
    if (!count) counts.set(row.partId, count = { same: [0, 0], all: [0, 0] });
    for (const sum of machineKind !== undefined && row.machineKind === machineKind ? [count.same, count.all] : [count.all]) {
      sum[0] += row.held;
      sum[1] += row.cameBack;
    }
  }
  const share = machineKind === undefined ? 1 : settingOf('otherKindShare');
  return new Map([...counts].filter(([, { all }]) => all[0] + all[1] > 0).map(([partId, { same, all }]): [string, LearnedPart] => {
    const ofKind = same[0] + same[1] > 0;
    const [held, cameBack] = ofKind ? same : all;
    const { low, high } = wilsonInterval(held, held + cameBack);
    const shown: Learned = { held, cameBack, low: round6(low), high: round6(high), ...(ofKind && machineKind !== undefined ? { machineKind } : {}) };
    return [partId, { shown, held: same[0] + share * (all[0] - same[0]), cameBack: same[1] + share * (all[1] - same[1]) }];
  }));
}

/** The computed probability after what was learned: the mean of a Beta distribution that starts at the computed one. */
export function learn(probability: number, learned: LearnedPart | undefined): number {
  if (!learned) return probability;
  const prior = settingOf('historyPrior');
  return (prior * probability + learned.held) / (prior + learned.held + learned.cameBack);
}

/** Says in the answer how it was taken into account. */
export function noteLearned(learned: LearnedPart | undefined, machineKind: string | undefined, notes: Notes): void {
  if (!learned) return;
  notes.use('historyPrior');
  if (machineKind !== undefined) notes.use('otherKindShare');
  notes.assume('learned: low and high are the 95 % Wilson score interval of the share that held');
}

function round6(value: number): number {
  return Math.round(value * 1e6) / 1e6;
}
