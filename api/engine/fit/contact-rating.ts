import type { BenchRecord, Part } from '../../../catalog-schema/index.ts';
import { askMaker, chanceOfAtLeast, judgeAtLeast, show, showInterval, type Finding, type Notes } from './finding.ts';
import { findInrushDemand } from './inrush-demand.ts';
import type { PartFacts } from '../part-facts.ts';

/** The starter's inrush against the rating. A contactor that shall feed a starter always has to answer: many are not made for it. */
export function checkContactInrush(record: BenchRecord, part: Part, facts: PartFacts, notes: Notes): Finding | null {
  const demand = findInrushDemand(record, notes);
  const rated = facts.heavy?.inrushA;
  const offered = rated === undefined ? 'not given' : `${show(rated)} A`;
  const feedsStarter = (record.wires ?? []).some(({ leadsTo }) => leadsTo === 'starter');
  if (!demand) {
    if (record.demand?.from === undefined && !(part.partClass === 'contactor' && feedsStarter)) return null;
    return {
      criterion: 'contact-inrush', outcome: 'unknown', needed: 'not known', offered,
      why: part.partClass === 'contactor' ? "a contactor may be rated too low for a starter, and the starter's inrush is not known" : "the starter's inrush is not known",
      readings: [{ what: 'inrush of the starter with a clamp meter, or its resistance at standstill (volts over amps)', from: 'bench' }],
    };
  }
  const needed = Number.isFinite(demand.high) ? `${demand.low > 0 ? showInterval(demand, 'A') : `up to ${show(demand.high, 0)} A`}, ${demand.words}` : demand.words;
  if (rated === undefined) {
    return {
      criterion: 'contact-inrush', outcome: 'unknown', needed, offered, why: 'the part does not give an inrush rating',
      unsaid: true, readings: [askMaker('inrush rating of the contact', part)],
    };
  }
  const outcome = judgeAtLeast(rated, demand);
  const why = {
    pass: `rated ${offered}, which covers the starter's inrush`,
    unknown: `rated ${offered}: the inrush may be more`,
    fail: `rated ${offered} only: the contact would weld or burn on the starter's inrush`,
  }[outcome];
  return {
    criterion: 'contact-inrush', outcome, needed, offered, why, probability: chanceOfAtLeast(rated, demand),
    readings: [{ what: 'inrush of the starter, with a narrower tolerance', from: 'bench' }],
  };
}

/** The current that flows on, against the continuous rating. */
export function checkContactContinuous(record: BenchRecord, part: Part, facts: PartFacts, notes: Notes): Finding | null {
  const { continuousA } = record.demand ?? {};
  if (continuousA === undefined) return null;
  const demand = notes.read(continuousA, 'clamp');
  const needed = showInterval({ low: Math.max(0, demand.low), high: demand.high }, 'A');
  const rated = facts.heavy?.continuousA;
  if (rated === undefined) {
    return {
      criterion: 'contact-continuous', outcome: 'unknown', needed, offered: 'not given', why: 'the part does not give a continuous rating',
      unsaid: true, readings: [askMaker('continuous rating of the contact', part)],
    };
  }
  const outcome = judgeAtLeast(rated, demand);
  const why = { pass: 'the rating covers the current', unknown: 'the current may be more than the rating', fail: 'the contact would overheat' }[outcome];
  return {
    criterion: 'contact-continuous', outcome, needed, offered: `${show(rated)} A`, why: `rated ${show(rated)} A: ${why}`, probability: chanceOfAtLeast(rated, demand),
    readings: [{ what: 'continuous current, with a narrower tolerance', from: 'bench' }],
  };
}
