import { breaksFall } from './breaks-fall.ts';
import { coilWatts } from './coil-watts.ts';
import { deadNumberLeadsOn } from './dead-number-leads-on.ts';
import { hasTitle } from './has-title.ts';
import { holesApart } from './holes-apart.ts';
import { inrushAboveContinuous } from './inrush-above-continuous.ts';
import type { LintData, LintFault, LintRule } from './lint-rule.ts';
import { markingKnown } from './marking-known.ts';
import { numberOnce } from './number-once.ts';
import { pullInBelowNominal } from './pull-in-below-nominal.ts';
import { sealingSane } from './sealing-sane.ts';
import { shopPartsExist } from './shop-parts-exist.ts';
import { studsAlike } from './studs-alike.ts';
import { tabStandard } from './tab-standard.ts';
import { terminalsApart } from './terminals-apart.ts';
import { threadKnown } from './thread-known.ts';
import { toldApart } from './told-apart.ts';

export const LINT_RULES: readonly LintRule[] = [
  breaksFall, coilWatts, deadNumberLeadsOn, hasTitle, holesApart, inrushAboveContinuous, markingKnown, numberOnce,
  pullInBelowNominal, sealingSane, shopPartsExist, studsAlike, tabStandard, terminalsApart, threadKnown, toldApart,
];

/**
 * Looks for what the schemas let through and a catalogue should still not hold.
 * @param parts each one read by its schema; the parts together may still contradict one another
 * @returns one entry a fault, rule by rule
 */
export function lintCatalogue(parts: LintData['parts'], shop?: LintData['shop']): LintFault[] {
  return LINT_RULES.flatMap((rule) => rule.check({ parts, ...(shop && { shop }) }).map((fault) => ({ rule: rule.name, ...fault })));
}

/** `pp-7: coil c takes 0.12 W at 12 V (coil-watts)` */
export function printLintFault({ where, words, rule }: LintFault): string {
  return `${where}: ${words} (${rule})`.replace(/[\r\n\u2028\u2029]+/g, ' ');
}
