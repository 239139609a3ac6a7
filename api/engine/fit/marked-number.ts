import type { BenchRecord, Fit, Part } from '../../../catalog-schema/index.ts';
import { normaliseNumber } from '../normalise-number.ts';
import { settingOf, type SettingName } from '../settings.ts';
import type { CatalogueSample } from './catalogue-sample.ts';
import type { Notes } from './finding.ts';

/** What a number on the removed part says for a part of the catalogue. */
export interface NumberEvidence {
  /** the setting that says how much of a doubt it takes away */
  readonly trust: Extract<SettingName, 'ownNumberTrust' | 'claimTrust'>;
  /** 'carries the marked number X', 'supersedes a, which carries the marked number X' */
  readonly words: string;
}

/**
 * What the marked numbers say for which part: those that carry one or are claimed to replace it, and their successors. A kit of several
 * successors is worth a claim: one of them alone does not do the old part's work. The best evidence for a part counts.
 */
export function gatherNumberEvidence(record: BenchRecord, sample: CatalogueSample): ReadonlyMap<string, NumberEvidence> {
  const gathered = new Map<string, NumberEvidence>();
  const follow = (part: Part, evidence: NumberEvidence): void => {
    const there = gathered.get(part.id);
    if (there && settingOf(there.trust) >= settingOf(evidence.trust)) return;
    gathered.set(part.id, evidence);
    const successors = (part.supersededBy ?? []).flatMap((id) => sample.findPart(id) ?? []);
    const trust = successors.length > 1 ? 'claimTrust' : evidence.trust;
    const how = successors.length > 1 ? 'is one of the successors of' : 'supersedes';
    for (const next of successors) follow(next, { trust, words: `${how} ${part.id}, which ${evidence.words.replace(/^.*, which /, '')}` });
  };
  for (const marked of record.marked?.numbers ?? []) {
    const wanted = normaliseNumber(marked);
    if (wanted === '') continue;
    for (const part of sample.findNumbered(wanted)) {
      const own = carries(part, wanted);
      follow(part, { trust: own ? 'ownNumberTrust' : 'claimTrust', words: `${own ? 'carries' : 'is claimed to replace'} the marked number ${marked}` });
    }
  }
  return gathered;
}

/** A doubt after the number was heard: it takes its share of the doubt away, and never makes a fail better. */
export function raiseByNumber(probability: number, evidence: NumberEvidence | undefined): number {
  return evidence && probability > 0 ? 1 - (1 - probability) * (1 - settingOf(evidence.trust)) : probability;
}

/**
 * Says what the catalogue knows of the numbers on the removed part. A number is evidence and overrides no check: where a part of that
 * number does not pass, that is a caution.
 * @param evaluate all checks of one part
 */
export function describeMarkedNumbers(record: BenchRecord, sample: CatalogueSample, evaluate: (part: Part) => Fit, notes: Notes): void {
  for (const marked of record.marked?.numbers ?? []) {
    const wanted = normaliseNumber(marked);
    if (wanted === '') continue;
    for (const part of sample.findNumbered(wanted)) {
      const how = carries(part, wanted) ? 'carries' : 'is claimed to replace';
      notes.assume(`${part.id} ${how} the marked number ${marked}: that takes from what is in doubt of it and its successors, and overrides no check`);
      const failed = evaluate(part).checks.filter(({ outcome }) => outcome === 'fail');
      if (failed.length > 0) {
        notes.caution(`${part.id} ${how} the marked number ${marked}, and will not do here: ${failed.map(({ criterion, why }) => `${criterion}, ${why}`).join('; ')}`);
      }
    }
  }
}

function carries(part: Part, normalised: string): boolean {
  return (part.numbers ?? []).some(({ number }) => normaliseNumber(number) === normalised);
}
