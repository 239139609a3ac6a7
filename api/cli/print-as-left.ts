import { printQuantity, type AsLeftAnswer, type AsLeftStepAnswer, type WiringLine } from '../../catalog-schema/index.ts';
import { STEP_WORDS } from '../engine/as-left/index.ts';
import { printSection } from './tell.ts';

const MARKS = { open: '[ ]', done: '[x]', bad: '[!]' } as const;

/** The checklist for a person: the table of old and new, every step with its box, what is open, how the sign-off stands. */
export function printAsLeft(answer: AsLeftAnswer): string {
  const words = STEP_WORDS.sheet;
  return [
    `${words.title}: ${[answer.title, answer.machine, answer.customer].filter((line) => line !== null).join(' · ')}\n`,
    answer.part === null ? '' : `${words.newPart}: ${answer.part.title} (${answer.part.id})\n`,
    answer.wiring.length === 0 ? '' : `${words.wiring}\n${answer.wiring.map((line) => `  ${printLine(line)}\n`).join('')}`,
    answer.steps.length === 0 ? '' : `${words.steps}\n${answer.steps.map((step, index) => printStep(step, index + 1)).join('')}`,
    answer.notes.map((note) => `${note}\n`).join(''),
    printSection(words.stillOpen, answer.blocks.filter(({ step }) => step === null).map(({ says }) => says)),
    printSection('Take care', answer.cautions),
    `${saySignOff(answer)}\n`,
  ].join('');
}

function printLine({ kind, wire, leads, was, now, end }: WiringLine): string {
  return kind === 'wire' ? `${wire}, ${leads}: ${was} -> ${now} (${end})` : `${wire}: ${now}`;
}

function printStep(step: AsLeftStepAnswer, number: number): string {
  const optional = step.required ? '' : ` (${STEP_WORDS.sheet.optional})`;
  const lines = [
    `${MARKS[step.mark]} ${number}. ${step.says}${optional}`,
    ...(step.limit === null ? [] : [`    ${step.details[0]}`]),
    ...(step.tick === null ? [] : [`    ${sayTick(step)}`]),
  ];
  return lines.map((line) => `  ${line}\n`).join('');
}

/** What was ticked, by whom and when, and why that does not close the step where it does not. */
export function sayTick(step: AsLeftStepAnswer): string {
  const { tick } = step;
  if (tick === null) return '';
  const shown = step.limit !== null && tick.reading !== null ? `${printQuantity(tick.reading, step.limit.unit)}; ` : '';
  const because = step.because === null ? '' : ` (${step.because})`;
  return `${shown}${STEP_WORDS.sheet.ticked(tick.by ?? '', sayMoment(tick.at))}${because}`;
}

/** How the sign-off stands, or a line to sign on. */
export function saySignOff({ signOff }: AsLeftAnswer): string {
  const words = STEP_WORDS.sheet;
  switch (signOff.state) {
    case 'none': return words.notSigned;
    case 'stands': return words.signed(signOff.by ?? '', sayMoment(signOff.at ?? ''));
    case 'lapsed': return words.lapsed(signOff.by ?? '', sayMoment(signOff.at ?? ''));
    default: throw new Error(`no such state: ${String(signOff.state satisfies never)}`);
  }
}

/** A moment on the clock of this machine: '2026-11-25 17:05'. */
export function sayMoment(iso: string): string {
  const at = new Date(iso);
  const two = (value: number): string => String(value).padStart(2, '0');
  return Number.isNaN(at.getTime()) ? iso : `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())} ${two(at.getHours())}:${two(at.getMinutes())}`;
}
