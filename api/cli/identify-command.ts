import type { Command } from 'commander';
import { benchRecordSchema, readInput, type IdentifyAnswer } from '../../catalog-schema/index.ts';
import { identify } from '../engine/index.ts';
import { takeJson } from './take-input.ts';
import { printJson, printSection, writeOut } from './tell.ts';

export function addIdentifyCommand(program: Command): void {
  program.command('identify <file>')
    .description('say what a removed part is, from its bench record (- for standard input)')
    .option('--json', 'print the answer as JSON')
    .action(async (file: string, options: { json?: boolean }) => {
      const record = await takeJson(file, (value) => readInput(benchRecordSchema, value));
      const answer = identify(record);
      await writeOut(options.json ? printJson(answer) : printIdentity(answer));
    });
}

function printIdentity(answer: IdentifyAnswer): string {
  const share = (probability: number) => `${Math.round(probability * 100)} %`;
  const lines = [
    printSection('Coils', answer.coils.map((coil) =>
      `${coil.between.join(' to ')}: ${coil.ohmAt20C} ohm at 20 C, ${coil.amps} A, ${coil.watts} W; nominal ${coil.nominalV.map((v) => `${v.volts} V (${share(v.probability)})`).join(', ') || 'not known'}`)),
    printSection('Threads', answer.threads.map((t) => `${t.terminal}: ${t.candidates.map((c) => `${c.thread} (${share(c.probability)})`).join(', ') || 'none fits'}`)),
    printSection('Tabs', answer.tabs.map((t) => `${t.terminal}: ${t.candidates.map((c) => `${c.widthMm} x ${c.thicknessMm} mm (${share(c.probability)})`).join(', ') || 'none fits'}`)),
    printSection('Circuits', answer.circuits.map((c) => `${c.form} (${share(c.probability)})`)),
    printSection('Cannot all be true', answer.conflicts.map((c) => `${c.paths.join(', ')}: ${c.why}`)),
    printSection('Measure next', answer.measureNext.map((m) => `${m.what}: ${m.why}`)),
    printSection('Take care', answer.cautions),
    printSection('Taken for granted', answer.assumptions),
  ].filter((section) => section !== '');
  return lines.length === 0 ? 'Nothing is known of this part yet: measure a stud, a tab or the coil.\n' : lines.join('');
}
