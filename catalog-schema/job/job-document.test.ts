import { describe, expect, it } from 'vitest';
import { printFault } from '../input-fault.ts';
import type { BenchRecord } from '../bench-record.ts';
import { applyEdit, documentRecordOf, readJobDocument, recordOfDocument } from './job-document.ts';
import { jobEdit } from './job-edit.ts';

const record: BenchRecord = {
  system: { nominalV: 12 }, terminals: [{ id: 'B', form: 'stud' }, { id: 'M', form: 'stud' }],
  wires: [{ tag: 'W1', wasOn: 'B', leadsTo: 'battery' }], ohms: [{ between: ['B', 'M'], ohm: 'open' }, { between: ['B', 'M'], ohm: 0, pulledIn: true }],
};

describe('a job\'s document', () => {
  it('keeps terminals, wires and readings by key and gives the same record back', () => {
    const keyed = documentRecordOf(record);
    expect(keyed).toMatchObject({ terminals: { B: { form: 'stud' } }, wires: { W1: { wasOn: 'B' } }, ohms: { r1: { ohm: 'open' }, r2: { ohm: 0 } } });
    expect(recordOfDocument({ title: 't', record: keyed })).toEqual(record);
  });

  it('takes one edit at a time, makes the branches on the way and leaves the one it was given alone', () => {
    const before = Object.freeze({ title: 't' });
    const after = applyEdit(before, { field: ['record', 'wires', 'W1', 'colour'], value: 'RD' });
    expect(after).toEqual({ title: 't', record: { wires: { W1: { colour: 'RD' } } } });
    expect(applyEdit(after, { field: ['record', 'wires', 'W1', 'colour'], value: null })).toEqual({ title: 't', record: { wires: { W1: {} } } });
    expect(before).toEqual({ title: 't' });
  });

  it('does not reach an object\'s ancestors by any field name', () => {
    applyEdit({ title: 't' }, { field: ['__proto__', 'polluted'], value: 1 });
    applyEdit({ title: 't' }, { field: ['constructor', 'prototype', 'polluted'], value: 1 });
    expect(({} as { polluted?: number }).polluted).toBeUndefined();
  });

  it('gives the faults of its record under record', () => {
    const read = readJobDocument({ title: 't', record: { system: { nominalV: -12 } } });
    expect(read.ok ? [] : read.faults.map(printFault)).toEqual(['record.system.nominalV: found -12, want a number above 0']);
    expect(readJobDocument({ title: 't', record: documentRecordOf(record) as never }).ok).toBe(true);
  });
});

describe('an edit\'s value', () => {
  const edit = (value: unknown): unknown => ({ id: '3f1c2f6e-8a54-4c1e-9d3b-5a6f7e8d9c0b', field: ['title'], value, base: 0, at: '2026-03-01T09:30:00Z' });
  it.each([['a text', 'x'], ['a number', 1.5], ['nothing', null], ['a list', [1, { a: true }]]])('may be %s', (_what, value) => {
    expect(jobEdit.safeParse(edit(value)).success).toBe(true);
  });
  it.each([['missing', undefined], ['not finite', Infinity], ['a text too long', 'x'.repeat(2001)], ['a list too long', Array.from({ length: 501 }, () => 1)], ['a function', () => 1]])('may not be %s', (_what, value) => {
    expect(jobEdit.safeParse(edit(value)).success).toBe(false);
  });
});
