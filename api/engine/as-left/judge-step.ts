import type { JobDocument } from '../../../catalog-schema/index.ts';
import type { AsLeftStep } from './step.ts';
import { isWithin } from './yardsticks.ts';

export type Ticks = NonNullable<JobDocument['asLeft']>;

/** How a step stands by what was ticked. */
export type StepMark = 'open' | 'done' | 'bad';

/** Why a tick that is there does not close its step. */
export type OpenBecause =
  /** it was made for another part, wiring, wire or interlock */
  | 'changed'
  /** nobody's name stands beside it */
  | 'nobody'
  /** the step asks for a reading */
  | 'no-reading'
  /** the step asks whether it did what it must */
  | 'no-outcome';

export interface JudgedStep { readonly mark: StepMark; readonly because?: OpenBecause }

/**
 * Judges a step by its tick. What went wrong is bad whoever ticked it; a reading outside its limit is bad whatever was ticked beside it.
 * A tick closes a step only as it stands now, with a name, and with the outcome or the reading that the step asks for.
 */
export function judgeStep(step: AsLeftStep, ticks: Ticks | undefined): JudgedStep {
  const tick = ticks !== undefined && Object.hasOwn(ticks, step.id) ? ticks[step.id] : undefined;
  if (tick === undefined) return { mark: 'open' };
  if (tick.of !== step.of) return { mark: 'open', because: 'changed' };
  if (tick.outcome === 'bad') return { mark: 'bad' };
  if (step.kind === 'reading') {
    if (typeof tick.reading !== 'number') return { mark: 'open', because: 'no-reading' };
    if (!isWithin(tick.reading, step.yardstick)) return { mark: 'bad' };
  } else if (asksOutcome(step) && tick.outcome !== 'good') {
    return { mark: 'open', because: 'no-outcome' };
  }
  return (tick.by ?? '').trim() === '' ? { mark: 'open', because: 'nobody' } : { mark: 'done' };
}

/** Steps that are a test: it did what it must, or it did not. */
export function asksOutcome(step: AsLeftStep): step is Extract<AsLeftStep, { kind: 'studs-open' | 'cranks' | 'running' | 'interlock' }> {
  switch (step.kind) {
    case 'studs-open': case 'cranks': case 'running': case 'interlock': return true;
    case 'battery-off': case 'remove': case 'make-ready': case 'drill': case 'mount': case 'wire': case 'wire-unplanned': case 'leave-off':
    case 'jumper': case 'reading': case 'battery-on': return false;
    default: throw new Error(`no such step: ${JSON.stringify(step satisfies never)}`);
  }
}
