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

describe('a photograph of a job', () => {
  const hash = 'a'.repeat(64);
  const kept = { name: 'face.jpg', at: '2026-03-01T09:30:00Z', widthPx: 4000, heightPx: 3000 };
  const mark = { xPx: 10.5, yPx: 20, noisePx: 1 };
  const faultsOf = (key: string, photograph: unknown): string[] => {
    const read = readJobDocument({ title: 't', record: documentRecordOf(record), photographs: { [key]: photograph as never } });
    return read.ok ? [] : read.faults.map(printFault);
  };

  it('keeps what was marked on it, by the hash of its bytes', () => {
    const marked = {
      ...kept, seenFrom: 'behind', longEdge: 'e1', raisedMm: { holes: { value: 3, plusMinus: 0.5 }, terminals: 20 },
      edges: { e1: { marks: [mark, mark] } }, things: { t1: { what: 'hole', by: 'middle', marks: [mark] }, t2: { what: 'terminal', terminal: 'B', by: 'rim', marks: [mark] } },
    };
    expect(faultsOf(hash, kept)).toEqual([]);
    expect(faultsOf(hash, marked)).toEqual([]);
  });

  it('is refused under a name that is no hash, with a fifth edge, and with a mark of no stated noise', () => {
    expect(faultsOf('face.jpg', kept)[0]).toMatch(/^photographs/);
    expect(faultsOf(hash, { ...kept, edges: Object.fromEntries(['a', 'b', 'c', 'd', 'e'].map((key) => [key, { marks: [mark] }])) })[0]).toMatch(/edges: found an object, want at most 4 entries/);
    expect(faultsOf(hash, { ...kept, edges: { e1: { marks: [{ xPx: 1, yPx: 2 }] } } })[0]).toMatch(/marks\[0\]\.noisePx: found nothing/);
    expect(faultsOf(hash, { ...kept, things: { t1: { what: 'terminal', terminal: 'case', by: 'middle', marks: [mark] } } })).toHaveLength(1);
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
