import type { Command } from 'commander';
import { benchRecordSchema, partSchema, readInput, type Plan, type RewireAnswer } from '../../catalog-schema/index.ts';
import { rewire } from '../engine/index.ts';
import { takeJson } from './take-input.ts';
import { printJson, printSection, writeOut } from './tell.ts';

export function addRewireCommand(program: Command): void {
  program.command('rewire <file>')
    .description('put every wire of a bench record on the terminal of a new part that does the same work (- for standard input)')
    .requiredOption('--part <file>', 'the new part, as JSON')
    .option('--json', 'print the answer as JSON')
    .action(async (file: string, options: { part: string; json?: boolean }) => {
      const record = await takeJson(file, (value) => readInput(benchRecordSchema, value));
      const part = await takeJson(options.part, (value) => readInput(partSchema, value));
      const answer = rewire(record, part);
      await writeOut(options.json ? printJson(answer) : printRewiring(answer));
    });
}

function printRewiring(answer: RewireAnswer): string {
  const [first, ...others] = answer.plans;
  return [
    first ? `Put the wires on so (${countChanges(first)}):\n${printPlan(first, '  ')}` : 'No way of putting the wires on is right.\n',
    others.length > 0 ? `${others.length} more ${others.length === 1 ? 'way is' : 'ways are'} right, none with fewer changes (--json lists them).\n` : '',
    answer.complete ? '' : 'The search was cut off: there may be a way that was not tried.\n',
    printSection(first ? 'Each wire on its old place would be wrong' : 'Because', answer.refusals.map((r) => `${r.code}: ${r.why}`)),
    printSection('Take care', answer.cautions),
    printSection('Taken for granted', answer.assumptions),
  ].join('');
}

const countChanges = (plan: Plan): string => (plan.changes === 1 ? '1 change' : `${plan.changes} changes`);

/** A plan as a person reads it: a line a wire, then what else has to be done, then the switch states. */
export function printPlan(plan: Plan, indent: string): string {
  const lines = [
    ...plan.wires.map((w) => `${w.tag}: ${w.from} -> ${w.to}${w.moved ? ' (moved)' : ''}${w.newEnd ? ' (new end)' : ''}`),
    ...plan.jumpers.map((j) => `jumper: ${j.from} -> ${j.to}`),
    ...plan.leftOff.map((tag) => `${tag}: left off, insulate its end`),
    ...(plan.bareTerminals.length > 0 ? [`stays bare: ${plan.bareTerminals.join(', ')}`] : []),
    ...plan.states.map((s) => `start ${s.startSwitch ? 'on ' : 'off'}, interlocks ${s.interlocks ? 'made' : 'open'}${s.engineRuns ? ', engine running' : ''}: relay ${s.pulledIn ? 'in' : 'out'}, starter ${s.starterLive ? 'live' : 'dead'}, control ${s.controlA} A`),
  ];
  return lines.map((line) => `${indent}${line}\n`).join('');
}
