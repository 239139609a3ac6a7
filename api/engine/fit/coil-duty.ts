import type { BenchRecord, CoilElement, Part } from '../../../catalog-schema/index.ts';
import { askMaker, show, worstOf, type Finding, type Notes, type Outcome } from './finding.ts';
import type { PartFacts } from '../part-facts.ts';

/** How long the machine keeps the coil on, against what the coil bears. A pull-in winding is off once the contact has closed. */
export function checkCoilDuty(record: BenchRecord, part: Part, facts: PartFacts, notes: Notes): Finding {
  const { continuousUse = false, longestOnS } = record.demand ?? {};
  const needed = continuousUse ? 'continuous use' : longestOnS === undefined ? 'cranking' : `${show(longestOnS)} s at a time`;
  const judged = facts.holding.map((coil) => judgeCoil(coil, continuousUse, longestOnS, notes));
  if (judged.length === 0) {
    return { criterion: 'coil-duty', outcome: 'fail', needed, offered: 'no coil', why: 'there is no coil' };
  }
  const outcome = worstOf(judged.map((each) => each.outcome));
  const { why } = judged.find((each) => each.outcome === outcome)!;
  return {
    criterion: 'coil-duty', outcome, needed, offered: [...new Set(facts.holding.map(describeDuty))].join(', '), why,
    unsaid: outcome === 'unknown', readings: [askMaker('duty of the coil (continuous, or the longest time on)', part)],
  };
}

function judgeCoil(coil: CoilElement, continuousUse: boolean, longestOnS: number | undefined, notes: Notes): { outcome: Outcome; why: string } {
  const { duty } = coil;
  if (!duty) return { outcome: 'unknown', why: 'the part does not give its duty' };
  if (duty.type === 'continuous') return { outcome: 'pass', why: 'a continuous-duty coil may stay on' };
  if (continuousUse) return { outcome: 'fail', why: 'an intermittent-duty coil used continuously overheats' };
  if (duty.maxOnS === undefined) {
    return longestOnS === undefined
      ? { outcome: 'pass', why: 'an intermittent-duty coil is made for cranking' }
      : { outcome: 'unknown', why: `intermittent, but for how long is not given: ${show(longestOnS)} s is needed` };
  }
  const wanted = longestOnS ?? notes.use('longestOnS');
  return duty.maxOnS >= wanted
    ? { outcome: 'pass', why: `it bears ${show(duty.maxOnS)} s, ${show(wanted)} s is needed` }
    : { outcome: 'fail', why: `it bears ${show(duty.maxOnS)} s only, ${show(wanted)} s is needed` };
}

function describeDuty({ duty }: CoilElement): string {
  if (!duty) return 'not given';
  if (duty.type === 'continuous') return 'continuous';
  return duty.maxOnS === undefined ? 'intermittent' : `intermittent, ${show(duty.maxOnS)} s`;
}
