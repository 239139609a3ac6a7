import type { BenchRecord, Criterion, Fit, Measured, WireEnd } from '../../catalog-schema/index.ts';
import type { Oracle } from './oracle.ts';
import type { Machine, TruePart } from './truth.ts';

// What is false about an answer, and why it could be.

/**
 * `judged`: the answer judged the criterion on what record and catalogue say, and is wrong. `reading`: a reading lies further off than its
 * half-width, so the record swears to what is not so. `default`: a default that the contract names stood in for what was not recorded.
 * `not-asked`: the record makes no such demand, and the contract then leaves the criterion out.
 */
export const BLAMES = ['judged', 'reading', 'default', 'not-asked'] as const;
export type Blame = (typeof BLAMES)[number];

export interface Falsehood {
  readonly criterion: Criterion;
  readonly blame: Blame;
  /** demand over rating, where there is one; else infinite */
  readonly ratio: number;
}

const ALWAYS: ReadonlySet<Criterion> = new Set<Criterion>(['coil-voltage', 'contact-form', 'wiring', 'interlock', 'coil-duty', 'mounting', 'voltage', 'rotation', 'pinion']);

/** Every criterion that does not hold with the work the answer states. */
export function listFalsehoods(oracle: Oracle, part: TruePart, fit: Fit, record: BenchRecord): Falsehood[] {
  const { overloads } = oracle.judge(part.truth);
  return oracle.judgeStated(part.truth, fit).map((criterion) => ({
    criterion, blame: blameOf(criterion, fit, record, oracle.machine), ratio: overloads.find((each) => each.criterion === criterion)?.ratio ?? Number.POSITIVE_INFINITY,
  }));
}

function blameOf(criterion: Criterion, fit: Fit, record: BenchRecord, machine: Machine): Blame {
  const { demand = {}, system } = record;
  if (!fit.checks.some((check) => check.criterion === criterion)) return ALWAYS.has(criterion) ? 'judged' : 'not-asked';
  switch (criterion) {
    case 'coil-duty':
      if (machine.continuousUse && demand.continuousUse === undefined) return 'not-asked';
      return demand.longestOnS === undefined && !machine.continuousUse ? 'default' : 'judged';
    case 'coil-current': {
      const least = machine.contactA < machine.fuseA ? demand.controlRatingA : demand.controlFuseA;
      if (least === undefined) return demand.controlFuseA === undefined && demand.controlRatingA === undefined ? 'default' : 'not-asked';
      if (system.highestV === undefined || system.ambientC === undefined) return 'default';
      return system.highestV < machine.highestV ? 'reading' : 'judged';
    }
    case 'contact-inrush':
      if (demand.inrushA !== undefined) return isOff(demand.inrushA, machine.inrushA, 1, 0.05) ? 'reading' : 'judged';
      return demand.from?.starterOhm !== undefined && isOff(demand.from.starterOhm, machine.source!.starterOhm, 0, 0.1) ? 'reading' : 'default';
    case 'contact-continuous': return demand.continuousA !== undefined && isOff(demand.continuousA, machine.continuousA, 1, 0.05) ? 'reading' : 'judged';
    case 'interlock': return system.interlocks === undefined ? 'default' : 'judged';
    case 'wiring': case 'polarity':
      if (demand.controlOhm !== undefined && isOff(demand.controlOhm, machine.controlOhm, 0.2, 0.03)) return 'reading';
      return demand.controlOhm === undefined || demand.controlFuseA === undefined || system.interlocks === undefined ? 'default' : 'judged';
    case 'mounting': return (record.mounting?.holes ?? []).some(({ xMm, yMm }, i) => Math.hypot(xMm - machine.bolts[i]!.x, yMm - machine.bolts[i]!.y) > (record.mounting?.plusMinusMm ?? 0)) ? 'reading' : 'judged';
    // A tape's reading carries no half-width: what was written down is taken for the room there is.
    case 'space': return (['lengthMm', 'widthMm', 'heightMm'] as const).some((side) => record.space![side] > machine.room[side]) ? 'reading' : 'judged';
    case 'stud': return (record.wires ?? []).some(({ tag, end }) => isRingOff(end, machine.wires.find((wire) => wire.tag === tag)?.end)) ? 'reading' : 'judged';
    default: return 'judged';
  }
}

function isRingOff(shown: WireEnd | undefined, truth: WireEnd | undefined): boolean {
  return shown?.form === 'ring' && truth?.form === 'ring' && shown.holeMm !== truth.holeMm;
}

/** Whether the truth lies outside what the record swears to. */
function isOff(measured: Measured, truth: number, absolute: number, relative: number): boolean {
  const [value, half] = typeof measured === 'number' ? [measured, Math.max(absolute, relative * measured)] : [measured.value, measured.plusMinus];
  return Math.abs(value - truth) > half;
}
