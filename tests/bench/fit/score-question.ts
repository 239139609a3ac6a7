import { UNSAID } from '../../../api/engine/retrieve/index.ts';
import { COLUMNS, type Column } from '../../../api/engine/snapshot/index.ts';
import type { ScoreRows } from './score-rows.ts';

// The part of a fit that SQL can express: gates and a score over numbers. Databases, plain scan and retrieval all answer it, and must agree.

/** A column's value must lie within low..high where the part says it; outside sureLow..sureHigh it is in doubt. Infinite: no limit. */
export interface Limit {
  readonly column: Column;
  readonly low: number;
  readonly high: number;
  readonly sureLow: number;
  readonly sureHigh: number;
}

/** Profiles that are asked alike; profiles that are in no group are out (class, contact, voltage, rotation, teeth). */
export interface ProfileGroup {
  readonly codes: readonly number[];
  /** what the probability is multiplied by for the profile's own sake */
  readonly factor: number;
  /** bits of `UNSAID`: what a part may not leave unsaid, and what of it leaves the part in doubt */
  readonly outMask: number;
  readonly doubtMask: number;
}

export interface Question {
  readonly groups: readonly ProfileGroup[];
  readonly limits: readonly Limit[];
  /** codes of sealings that are out, and that leave it open */
  readonly sealing: { readonly out: readonly number[]; readonly open: readonly number[] };
  /** what the probability is multiplied by for each thing left unsaid, in the order of `UNSAID`, and for each value in doubt */
  readonly unsaidFactors: readonly number[];
  readonly doubtFactor: number;
  /** ring holes that come to the heavy studs, as the majors that take them: a ring that goes on neither stud costs a lug */
  readonly rings: readonly { readonly least: number; readonly most: number }[];
  readonly lugCents: number;
  readonly misfitCents: number;
}

/** A limit that no value reaches. In a database what is missing stands beyond it, a time without end below it. */
export const NOTHING_PASSES = 2e9;
const MISSING = 4e9;
const ENDLESS = 1e9;

/** Above every total of a part that has a price. */
const BEHIND = 2 ** 44;

/** Ranks of the best, best first: proven before in doubt, priced before unpriced, then by total, then by rank. Reads every row. */
export function scanRows(rows: ScoreRows, question: Question, most: number): number[] {
  const groupOf = new Map(question.groups.flatMap((group) => group.codes.map((code) => [code, group])));
  const limits = question.limits.map((limit) => ({ ...limit, values: rows.columns[limit.column] }));
  const out = new Set(question.sealing.out);
  const open = new Set(question.sealing.open);
  const dutyTime = 1 << UNSAID.indexOf('dutyTime');
  const best: { key: number; rank: number }[] = [];
  rows: for (let row = 0; row < rows.count; row++) {
    const group = groupOf.get(rows.profile[row]!);
    const unsaid = rows.unsaid[row]!;
    if (group === undefined || (unsaid & group.outMask) !== 0 || out.has(rows.sealing[row]!)) continue;
    let p = group.factor;
    UNSAID.forEach((_, bit) => { if ((unsaid & group.doubtMask) >>> bit & 1) p *= question.unsaidFactors[bit]!; });
    for (const { column, values, low, high, sureLow, sureHigh } of limits) {
      const value = values[row]!;
      if (column === 'dutyS' && (unsaid & dutyTime) !== 0) continue;
      if (value < low || value > high) continue rows;
      if (value < sureLow || value > sureHigh) p *= question.doubtFactor;
    }
    if (open.has(rows.sealing[row]!)) p *= question.doubtFactor;
    const landed = rows.landed[row]!;
    const total = (Number.isNaN(landed) ? BEHIND : landed) + countLugs(rows, row, question) * question.lugCents + Math.floor((1 - p) * question.misfitCents + 0.5);
    keep(best, total + (p < 1 ? 2 * BEHIND : 0), rows.rank[row]!, most);
  }
  return best.map(({ rank }) => rank);
}

function countLugs(rows: ScoreRows, row: number, { rings }: Question): number {
  const studs = [rows.columns.studThickMm[row]!, rows.columns.studThinMm[row]!];
  if (!studs.every((majorMm) => majorMm > 0)) return 0;
  return rings.filter(({ least, most }) => !studs.some((majorMm) => majorMm >= least && majorMm <= most)).length;
}

function keep(best: { key: number; rank: number }[], key: number, rank: number, most: number): void {
  let at = best.length;
  while (at > 0 && (best[at - 1]!.key > key || (best[at - 1]!.key === key && best[at - 1]!.rank > rank))) at--;
  if (at >= most) return;
  best.splice(at, 0, { key, rank });
  if (best.length > most) best.pop();
}

/** A value of a statement; whole ones stand against whole-number columns, which must not be converted row by row. */
export interface Parameter { readonly value: number; readonly whole: boolean }

