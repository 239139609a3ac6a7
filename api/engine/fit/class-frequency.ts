import type { BenchRecord, Criterion, Part, PartClass } from '../../../catalog-schema/index.ts';
import { settingOf } from '../settings.ts';
import type { CatalogueSample } from './catalogue-sample.ts';
import { Notes, type Finding } from './finding.ts';

/** Compares one part in one criterion; null where the criterion makes no demand. */
export type CriterionCheck = (part: Part, notes: Notes) => Finding | null;

/**
 * How often the parts of a class hold a criterion on this machine, for those that do not say: (held + 1) / (known + 2), the mean of a
 * Beta distribution that starts out flat. Counted among the sample's parts of the class that say it and are made for the machine's
 * voltage (a part for another is out already); one that holds by chance counts by that chance. Each is counted once, when first asked for.
 */
export class ClassFrequency {
  readonly #known = new Map<string, number>();
  readonly #record: BenchRecord;
  readonly #sample: CatalogueSample;

  constructor(record: BenchRecord, sample: CatalogueSample) {
    this.#record = record;
    this.#sample = sample;
  }

  of(partClass: PartClass, criterion: Criterion, check: CriterionCheck): number {
    const key = `${partClass} ${criterion}`;
    let share = this.#known.get(key);
    if (share === undefined) this.#known.set(key, share = this.#count(partClass, check));
    return share;
  }

  #count(partClass: PartClass, check: CriterionCheck): number {
    let held = 0;
    let known = 0;
    for (const part of this.#sample.sampleOf(partClass)) {
      if (!isForVoltage(part, this.#record.system.nominalV)) continue;
      const finding = check(part, new Notes());
      if (!finding || finding.unsaid) continue;
      known++;
      held += chanceOfFinding(finding);
    }
    return (held + 1) / (known + 2);
  }
}

/** What a finding says by itself of its probability. */
export function chanceOfFinding({ outcome, probability }: Finding): number {
  switch (outcome) {
    case 'fail': return 0;
    case 'pass': case 'work': return probability ?? 1;
    case 'unknown': return probability ?? settingOf('unrecordedHolds');
    default: throw new Error(`outcome ${String(outcome satisfies never)} is not known`);
  }
}

function isForVoltage(part: Part, volts: number): boolean {
  if (part.partClass === 'starter-motor') return part.starter?.nominalV === undefined || Math.abs(part.starter.nominalV - volts) <= 1e-9;
  return part.circuit.every((element) => element.kind !== 'coil' || Math.abs(element.nominalV - volts) <= 1e-9);
}
