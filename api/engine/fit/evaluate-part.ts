import { SAFETY_CRITERIA, type Check, type Criterion, type Fit, type Part, type Placement, type Plan, type Verdict } from '../../../catalog-schema/index.ts';
import { factsOf, type PartFacts } from '../part-facts.ts';
import type { FirstPlan } from '../rewire/index.ts';
import { describeUnit } from '../source/index.ts';
import { chanceOfFinding } from './class-frequency.ts';
import type { Evaluated } from './evaluated.ts';
import { describeCost, findCost } from './expected-cost.ts';
import { Notes, type Finding, type Judged } from './finding.ts';
import { gatherKit } from './gather-kit.ts';
import { learn, noteLearned } from './learned.ts';
import type { FitMachine } from './machine.ts';
import { raiseByNumber } from './marked-number.ts';
import { checkMounting } from './mounting.ts';
import { orderKeyOf } from './order-key.ts';
import { plainChecksFor, type PlainCheck } from './plain-checks.ts';
import { checkStud } from './stud.ts';
import { checkTab } from './tab.ts';
import { chanceOfUnasked } from './unasked.ts';
import { checkBareStarter, checkInterlock, checkPolarity, checkWiring } from './wiring.ts';

/**
 * All checks of one part, its probability, cost and place in the order; `undefined` for a part that failed a check and need not be listed.
 * Cost: some microseconds where a cheap check fails; a placement and a wiring, each remembered for its like, where none does.
 * @param form a number that stands for the form of its circuit, where the machine's rewirer knows such
 */
export function evaluatePart(machine: FitMachine, part: Part, form?: number): Evaluated | undefined {
  const { record } = machine;
  const facts = factsOf(part);
  const notes = new Notes();
  const findings: Judged[] = [];
  /** Takes a finding in; false once the part is out and nobody wants to see why. */
  const take = (finding: Finding | null, check: (part: Part, notes: Notes) => Finding | null): boolean => {
    if (finding) findings.push(judgeFinding(machine, part, finding, check, notes));
    return machine.all || finding?.outcome !== 'fail';
  };
  const takePlain = (check: PlainCheck): boolean => take(check(record, part, facts, notes), (other, aside) => check(record, other, factsOf(other), aside));
  if (!plainChecksFor(machine.starter).every(takePlain)) return undefined;

  const { finding: mounted, placement } = checkMounting(record, part, machine.placements, notes);
  if (!take(mounted, (other, aside) => checkMounting(record, other, machine.placements, aside).finding)) return undefined;

  let first: FirstPlan | null = null;
  if (!machine.starter || (facts.coils.length > 0 && part.partClass === 'starter-motor')) {
    const wired = (record.wires ?? []).length > 0;
    if (wired && !machine.all && machine.rewirer.isRefused(part, form)) return undefined;
    first = wired ? machine.rewirer.findFirstPlan(part, form) : null;
    for (const line of first?.assumptions ?? []) notes.assume(line);
    for (const line of first?.cautions ?? []) notes.caution(line);
    if (first?.leansOn) notes.assume(describeLeaning(part, first.leansOn));
    if (!take(checkWiring(record, part, first), neverAsked) || !take(checkInterlock(record, first), neverAsked)) return undefined;
    if (facts.hasDiode && !take(checkPolarity(record, first), neverAsked)) return undefined;
  } else if (part.partClass === 'starter-motor' && !take(checkBareStarter(record), neverAsked)) return undefined;
  const plan = first?.plan ?? null;
  if (!machine.starter || part.partClass === 'starter-motor') {
    take(checkStud(record, part, plan, notes), neverAsked);
    take(checkTab(record, part, plan, notes), neverAsked);
  }
  return describeEvaluation(machine, part, facts, findings, plan, placement, notes);
}

/** The probability of one finding, after what the class and a marked number say of it. */
export function judgeFinding(machine: FitMachine, part: Part, finding: Finding, check: (part: Part, notes: Notes) => Finding | null, notes: Notes): Judged {
  const { criterion, outcome, unsaid, ifUnlike } = finding;
  let probability = chanceOfFinding(finding);
  if (outcome === 'unknown') {
    const { removed } = machine;
    const open = removed?.answers(finding);
    if (removed && open) return { ...finding, probability: isBound(part) ? 1 : removed.chanceOfCriterion(part, factsOf(part), open), byRemoved: true };
    const evidence = machine.numbers.get(part.id);
    if (evidence) notes.use(evidence.trust);
    if (unsaid) {
      notes.use('frequencySample');
      probability = chanceOfUnsaid(machine, part, criterion, check);
    } else if (ifUnlike !== undefined) {
      notes.use('frequencySample');
      const otherwise = ifUnlike === null ? 0 : notes.use(ifUnlike);
      probability = machine.frequency.likeness(criterion === 'contact-form' ? undefined : part.partClass, finding, otherwise, check);
    } else if (finding.probability === undefined) notes.use(finding.fromSetting ?? 'unrecordedHolds');
    probability = raiseByNumber(probability, evidence);
  }
  return { ...finding, probability };
}

