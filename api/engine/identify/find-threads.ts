import type { BenchRecord, IdentifyAnswer, RecordTerminal } from '../../../catalog-schema/index.ts';
import { THREADS, type ThreadRow } from '../../../catalog-schema/reference/index.ts';
import { readThread } from '../../../catalog-schema/thread/index.ts';
import { describeSetting, settingOf } from '../settings.ts';
import type { Said } from './said.ts';
import { readMeasured, showNumber } from './read-measured.ts';

/**
 * Threads that the measurements leave open: the tolerance zone of the major diameter (ISO 965-1 6g, ASME B1.1 2A), the pitch and the nut,
 * each against the interval that was measured. A thread given by name stands; measurements that deny it are a conflict.
 */
export function findThreads(record: BenchRecord, said: Said): IdentifyAnswer['threads'] {
  return (record.terminals ?? []).flatMap((terminal, index) => {
    const named = terminal.thread === undefined ? undefined : readThread(terminal.thread);
    const path = `terminals[${index}]`;
    const measured = measuredKeys(terminal);
    if (!named && measured.length === 0) return [];
    const left = THREADS.filter((row) => agrees(row, terminal, said));
    if (named) {
      const known = THREADS.find((row) => row.name === named.name);
      if (known && measured.length > 0 && !left.includes(known)) {
        said.conflicts.push({
          paths: [`${path}.thread`, ...measured.map((key) => `${path}.${key}`)],
          why: `${known.name} has a major diameter of ${showNumber(known.majorMinMm)} to ${showNumber(known.majorMaxMm)} mm and a pitch of ${showNumber(known.pitchMm)} mm: what was measured denies it`,
        });
      }
      if (named.pitchAssumed) said.assumptions.add(`${terminal.thread} was written without threads per inch: taken as ${named.name}`);
      return [{ terminal: terminal.id, candidates: [{ thread: named.name, series: named.series, probability: 1 }] }];
    }
    if (left.length === 0) {
      said.conflicts.push({ paths: measured.map((key) => `${path}.${key}`), why: `no thread of the table (M3 to M12, #4 to 1/2 in) has what was measured on ${terminal.id}` });
      return [{ terminal: terminal.id, candidates: [] }];
    }
    noteOpen(terminal, left, said);
    return [{ terminal: terminal.id, candidates: left.map((row) => ({ thread: row.name, series: row.series, probability: share(left.length) })) }];
  });
}

function agrees(row: ThreadRow, terminal: RecordTerminal, said: Said): boolean {
  const { majorDiameterMm, pitchMm, nutAcrossFlatsMm } = terminal;
  if (majorDiameterMm !== undefined) {
    const { low, high } = readMeasured(majorDiameterMm, 'caliper', said.assumptions);
    if (high < row.majorMinMm || low > row.majorMaxMm) return false;
  }
  if (pitchMm !== undefined) {
    const { low, high } = readMeasured(pitchMm, 'pitch', said.assumptions);
    if (high < row.pitchMm || low > row.pitchMm) return false;
  }
  if (nutAcrossFlatsMm !== undefined) {
    const { low, high } = readMeasured(nutAcrossFlatsMm, 'hexagon', said.assumptions);
    const nuts = row.acrossFlatsMm.filter(({ on }) => on !== 'head');
    if (nuts.some(({ minMm }) => minMm === undefined)) said.assumptions.add(describeSetting('nutLeastOfNominal'));
    if (nuts.length > 0 && !nuts.some(({ mm, minMm }) => high >= (minMm ?? mm * settingOf('nutLeastOfNominal')) && low <= mm)) return false;
  }
  return true;
}

function noteOpen(terminal: RecordTerminal, left: readonly ThreadRow[], said: Said): void {
  if (left.length < 2) return;
  said.assumptions.add('threads that the measurements leave open share the probability equally: how likely each is, is not computed yet');
  const bits = Math.log2(left.length);
  const names = left.map(({ name }) => name).join(', ');
  if (terminal.pitchMm === undefined) {
    const pitches = new Map<number, number>();
    for (const { pitchMm } of left) pitches.set(Math.round(pitchMm * 100), (pitches.get(Math.round(pitchMm * 100)) ?? 0) + 1);
    // Expected bits left once the pitch is known, each candidate equally likely.
    const after = [...pitches.values()].reduce((sum, count) => sum + (count / left.length) * Math.log2(count), 0);
    said.open.push({ what: `measure the pitch of ${terminal.id}`, why: `it may be ${names}`, worth: round(bits - after) });
  }
  if (terminal.majorDiameterMm === undefined) said.open.push({ what: `measure the major diameter of ${terminal.id}`, why: `it may be ${names}`, worth: round(bits) });
}

function measuredKeys(terminal: RecordTerminal): string[] {
  return (['majorDiameterMm', 'pitchMm', 'nutAcrossFlatsMm'] as const).filter((key) => terminal[key] !== undefined);
}

function share(count: number): number {
  return round(1 / count);
}

function round(value: number): number {
  return Math.round(value * 1e6) / 1e6;
}