/** The question as one statement with its parameters; only what is asked stands in it. The same text for SQLite and DuckDB. */
export function writeStatement(table: string, question: Question, most: number): { sql: string; parameters: Parameter[] } {
  const parameters: Parameter[] = [];
  const put = (value: number): string => `$${parameters.push({ value, whole: false })}`;
  const whole = (value: number): string => `$${parameters.push({ value, whole: true })}`;
  const list = (codes: readonly number[]): string => codes.map(whole).join(', ');
  const selects = question.groups.map(({ codes, factor, outMask, doubtMask }) => {
    const gates = [`profile IN (${list(codes)})`, ...(outMask === 0 ? [] : [`(unsaid & ${whole(outMask)}) = 0`])];
    for (const limit of question.limits) gates.push(...writeBounds(limit.column, limit.low, limit.high, put).map((bound) => (isTwoSided(limit.column) ? `(${bound}) IS NOT FALSE` : bound)));
    if (question.sealing.out.length > 0) gates.push(`sealing NOT IN (${list(question.sealing.out)})`);
    const factors = [put(factor)];
    UNSAID.forEach((_, bit) => {
      if ((doubtMask >>> bit) & 1) factors.push(`CASE WHEN (unsaid & ${whole(1 << bit)}) <> 0 THEN ${put(question.unsaidFactors[bit]!)} ELSE 1.0 END`);
    });
    for (const { column, low, high, sureLow, sureHigh } of question.limits) {
      const sure = writeBounds(column, sureLow === low ? Number.NEGATIVE_INFINITY : sureLow, sureHigh === high ? Number.POSITIVE_INFINITY : sureHigh, put);
      if (sure.length > 0) factors.push(`CASE WHEN NOT (${sure.join(' AND ')}) THEN ${put(question.doubtFactor)} ELSE 1.0 END`);
    }
    if (question.sealing.open.length > 0) factors.push(`CASE WHEN sealing IN (${list(question.sealing.open)}) THEN ${put(question.doubtFactor)} ELSE 1.0 END`);
    return `SELECT rank, landed, studThickMm, studThinMm, ${factors.join(' * ')} AS p FROM ${table} WHERE ${gates.join(' AND ')}`;
  });
  const lugs = question.rings.map(({ least, most: widest }) => {
    const within = (stud: string): string => `${stud} BETWEEN ${put(least)} AND ${put(widest)}`;
    return `CASE WHEN studThickMm > 0 AND studThinMm > 0 AND NOT (${within('studThickMm')} OR ${within('studThinMm')}) THEN ${whole(question.lugCents)} ELSE 0 END`;
  });
  const total = ['COALESCE(landed, 0)', ...lugs, `floor((1.0 - p) * ${put(question.misfitCents)} + 0.5)`].join(' + ');
  return { sql: `SELECT rank FROM (${selects.join(' UNION ALL ')}) ORDER BY p < 1.0, landed IS NULL, ${total}, rank LIMIT ${most}`, parameters };
}

function writeBounds(column: Column, low: number, high: number, put: (value: number) => string): string[] {
  return [...(low === Number.NEGATIVE_INFINITY ? [] : [`${column} >= ${put(low === Number.POSITIVE_INFINITY ? ENDLESS : low)}`]), ...(high === Number.POSITIVE_INFINITY ? [] : [`${column} <= ${put(high)}`])];
}

/** Columns of the databases' tables, the most selective first. */
export const SCORE_COLUMNS = ['profile', 'landed', 'rank', 'unsaid', 'sealing', ...COLUMNS] as const;
export const WHOLE_COLUMNS: ReadonlySet<string> = new Set(['profile', 'landed', 'rank', 'unsaid', 'sealing']);

const AT_MOST: ReadonlySet<Column> = new Set<Column>(['pullInV', 'ambientMinC', 'bodyLongMm', 'bodyShortMm', 'bodyHighMm']);

/** Where both too little and too much is out, and in the studs, what is missing is NULL; in the others it is a number that passes every limit. */
function isTwoSided(column: Column): boolean {
  return column === 'pinionModuleMm' || column === 'noseMm' || column === 'studThickMm' || column === 'studThinMm';
}

/**
 * One row for a database. That a value is missing stands in `unsaid`; in its column stands a number that passes every limit, so that a gate is
 * one comparison.
 */
export function rowForDatabase(rows: ScoreRows, row: number): (number | null)[] {
  const numberOf = (column: Column): number | null => {
    const value = rows.columns[column][row]!;
    if (Number.isNaN(value) || (column === 'dutyS' && value === -1)) return isTwoSided(column) ? null : AT_MOST.has(column) ? -MISSING : MISSING;
    return value === Number.POSITIVE_INFINITY ? ENDLESS : value;
  };
  const landed = rows.landed[row]!;
  return [rows.profile[row]!, Number.isNaN(landed) ? null : landed, rows.rank[row]!, rows.unsaid[row]!, rows.sealing[row]!, ...COLUMNS.map(numberOf)];
}