/** How often the relatives of a part hold what it leaves unsaid, where the catalogue is small enough to know them; else how often its class does. */
function chanceOfUnsaid({ removed, frequency }: FitMachine, part: Part, criterion: Criterion, check: (part: Part, notes: Notes) => Finding | null): number {
  if (!removed) return frequency.of(part.partClass, criterion, check);
  if (isBound(part)) return 1;
  return removed.chanceOfUnsaid(part, factsOf(part), frequency.of(part.partClass, criterion, check), (relative) => frequency.heldBy(relative, criterion, check));
}

/** An example that stands for many parts, none of which may come out better. */
function isBound({ id }: Part): boolean {
  return id === '';
}

function neverAsked(): never {
  throw new Error('a check that follows from the wiring is not counted over a class');
}

function describeEvaluation(
  machine: FitMachine, part: Part, facts: PartFacts, findings: readonly Judged[], plan: Plan | null, placement: Placement | null, notes: Notes,
): Evaluated {
  const checks = findings.map(({ criterion, outcome, needed, offered, why }): Check =>
    ({ criterion, outcome, safety: SAFETY_CRITERIA.has(criterion), needed, offered, why }));
  const verdict = verdictOf(checks);
  const fits = verdict !== 'no';
  const kit = fits ? gatherKit(findings) : [];
  const minutes = fits ? findings.reduce((sum, each) => sum + (each.minutes ?? 0), 0) : 0;
  const learned = machine.learned.get(part.id);
  const unrecorded = fits ? raiseByNumber(chanceOfUnrecorded(machine, part, facts, notes), machine.numbers.get(part.id)) : 0;
  const chance = unrecorded * multiplyIndependent(findings);
  const fitProbability = fits ? roundProbability(learn(chance, learned)) : 0;
  noteLearned(learned, machine.options.machineKind, notes);
  const cost = machine.cost && findCost(machine.cost, part.id, kit, minutes, fitProbability, notes);
  const supply = machine.cost?.supply;
  const entry: Fit = {
    partId: part.id, verdict, fitProbability, expectedCost: cost && supply ? describeCost(cost, supply.currency) : null, checks, rewire: plan, placement, kit, minutes,
    ...(cost && supply ? { source: describeUnit(cost.unit, supply) } : {}), ...(learned ? { learned: learned.shown } : {}),
  };
  const key = orderKeyOf({ verdict, fitProbability, minutes, totalMinor: cost?.totalMinor, isPriced: machine.cost !== undefined });
  return { fit: entry, part, facts, findings, notes, chance, learned, cost, key };
}

/** Findings that hang on the same unknown count once, by the least probable. */
export function multiplyIndependent(findings: readonly Judged[]): number {
  const least = new Map<string, number>();
  let product = 1;
  for (const { hangsOn, outcome, probability, byRemoved } of findings) {
    if (byRemoved) continue;
    if (hangsOn !== undefined && outcome === 'unknown') least.set(hangsOn, Math.min(probability, least.get(hangsOn) ?? 1));
    else product *= probability;
  }
  for (const probability of least.values()) product *= probability;
  return product;
}

function chanceOfUnrecorded({ record, starter, removed }: FitMachine, part: Part, facts: PartFacts, notes: Notes): number {
  return removed ? removed.chanceOf(part, facts, notes) : chanceOfUnasked(record, starter, part, notes);
}

export function roundProbability(probability: number): number {
  return Math.round(Math.min(1, Math.max(0, probability)) * 1e6) / 1e6;
}

/** A failed check makes `no`; else an unknown one `unproven`; else work `adapt`; else `direct`. */
function verdictOf(checks: readonly Check[]): Verdict {
  const has = (outcome: Check['outcome']): boolean => checks.some((check) => check.outcome === outcome);
  return has('fail') ? 'no' : has('unknown') ? 'unproven' : has('work') ? 'adapt' : 'direct';
}

function describeLeaning(part: Part, leansOn: NonNullable<FirstPlan['leansOn']>): string {
  const how = leansOn === 'case-grounded' ? 'reaches battery minus' : 'does not reach battery minus';
  return `the wiring shown for ${part.id} is right only if its case ${how} through bracket and panel, which is not known`;
}
