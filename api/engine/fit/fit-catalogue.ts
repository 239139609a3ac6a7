import type { BenchRecord, Catalogue, Check, Fit, FitAnswer, Part, Placement, Plan, Prices, Verdict } from '../../../catalog-schema/index.ts';
import { SAFETY_CRITERIA } from '../../../catalog-schema/index.ts';
import { createRewirer, type FirstPlan, type Rewirer } from '../rewire/index.ts';
import { listCautions } from './cautions.ts';
import { checkCoilCurrent } from './coil-current.ts';
import { checkCoilDuty } from './coil-duty.ts';
import { createCoilMedian } from './coil-median.ts';
import { checkCoilVoltage } from './coil-voltage.ts';
import { checkContactForm } from './contact-form.ts';
import { checkContactContinuous, checkContactInrush } from './contact-rating.ts';
import { Notes, type Finding } from './finding.ts';
import { gatherKit } from './gather-kit.ts';
import { describeMarkedNumbers } from './marked-number.ts';
import { rankReadings } from './measure-next.ts';
import { checkMounting, PlacementFinder } from './mounting.ts';
import { orderFits, type Evaluated } from './order-fits.ts';
import { factsOf, type PartFacts } from './part-facts.ts';
import { checkPullIn } from './pull-in.ts';
import { checkStarter } from './starter-checks.ts';
import { checkStud } from './stud.ts';
import { checkAmbient, checkSealing, checkSpace } from './surroundings.ts';
import { checkTab } from './tab.ts';
import { checkInterlock, checkPolarity, checkWiring } from './wiring.ts';

export interface FitOptions {
  /** not used yet: the answer says so under `assumptions` */
  readonly prices?: Prices;
  /** list the parts that will not do as well */
  readonly all?: boolean;
}

/**
 * Compares every part of the catalogue with what the machine asks for, best first.
 * A removed starter motor is compared with starters, anything else with relays: `considered` counts all parts.
 * Without `all` a part is dropped at its first failed check; cheap checks come first, so few parts are ever wired.
 * Cost: about 0.05 ms a part that fails early; one wiring for each distinct circuit that does not.
 * @throws never on a record and a catalogue that read
 */
export function fit(record: BenchRecord, catalogue: Catalogue, options: FitOptions = {}): FitAnswer {
  const machine: Machine = {
    record, all: options.all === true, placements: new PlacementFinder(record.mounting),
    rewirer: createRewirer(record, { findCoilOhm: createCoilMedian(catalogue) }),
  };
  const evaluated = catalogue.flatMap((part) => evaluatePart(machine, part) ?? []);
  const listed = orderFits(evaluated, catalogue);

  const notes = new Notes();
  for (const each of listed) {
    for (const line of each.notes.assumptions) notes.assume(line);
    // What there is to beware of in a refused part stands in its checks; here it would drown what applies.
    if (each.fit.verdict !== 'no') for (const line of each.notes.cautions) notes.caution(line);
  }
  noteOrder(notes, listed, options);
  describeMarkedNumbers(record, catalogue, (part) => evaluatePart({ ...machine, all: true }, part)!.fit, notes);
  return {
    considered: catalogue.length,
    fits: listed.map(({ fit: entry }) => entry),
    measureNext: rankReadings(listed, notes),
    worthUnit: 'bit',
    cautions: [...new Set([...notes.cautions, ...listCautions(record, listed)])],
    assumptions: [...notes.assumptions],
  };
}

interface Machine {
  readonly record: BenchRecord;
  readonly all: boolean;
  readonly placements: PlacementFinder;
  readonly rewirer: Rewirer;
}

/** All checks of one part; `undefined` for a part that failed one and need not be listed. */
function evaluatePart(machine: Machine, part: Part): Evaluated | undefined {
  const { record } = machine;
  const facts = factsOf(part);
  const notes = new Notes();
  const findings: Finding[] = [];
  /** Takes findings in; false once the part is out and nobody wants to see why. */
  const take = (found: Finding | null | readonly Finding[]): boolean => {
    for (const finding of Array.isArray(found) ? found : found ? [found as Finding] : []) findings.push(finding);
    return machine.all || !findings.some(({ outcome }) => outcome === 'fail');
  };
  const starter = isStarterWanted(record);
  const carriesCoil = facts.coils.length > 0;
  const stillIn = starter
    ? take(checkStarter(record, part, notes))
    : take(checkCoilVoltage(record, facts)) && take(checkContactForm(record, part, facts)) && take(checkCoilDuty(record, facts, notes))
      && take(checkCoilCurrent(record, part, facts, notes)) && take(checkPullIn(record, facts, notes))
      && take(checkContactInrush(record, part, facts, notes)) && take(checkContactContinuous(record, facts, notes));
  if (!stillIn || !take(checkSpace(record, part)) || !take(checkSealing(record, part)) || !take(checkAmbient(record, part))) return undefined;

  const { finding: mounted, placement } = checkMounting(record, part, machine.placements, notes);
  if (!take(mounted)) return undefined;

  let first: FirstPlan | null = null;
  if (!starter || (carriesCoil && part.partClass === 'starter-motor')) {
    first = (record.wires ?? []).length > 0 ? machine.rewirer.findFirstPlan(part) : null;
    for (const line of first?.assumptions ?? []) notes.assume(line);
    for (const line of first?.cautions ?? []) notes.caution(line);
    if (first?.leansOn) notes.assume(describeLeaning(part, first.leansOn));
    if (!take(checkWiring(record, part, first)) || !take(checkInterlock(record, first))) return undefined;
    if (facts.hasDiode && !take(checkPolarity(record, first))) return undefined;
  }
  const plan = first?.plan ?? null;
  if (!starter || part.partClass === 'starter-motor') {
    take(checkStud(record, part, plan, notes));
    take(checkTab(record, part, plan, notes));
  }
  return describeEvaluation(part, facts, findings, plan, placement, notes);
}

function describeEvaluation(
  part: Part, facts: PartFacts, findings: readonly Finding[], plan: Plan | null, placement: Placement | null, notes: Notes,
): Evaluated {
  const checks = findings.map(({ criterion, outcome, needed, offered, why }): Check =>
    ({ criterion, outcome, safety: SAFETY_CRITERIA.has(criterion), needed, offered, why }));
  const verdict = verdictOf(checks);
  const entry: Fit = {
    partId: part.id, verdict, fitProbability: null, expectedCost: null, checks, rewire: plan, placement,
    kit: verdict === 'no' ? [] : gatherKit(findings),
  };
  return { fit: entry, part, facts, findings, notes, minutes: findings.reduce((sum, { minutes = 0 }) => sum + minutes, 0) };
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

/** Whether the machine is short of a starter: by its class, or by what was measured on it. */
function isStarterWanted(record: BenchRecord): boolean {
  return record.partClass === undefined ? record.starter !== undefined : record.partClass === 'starter-motor';
}

function noteOrder(notes: Notes, listed: readonly Evaluated[], options: FitOptions): void {
  if (listed.length === 0) return;
  notes.assume(options.prices === undefined
    ? 'fitProbability and expectedCost are not computed yet: order by verdict, then by minutes of work, successors before what they replace, then by id'
    : 'fitProbability and expectedCost are not computed yet, so prices do not count in the order: by verdict, then by minutes of work, successors before what they replace, then by id');
  if (listed.some(({ minutes }) => minutes > 0)) {
    for (const name of ['moveWireMinutes', 'newEndMinutes', 'jumperMinutes', 'leaveOffMinutes', 'newHoleMinutes', 'turnOverMinutes'] as const) notes.use(name);
  }
}
