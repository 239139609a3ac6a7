import { PART_CLASSES, type BenchRecord, type Criterion, type Part, type PartClass } from '../../../catalog-schema/index.ts';
import { settingOf } from '../settings.ts';
import type { CatalogueSample } from './catalogue-sample.ts';
import { UNHEARD, type Finding, type Notes } from './finding.ts';
import { isForVoltage } from './coil-voltage.ts';
import { plainChecksFor, type PlainCheck } from './plain-checks.ts';
import type { SamplePart } from './sample-part.ts';

/** Compares one part in one criterion; null where the criterion makes no demand. */
export type CriterionCheck = (part: Part, notes: Notes) => Finding | null;

/**
 * How often the parts of a class hold a criterion on this machine, for those that do not say. Counted among the sample's parts of the class
 * that say it and fail no other plain check: a part that passed all the others is like these, not like the class at large. The mean of a
 * Beta distribution that starts out flat over the whole sample, (held + 1) / (known + 2), and with that mean, worth `frequencyPrior`
 * parts, goes on over those. One that holds by chance counts by that chance. Each is counted once, when first asked for.
 */
export class ClassFrequency {
  readonly #known = new Map<string, number>();
  readonly #held = new Map<string, number | undefined>();
  readonly #likes = new Map<string, Map<string, number>>();
  readonly #failed = new Map<PartClass, readonly Sampled[]>();
  /** place of the plain check that answers a criterion, once one did */
  readonly #checkOf = new Map<Criterion, number>();
  readonly #record: BenchRecord;
  readonly #sample: CatalogueSample;
  readonly #checks: readonly PlainCheck[];

  constructor(record: BenchRecord, sample: CatalogueSample, checks: readonly PlainCheck[]) {
    this.#record = record;
    this.#sample = sample;
    this.#checks = checks;
  }

  of(partClass: PartClass, criterion: Criterion, check: CriterionCheck): number {
    const key = `${partClass} ${criterion}`;
    let share = this.#known.get(key);
    if (share === undefined) this.#known.set(key, share = this.#count(partClass, criterion, check));
    return share;
  }

  /** The chance at which a part holds a criterion by what the catalogue says of it; undefined where it does not say. */
  heldBy({ part }: SamplePart, criterion: Criterion, check: CriterionCheck): number | undefined {
    const key = `${part.id} ${criterion}`;
    if (!this.#held.has(key)) {
      const finding = check(part, UNHEARD);
      this.#held.set(key, !finding || finding.unsaid ? undefined : chanceOfFinding(finding));
    }
    return this.#held.get(key);
  }

  /**
   * How often the parts that may otherwise go on are like this one in what the record does not give: (like + 1) / (counted + 2), the
   * others holding at a chance of their own. Counted over one class, or over all where `partClass` is undefined.
   */
  likeness(partClass: PartClass | undefined, { criterion, like }: Finding, ifUnlike: number, check: CriterionCheck): number {
    const key = `${partClass} ${criterion} like`;
    let counts = this.#likes.get(key);
    if (!counts) {
      counts = new Map<string, number>();
      for (const each of partClass === undefined ? PART_CLASSES : [partClass]) {
        for (const { part, failed } of this.#failsOf(each)) {
          const other = failed.size > 0 ? undefined : check(part, UNHEARD)?.like;
          if (other !== undefined) counts.set(other, (counts.get(other) ?? 0) + 1);
        }
      }
      this.#likes.set(key, counts);
    }
    const all = [...counts.values()].reduce((sum, count) => sum + count, 0);
    const share = ((counts.get(like ?? '') ?? 0) + 1) / (all + 2);
    return share + (1 - share) * ifUnlike;
  }

  #count(partClass: PartClass, criterion: Criterion, check: CriterionCheck): number {
    const all = { held: 0, known: 0 };
    const alike = { held: 0, known: 0 };
    // A placement takes time: where the parts do not fit otherwise, it is not looked for.
    const isPlain = criterion !== 'mounting';
    const rows = this.#failsOf(partClass);
    const which = this.#checkOf.get(criterion);
    for (const row of rows) {
      const { part, failed } = row;
      const isAlike = failed.size === 0 || (failed.size === 1 && failed.has(criterion));
      if (!isPlain && !isAlike) continue;
      const finding = which === undefined ? check(part, UNHEARD) : this.#find(row, which);
      if (!finding || finding.unsaid) continue;
      for (const counts of isAlike ? [all, alike] : [all]) {
        counts.known++;
        counts.held += chanceOfFinding(finding);
      }
    }
    const share = (all.held + 1) / (all.known + 2);
    if (!isPlain) return share;
    const prior = settingOf('frequencyPrior');
    return (alike.held + prior * share) / (alike.known + prior);
  }

  /** The plain criteria that each part of the sample fails; two are enough to know that it is not alike. */
  #failsOf(partClass: PartClass): readonly Sampled[] {
    let rows = this.#failed.get(partClass);
    if (!rows) {
      const asksForVoltage = this.#checks === plainChecksFor(false);
      rows = this.#sample.sampleOf(partClass).map(({ part, facts }) => {
        const row: Sampled = { part, facts, failed: new Set(), findings: [] };
        // A coil always says its voltage: what fails there is not alike, whatever is asked about.
        if (asksForVoltage && !isForVoltage(this.#record, facts)) {
          row.failed.add('coil-voltage');
          return row;
        }
        for (let which = 0; which < this.#checks.length; which++) {
          const finding = this.#find(row, which);
          if (finding) this.#checkOf.set(finding.criterion, which);
          if (finding?.outcome === 'fail') row.failed.add(finding.criterion);
          if (row.failed.size > 1) break;
        }
        return row;
      });
      this.#failed.set(partClass, rows);
    }
    return rows;
  }

  /** What a plain check says of a part of the sample, asked once. */
  #find({ part, facts, findings }: Sampled, which: number): Finding | null {
    return findings[which] ??= this.#checks[which]!(this.#record, part, facts, UNHEARD);
  }
}

/** A part of the sample, the criteria that it was found to fail, and what the plain checks said of it, each at its place. */
interface Sampled extends SamplePart {
  readonly failed: Set<Criterion>;
  readonly findings: (Finding | null)[];
}

/** What a finding says by itself of its probability. */
export function chanceOfFinding({ outcome, probability, fromSetting = 'unrecordedHolds' }: Finding): number {
  switch (outcome) {
    case 'fail': return 0;
    case 'pass': case 'work': return probability ?? 1;
    case 'unknown': return probability ?? settingOf(fromSetting);
    default: throw new Error(`outcome ${String(outcome satisfies never)} is not known`);
  }
}
