import type { BenchRecord, JobDocument, JsonValue } from '../../catalog-schema/index.ts';

/** One field and what it shall hold; null takes the field away. The path starts at the job's document. */
export interface FieldChange {
  readonly field: readonly string[];
  readonly value: JsonValue;
}

export type ChangeResult = { readonly ok: true } | { readonly ok: false; readonly why: string };

/** How far what was changed here has got. */
export interface SendState {
  /** changes made here that the server has not confirmed */
  readonly waiting: number;
  /** false once a send has failed and none has succeeded since */
  readonly reached: boolean;
  /** what the server refused, in its words; these changes are taken back */
  readonly refused: string;
}

/**
 * A document being worked on: a job that the server keeps, or a sheet at the counter that only this page keeps.
 * It tells of each change by an event named 'change'.
 */
export interface WorkSheet extends EventTarget {
  /** the job's id; undefined at the counter */
  readonly jobId: string | undefined;
  readonly document: JobDocument;
  readonly record: BenchRecord;
  readonly sendState: SendState;
  readonly canUndo: boolean;
  /** Makes several changes as one act: all or none, one undo. Says why where the document would not read. */
  change(changes: readonly FieldChange[]): ChangeResult;
  /** Takes the last act back by the inverse changes. */
  undo(): void;
  /** Ends timers and listeners. */
  close(): void;
}
