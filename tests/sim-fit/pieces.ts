import { Calibration, type CalibrationRow } from './calibration.ts';
import { Tally } from './tally.ts';

// A long run in pieces: what was counted of one is written as JSON and added to another's. The failures themselves stay with their piece.

type Stored = number | { [key: string]: Stored } | CalibrationRow[];
type Counts = Record<string, unknown>;

export function storeTally(tally: Tally): Stored {
  const { found: _found, ...counts } = tally as unknown as Counts;
  return storeCounts(counts);
}

/** Adds what another piece counted. */
export function addStored(tally: Tally, stored: Stored): void {
  addCounts(tally as unknown as Counts, stored as Record<string, Stored>);
}

function storeCounts(counts: Counts): Stored {
  return Object.fromEntries(Object.entries(counts).map(([key, value]) => [key, storeValue(value)]));
}

function storeValue(value: unknown): Stored {
  if (value instanceof Calibration) return value.rows.map((row) => ({ ...row }));
  if (value instanceof Map) return storeCounts(Object.fromEntries(value) as Counts);
  return typeof value === 'object' ? storeCounts(value as Counts) : value as number;
}

function addCounts(counts: Counts, stored: Record<string, Stored>): void {
  for (const [key, value] of Object.entries(stored)) {
    const there = counts[key];
    // The worst of all is the worst of its pieces; all else is counted.
    if (typeof value === 'number') counts[key] = key === 'worstRatio' ? Math.max(Number(there ?? 1), value) : Number(there ?? 0) + value;
    else if (there instanceof Calibration) there.addRows(value as CalibrationRow[]);
    else if (there instanceof Map) addToMap(there as Map<string, unknown>, value as Record<string, Stored>);
    else addCounts(there as Counts, value as Record<string, Stored>);
  }
}

function addToMap(map: Map<string, unknown>, stored: Record<string, Stored>): void {
  const held = Object.fromEntries(map) as Counts;
  for (const [key, value] of Object.entries(stored)) if (typeof value === 'object' && held[key] === undefined) held[key] = {};
  addCounts(held, stored);
  for (const [key, value] of Object.entries(held)) map.set(key, value);
}
