export { GrowingArray } from './growing-array.ts';
export { COLUMNS, type Column } from './index-columns.ts';
export { openSnapshot, type PartNames, type ProfileRows, type Snapshot } from './snapshot.ts';
export { NO_CODE } from './snapshot-layout.ts';
export { createSnapshotWriter, writeSnapshot, type SnapshotWriter } from './snapshot-writer.ts';
export { firstCodeWhere, type ValueColumn } from './value-column.ts';
