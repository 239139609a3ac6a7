import type { JsonValue, Measured } from '../../../catalog-schema/index.ts';
import type { ChangeResult, WorkSheet } from '../../client/index.ts';
import { valueOf } from '../../format.ts';

/** Sets one field of the record, or takes it away. `path` starts within the record. */
export function setField(sheet: WorkSheet, path: readonly string[], value: JsonValue | undefined): ChangeResult {
  return sheet.change([{ field: ['record', ...path], value: value ?? null }]);
}

/** What a quantity field commits to, where the record keeps the value with its plus-minus. */
export function commitMeasured(sheet: WorkSheet, path: readonly string[]): (value: Measured | undefined) => ChangeResult {
  return (value) => setField(sheet, path, value);
}

/** What a quantity field commits to, where the record keeps a bare number. */
export function commitNumber(sheet: WorkSheet, path: readonly string[]): (value: Measured | undefined) => ChangeResult {
  return (value) => setField(sheet, path, value === undefined ? undefined : valueOf(value));
}
