import { describe, expect, it } from 'vitest';
import { printFault, readInput } from '../input-fault.ts';
import { machineKindOf, outcomeReport } from './outcome.ts';

describe('what became of a fitted part', () => {
  const report = { id: '3f1c2f6e-8a54-4c1e-9d3b-5a6f7e8d9c0b', jobId: '3f1c2f6e-8a54-4c1e-9d3b-5a6f7e8d9c0c', partId: 'p', result: 'held', at: '2026-03-01T09:30:00Z' };
  const linesOf = (value: unknown): string[] => {
    const read = readInput(outcomeReport, value);
    return read.ok ? [] : read.faults.map(printFault);
  };

  it('reads without a reason where it held, with one where it came back', () => {
    expect(linesOf(report)).toEqual([]);
    expect(linesOf({ ...report, result: 'came-back', reason: 'did-not-work', words: 'clicks only', by: 'Ans' })).toEqual([]);
  });

  it('is refused where the reason is missing, or given for a part that held', () => {
    expect(linesOf({ ...report, result: 'came-back' })).toEqual(['reason: found nothing, want one of did-not-go-on, did-not-work, failed, fault-elsewhere, other']);
    expect(linesOf({ ...report, reason: 'failed' })).toEqual(['reason: found "failed", want it left out: the part held']);
  });
});

describe('the kind of machine in a job\'s words', () => {
  it.each([
    ['Quay sweeper 2, petrol, 12 V', 'quay sweeper 2'], ['  QUAY-Sweeper  2 (yard)', 'quay sweeper 2'], ['Ｑuay sweeper 2;', 'quay sweeper 2'],
    ['Löschpumpe Nr. 3', 'löschpumpe nr 3'],
  ])('%s is %s', (machine, kind) => {
    expect(machineKindOf(machine)).toBe(kind);
  });

  it.each([undefined, '', ' , petrol', '---'])('is not known of %s', (machine) => {
    expect(machineKindOf(machine)).toBeUndefined();
  });
});
