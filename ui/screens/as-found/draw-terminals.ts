import { documentRecordOf, type JsonValue, type RecordTerminal } from '../../../catalog-schema/index.ts';
import type { ChangeResult, WorkSheet } from '../../client/index.ts';

/** Puts a first set of terminals into a record that has none, as one act. */
export function drawTerminals(sheet: WorkSheet, terminals: readonly RecordTerminal[]): ChangeResult {
  const keyed = documentRecordOf({ system: sheet.record.system, terminals: [...terminals] })['terminals'] as JsonValue;
  return sheet.change([{ field: ['record', 'terminals'], value: keyed }]);
}
