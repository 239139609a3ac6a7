import { z } from 'zod';
import { benchRecordSchema, type BenchRecord } from '../bench-record.ts';
import { plan } from '../answer.ts';
import { readInput, type InputFault } from '../input-fault.ts';
import { LIMITS } from '../limits.ts';
import { day, identifier, number, text, wholeAboveZero, wholeZeroOrMore, zeroOrMore } from '../scalar.ts';
import { isTree } from './field-path.ts';
import { jobConflict } from './job-conflict.ts';
import type { JobEdit, JsonValue } from './job-edit.ts';
import { jobProof } from './job-proof.ts';
import { jobPhotograph, photographHash } from './job-photograph.ts';

/** What was chosen on Fits: the part and the plan every later step follows. */
export const chosenFit = z.strictObject({ partId: identifier, plan: plan.nullable(), title: text.optional() });

/**
 * A step of the As left checklist that somebody has ticked, with the reading it asked for. `of` is the fingerprint of the step as it
 * was ticked: for another part, wiring or interlock the tick does not count.
 */
export const doneStep = z.strictObject({
  at: z.iso.datetime(), by: text.optional(), reading: number.optional(), outcome: z.enum(['good', 'bad']).optional(), of: text.optional(),
});

/** What a job holds beside its bench record. Lists are kept as records by key, so that two devices can edit two entries. */
export const jobDocument = z.strictObject({
  title: text,
  machine: text.optional(),
  customer: text.optional(),
  notes: text.optional(),
  /** the bench record with `terminals`, `wires` and `ohms` keyed: by id, by tag, by reading */
  record: z.looseObject({}),
  chosen: chosenFit.optional(),
  /** what is to be got: by which day, how many, and whether any fit that goes on will do in place of the chosen one */
  get: z.strictObject({ by: day.optional(), qty: wholeAboveZero.max(LIMITS.orderUnits).optional(), anyFit: z.boolean().optional() }).optional(),
  asLeft: z.record(identifier, doneStep).optional(),
  /** `of` is the fingerprint of what was signed: once wires, choice or ticks are others the sign-off has lapsed */
  signedOff: z.strictObject({ at: z.iso.datetime(), by: text, of: text.optional() }).optional(),
  /** outcome of a proof made elsewhere than on the Prove screen */
  proved: z.strictObject({ words: text }).optional(),
  /** what the Prove step holds: what was seen of the fault, and with what */
  prove: jobProof.optional(),
  minutes: zeroOrMore.optional(),
  /** photographs measured from, by the hash of their bytes, which lie apart from the edits */
  photographs: z.record(photographHash, jobPhotograph).optional(),
});
export type JobDocument = z.infer<typeof jobDocument>;

/** A job as every door shows it. `revision` counts the edits of its log, those held too. */
export const jobState = z.strictObject({
  id: z.uuid(), revision: wholeZeroOrMore, document: jobDocument,
  /** the document's record in the contract's shape */
  record: z.custom<BenchRecord>((value) => typeof value === 'object' && value !== null),
  /** what waits for a person's choice, in the order in which it arrived */
  conflicts: z.array(jobConflict),
  createdAt: z.iso.datetime(), changedAt: z.iso.datetime(),
});
export type JobState = z.infer<typeof jobState>;

/** Keyed lists of the record and the contract's key in each entry; readings have no key of their own. */
const KEYED_LISTS = { terminals: 'id', wires: 'tag', ohms: undefined } as const;

type Tree = { [key: string]: JsonValue };

/** The document after one more edit; the one given is not changed. Missing branches on the way are made, save to take something away. */
export function applyEdit(document: Readonly<Tree>, edit: Pick<JobEdit, 'field' | 'value'>): Tree {
  const [head, ...rest] = edit.field;
  const copy: Tree = { ...document };
  if (head === undefined) return copy;
  if (head === '__proto__') return copy;
  if (rest.length === 0) {
    if (edit.value === null) delete copy[head];
    else copy[head] = edit.value;
    return copy;
  }
  const below = Object.hasOwn(copy, head) ? copy[head] : undefined;
  if (!isTree(below) && edit.value === null) return copy;
  copy[head] = applyEdit(isTree(below) ? below : {}, { field: rest, value: edit.value });
  return copy;
}

/**
 * The bench record a document stands for, in the contract's shape, unchecked. Entries keep the order in which they were made,
 * save that keys which are whole numbers ('30', '86') come first and in rising order, as in every JSON object.
 */
export function recordOfDocument(document: Readonly<Tree>): unknown {
  const record = document['record'];
  if (typeof record !== 'object' || record === null || Array.isArray(record)) return record;
  const out: Tree = { ...record };
  for (const [list, key] of Object.entries(KEYED_LISTS)) {
    const entries = out[list];
    if (typeof entries !== 'object' || entries === null || Array.isArray(entries)) continue;
    const made = Object.entries(entries).map(([name, entry]): JsonValue =>
      key !== undefined && typeof entry === 'object' && entry !== null && !Array.isArray(entry) ? { [key]: name, ...entry } : entry);
    if (made.length === 0) delete out[list];
    else out[list] = made;
  }
  return out;
}

/** A bench record written as the keyed form that a document holds; the inverse of `recordOfDocument`. */
export function documentRecordOf(record: BenchRecord): Tree {
  const out = structuredClone(record) as unknown as Tree;
  for (const [list, key] of Object.entries(KEYED_LISTS)) {
    const entries = out[list];
    if (!Array.isArray(entries)) continue;
    const keyed: Tree = {};
    entries.forEach((entry, index) => {
      const { [key ?? '']: name, ...rest } = entry as Tree;
      keyed[key === undefined ? `r${index + 1}` : String(name)] = rest;
    });
    out[list] = keyed;
  }
  return out;
}

/** Reads a document: what it holds and its record, or every fault, the record's under `record.`. */
export function readJobDocument(tree: Readonly<Tree>):
  { ok: true; document: JobDocument; record: BenchRecord } | { ok: false; faults: InputFault[] } {
  const document = readInput(jobDocument, tree);
  const record = readInput(benchRecordSchema, recordOfDocument(tree));
  if (document.ok && record.ok) return { ok: true, document: document.value, record: record.value };
  const faults = [
    ...(document.ok ? [] : document.faults),
    ...(record.ok ? [] : record.faults.map((f) => ({ ...f, path: f.path === '' ? 'record' : `record.${f.path}` }))),
  ];
  return { ok: false, faults };
}
