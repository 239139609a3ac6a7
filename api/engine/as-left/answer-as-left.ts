import type { AsLeftAnswer, AsLeftStepAnswer, JobDocument, Part, Plan, WiringLine } from '../../../catalog-schema/index.ts';
import { cautionOfBattery, cautionOfCapacitors, cautionOfInterlocks, cautionOfMaker } from '../cautions.ts';
import { fingerprintWork } from './fingerprint.ts';
import { asksOutcome, judgeStep } from './judge-step.ts';
import { needsNewEnd } from './new-end.ts';
import { sayCaution, sayDetails, sayEnd, sayLeads, sayStep, sayTerminal, sayTorque, sayWire, type StepSpeech } from './say-step.ts';
import { findSignOffBlocks, makeChecklist, sayBad, type AsLeftFacts } from './sign-off.ts';
import { stateOfSignOff } from './sign-off-state.ts';
import type { AsLeftStep } from './step.ts';
import { STEP_WORDS } from './words.ts';

/** The whole checklist as every door says it: wiring, steps with their ticks, what is still open, how the sign-off stands. */
export function answerAsLeft(facts: AsLeftFacts): AsLeftAnswer {
  const { document, record, part, unit } = facts;
  const { title, machine, customer, chosen, signedOff } = document;
  const { steps, plan } = makeChecklist(facts);
  const speech = part === undefined ? undefined : { record, part, unit };
  const torques = [...new Set(steps.flatMap((step) => (step.kind === 'wire' && step.torque !== null ? [sayTorque(step.torque)] : [])))];
  return {
    title, machine: machine ?? null, customer: customer ?? null,
    part: part === undefined || chosen === undefined ? null : { id: part.id, title: part.title, partClass: part.partClass },
    wiring: plan === null || speech === undefined ? [] : listWiring(plan, speech),
    steps: speech === undefined ? [] : steps.map((step) => answerStep(step, document, speech)),
    notes: torques.length === 0 ? [] : [STEP_WORDS.stack, ...torques],
    cautions: [cautionOfBattery(), cautionOfInterlocks(record.system), cautionOfCapacitors(record.system.nominalV), cautionOfMaker()].filter((line) => line !== undefined),
    assumptions: [...new Set(steps.flatMap((step) => (step.kind === 'reading' ? [`${step.id}: ${step.yardstick.source}`] : [])))],
    blocks: findSignOffBlocks(facts),
    signOff: {
      state: stateOfSignOff(document), by: signedOff?.by ?? null, at: signedOff?.at ?? null, of: fingerprintWork(document),
    },
  };
}

function answerStep(step: AsLeftStep, { asLeft }: JobDocument, speech: StepSpeech): AsLeftStepAnswer {
  const tick = asLeft !== undefined && Object.hasOwn(asLeft, step.id) ? asLeft[step.id] : undefined;
  const { mark, because } = judgeStep(step, asLeft);
  return {
    id: step.id, of: step.of, kind: step.kind, required: step.required, asksOutcome: asksOutcome(step),
    says: sayStep(step, speech), details: sayDetails(step, speech), caution: sayCaution(step, speech) ?? null,
    limit: step.kind !== 'reading' ? null
      : { low: step.yardstick.low ?? null, high: step.yardstick.high ?? null, unit: step.yardstick.unit, yardstick: step.yardstick.source },
    mark, because: because !== undefined ? STEP_WORDS.because[because] : mark === 'bad' ? sayBad(step, tick?.reading) : null,
    tick: tick === undefined ? null : { at: tick.at, by: tick.by ?? null, reading: tick.reading ?? null, outcome: tick.outcome ?? null },
  };
}

/** The table of old and new: each wire, each jumper to make, and what stays bare. */
export function listWiring(plan: Plan, { record, part, unit }: StepSpeech): WiringLine[] {
  const words = STEP_WORDS.sheet;
  const wires = (record.wires ?? []).map((wire): WiringLine => {
    const placed = plan.wires.find((entry) => entry.tag === wire.tag);
    const off = plan.leftOff.includes(wire.tag);
    const newEnd = placed !== undefined && needsNewEnd(wire, placed, part);
    return {
      kind: 'wire', wire: sayWire(wire), leads: sayLeads(wire), was: sayTerminal(wire.wasOn, record.terminals ?? []),
      now: off ? words.leftOff : placed === undefined ? '' : sayNow(placed, part), end: newEnd ? STEP_WORDS.end.new : sayEnd(wire.end, unit),
      work: off || newEnd || placed?.moved === true,
    };
  });
  const name = (id: string): string => sayTerminal(id, part.terminals);
  const jumpers = plan.jumpers.map(({ from, to }): WiringLine => (
    { kind: 'jumper', wire: words.jumper, leads: '', was: '', now: `${name(from)} – ${name(to)}`, end: '', work: true }));
  const bare: WiringLine[] = plan.bareTerminals.length === 0 ? []
    : [{ kind: 'bare', wire: words.bare, leads: '', was: '', now: STEP_WORDS.list(plan.bareTerminals.map(name)), end: '', work: false }];
  return [...wires, ...jumpers, ...bare];
}

function sayNow(placed: Plan['wires'][number], part: Part): string {
  const name = sayTerminal(placed.to, part.terminals);
  return placed.moved ? name : `${name}, ${STEP_WORDS.sheet.same}`;
}
