import { readFileSync, statSync } from 'node:fs';
import { LIMITS, readJobFile, readJsonText, stateOfLog, type AsLeftAnswer } from '../../catalog-schema/index.ts';
import { answerAsLeft, findAsLeftBasis, fit } from '../engine/index.ts';
import { InputRefused } from './tell.ts';

/** The checklist of a job as a job file tells it: with the part that came in the file, and without a shop. */
export function readAsLeftOfFile(file: string, unit: 'mm' | 'inch'): AsLeftAnswer {
  const { size } = statSync(file);
  if (size > LIMITS.jobFileBytes) throw new InputRefused([{ path: '', found: `${size} bytes`, want: `at most ${LIMITS.jobFileBytes} bytes` }]);
  const json = readJsonText(readFileSync(file, 'utf8'), LIMITS.jobFileBytes);
  if (!json.ok) throw new InputRefused(json.faults);
  const read = readJobFile(json.value);
  if (!read.ok) throw new InputRefused(read.faults);
  const { document, record, conflicts } = stateOfLog(read.value.id, read.value.edits);
  const { chosen } = document;
  const part = read.value.part?.id === chosen?.partId ? read.value.part : undefined;
  const own = part && fit(record, [part], { all: true }).fits[0];
  const basis = part === undefined || own === undefined || chosen === undefined ? undefined : findAsLeftBasis(record, part, own, chosen.plan);
  return answerAsLeft({ document, record, part, basis, conflicts: conflicts.length, unit });
}
