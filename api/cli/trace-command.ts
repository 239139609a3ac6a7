import type { Command } from 'commander';
import { benchRecordSchema, readInput, type BenchRecord, type TraceAnswer } from '../../catalog-schema/index.ts';
import { trace } from '../engine/index.ts';
import { takeJson } from './take-input.ts';
import { InputRefused, printJson, printSection, writeOut } from './tell.ts';

export function addTraceCommand(program: Command): void {
  program.command('trace <file>')
    .description('say where the wires of a bench record lead, by what a meter shows at their free ends, and what to measure next (- for standard input)')
    .option('--wire <tag...>', 'only these wires')
    .option('--json', 'print the answer as JSON')
    .action(async (file: string, options: { wire?: string[]; json?: boolean }) => {
      const record = await takeJson(file, (value) => readInput(benchRecordSchema, value));
      refuseStrangeWires(record, options.wire ?? []);
      const answer = trace(record, options.wire);
      await writeOut(options.json ? printJson(answer) : printTrace(answer));
    });
}

function refuseStrangeWires(record: BenchRecord, tags: readonly string[]): void {
  const known = new Set((record.wires ?? []).map(({ tag }) => tag));
  const strange = tags.filter((tag) => !known.has(tag));
  if (strange.length > 0) throw new InputRefused(strange.map((tag) => ({ path: '--wire', found: JSON.stringify(tag), want: 'the tag of a wire of this record' })));
}

function printTrace(answer: TraceAnswer): string {
  if (answer.wires.length === 0) return 'Every wire of this record is traced.\n';
  return [
    ...answer.wires.map(({ tag, leadsTo, remaining, conflicts, cautions, measureNext: [next] }) => [
      `Wire ${tag}: ${leadsTo !== null ? `leads to ${leadsTo}` : remaining.length === 0 ? 'its readings cannot all be true' : `leads to one of ${remaining.join(', ')}`}\n`,
      printSection('  Cannot be', conflicts.map(({ why }) => why), '    '),
      printSection('  Take care', cautions, '    '),
      next ? `  Measure next: ${next.what}\n    ${next.why}\n${printSection('    Take care', next.cautions, '      ')}` : '',
    ].join('')),
    printSection('Take care', answer.cautions),
    printSection('Taken for granted', answer.assumptions),
  ].join('');
}
