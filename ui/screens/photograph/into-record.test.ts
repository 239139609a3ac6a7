import { describe, expect, it } from 'vitest';
import { applyEdit, documentRecordOf, readJobDocument, type BenchRecord, type JobPhotograph } from '../../../catalog-schema/index.ts';
import type { MeasuredPhotograph, MeasuredThing } from '../../../api/engine/photograph/index.ts';
import { findForRecord } from './into-record.ts';

const mark = { xPx: 1, yPx: 1, noisePx: 1 };
const photograph: JobPhotograph = {
  name: 'p', at: '2026-03-01T09:30:00Z', widthPx: 100, heightPx: 100,
  things: {
    h1: { what: 'hole', by: 'middle', marks: [mark] }, h2: { what: 'hole', by: 'rim', marks: [mark, mark, mark] }, h3: { what: 'hole', by: 'middle', marks: [mark] },
    B: { what: 'terminal', terminal: 'B', by: 'across', marks: [mark, mark] }, c: { what: 'terminal', terminal: 'c', by: 'across', marks: [mark, mark] },
    gone: { what: 'terminal', terminal: 'gone', by: 'middle', marks: [mark] }, l: { what: 'length', by: 'across', marks: [mark, mark] },
  },
};
const at = (xMm: number, yMm: number, across?: [number, number]): { ok: true; value: MeasuredThing } =>
  ({ ok: true, value: { xMm, yMm, ...(across === undefined ? {} : { acrossMm: { value: across[0], plusMinus: across[1] } }) } });
const measured: MeasuredPhotograph = {
  edges: {}, order: [], card: undefined, spacings: [], cautions: [], assumptions: [], plusMinusMm: 0.1234,
  things: { h1: at(-29.256, -0.001), h2: at(29.254, 0, [6.512, 0.2]), B: at(-10, 20.006, [7.93, 0.151]), c: at(0, 5, [6.3, 0.2]), gone: at(1, 1), l: at(0, 0, [50, 1]) },
};
const record: BenchRecord = { system: { nominalV: 12 }, terminals: [{ id: 'B', form: 'stud', marking: 'B' }, { id: 'c', form: 'tab' }, { id: 'd', form: 'tab' }] };

/** The record after its edits, as a job folds them. */
function after(start: BenchRecord): BenchRecord {
  const tree = findForRecord(start, photograph, measured).changes.reduce<Parameters<typeof applyEdit>[0]>((tree, { field, value }) => applyEdit(tree, { field: [...field], value }), { title: 't', record: documentRecordOf(start) });
  const read = readJobDocument(tree);
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  return read.record;
}

describe('a measured photograph in the record', () => {
  it('gives holes with how sure they are, terminals with their places, a stud’s diameter and a tab’s width', () => {
    const got = after(record);
    expect(got.mounting).toEqual({ holes: [{ xMm: -29.26, yMm: 0, diameterMm: 6.4 }, { xMm: 29.25, yMm: 0, diameterMm: 6.51 }], plusMinusMm: 0.13 });
    expect(got.terminals).toEqual([
      { id: 'B', form: 'stud', marking: 'B', at: { xMm: -10, yMm: 20.01 }, atBy: 'measured', majorDiameterMm: { value: 7.93, plusMinus: 0.16 } },
      { id: 'c', form: 'tab', at: { xMm: 0, yMm: 5 }, atBy: 'measured', tabWidthMm: { value: 6.3, plusMinus: 0.2 } }, { id: 'd', form: 'tab' },
    ]);
  });

  it('leaves what else is known of the bolts, and takes their width for a hole marked by its middle', () => {
    const got = after({ ...record, mounting: { holes: [{ xMm: 0, yMm: 0, diameterMm: 8.5 }], boltMm: 8, drillable: true } });
    expect(got.mounting).toEqual({ holes: [{ xMm: -29.26, yMm: 0, diameterMm: 8.5 }, { xMm: 29.25, yMm: 0, diameterMm: 6.51 }], plusMinusMm: 0.13, boltMm: 8, drillable: true });
  });

  it('counts what it has, and has no change left once it is in', () => {
    expect(findForRecord(record, photograph, measured)).toMatchObject({ holes: 2, terminals: 2, takenMm: 6.4 });
    expect(findForRecord(after(record), photograph, measured).changes).toEqual([]);
  });

  it('has nothing where nothing is marked', () => {
    expect(findForRecord(record, { ...photograph, things: {} }, { ...measured, things: {} })).toEqual({ holes: 0, terminals: 0, changes: [], takenMm: undefined });
  });
});
