import type { BenchRecord, JobConflict, JobDocument, JsonValue } from '../../catalog-schema/index.ts';

/** One field and what it shall hold; null takes the field away. The path starts at the job's document. */
export interface FieldChange {
  readonly field: readonly string[];
  readonly value: JsonValue;
  /** held edits that this decides */
  readonly settles?: readonly string[];
}

export type ChangeResult = { readonly ok: true } | { readonly ok: false; readonly why: string };

/** How far what was changed here has got. */
export interface SendState {
  /** acts made here that the server has not confirmed */
  readonly waiting: number;
  /** of these, acts that this device's store has not confirmed yet */
  readonly keeping: number;
  /** of these, acts that this device's store could not keep: they go with the page */
  readonly inMemory: number;
  /** false once a send has failed and none has succeeded since */
  readonly reached: boolean;
  /** what the server refused, in its words; these acts do not count, and wait in `refused` for a person to drop or mend them */
  readonly refused: string;
}

/** An act that the server said no to. */
export interface RefusedAct {
  readonly actId: string;
  readonly changes: readonly FieldChange[];
  /** the server's words; '' where it had none */
  readonly words: string;
  readonly at: string;
}

/**
 * A document being worked on: a job that the server keeps, or a sheet at the counter that only this page keeps.
 * It tells of each change by an event named 'change'.
 */
export interface WorkSheet extends EventTarget {
  /** the job's id; undefined at the counter */
  readonly jobId: string | undefined;
  /** this device's id, as it stands beside what was written on it; undefined at the counter */
  readonly device: string | undefined;
  readonly document: JobDocument;
  readonly record: BenchRecord;
  readonly sendState: SendState;
  readonly canUndo: boolean;
  /** what two devices wrote without knowing of each other, until a person has chosen; empty at the counter */
  readonly conflicts: readonly JobConflict[];
  readonly refused: readonly RefusedAct[];
  /** Makes several changes as one act: all or none, one undo. Says why where the document would not read. */
  change(changes: readonly FieldChange[]): ChangeResult;
  /**
   * Decides conflicts: each field gets the value given, and every edit held of that very field is settled. One act; not undone by `undo`,
   * which could not bring back what was held.
   */
  settle(choices: readonly { readonly editId: string; readonly value: JsonValue }[]): ChangeResult;
  /** Sends a refused act again, as it was or with other values, as an act made now; says why where it would not read. */
  mendRefused(actId: string, changes?: readonly FieldChange[]): ChangeResult;
  /** Lets go of a refused act. */
  dropRefused(actId: string): void;
  /** Takes the last act back by the inverse changes, where nobody else has written since. */
  undo(): void;
  /** Ends timers and listeners. */
  close(): void;
}
