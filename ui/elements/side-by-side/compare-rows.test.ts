import { describe, expect, it } from 'vitest';
import type { Check, Fit, Part } from '../../../catalog-schema/index.ts';
import { compareParts, type CompareRow } from './compare-rows.ts';

const check = (criterion: Check['criterion'], outcome: Check['outcome'], offered: string): Check => ({ criterion, outcome, safety: true, needed: '12 V', offered, why: '' });
const fitOf = (partId: string, checks: Check[], more: Partial<Fit> = {}): Fit => (
  { partId, verdict: 'direct', fitProbability: 0.95, expectedCost: null, checks, rewire: null, placement: null, kit: [], ...more }
);
const partOf = (id: string, ohmAt20C: number | undefined, thread: string): Part => ({
  id, partClass: 'start-relay', title: id, terminals: [{ id: 'B', form: 'stud', thread }, { id: 'M', form: 'stud', thread }, { id: 't', form: 'tab', tabWidthMm: 6.3 }],
  circuit: [{ kind: 'coil', id: 'k', between: ['t', 'case'], nominalV: 12, ...(ohmAt20C === undefined ? {} : { ohmAt20C }) }],
  mounting: { holes: [{ xMm: -26, yMm: 0, diameterMm: 6.4 }, { xMm: 26, yMm: 0, diameterMm: 6.4, slotMm: 4 }] },
});
const rows = (): CompareRow[] => compareParts({
  record: { system: { nominalV: 12 }, terminals: [{ id: 'B', form: 'stud', majorDiameterMm: 5.9 }] }, unit: 'mm', sayWhere: () => 'bin C4',
  identify: { coils: [{ between: ['a', 'b'], ohmAt20C: 4.27, nominalV: [], amps: 1, watts: 1 }], threads: [], tabs: [], circuits: [], conflicts: [], measureNext: [], worthUnit: 'bit', cautions: [], assumptions: [] },
  beside: [
    { part: partOf('a', 4.1, 'M6x1'), fit: fitOf('a', [check('coil-voltage', 'pass', '12 V')]) },
    { part: partOf('b', undefined, 'M6x1'), fit: fitOf('b', [check('coil-voltage', 'fail', '12 V')], { verdict: 'no' }) },
  ],
});
const rowOf = (key: string): CompareRow | undefined => rows().find((row) => row.key === key);

describe('parts side by side', () => {
  it('show what came off beside what each offers', () => {
    expect(rowOf('ohms')).toMatchObject({ old: '4.27 Ω', cells: [{ said: '12 V, 4.1 Ω' }, { said: '12 V, ohms not given' }], differs: true });
    expect(rowOf('studs')).toMatchObject({ old: '1 × 5.9 mm', cells: [{ said: '2 × M6x1' }, { said: '2 × M6x1' }], differs: false });
    expect(rowOf('holes')?.cells[0]?.said).toBe('2 holes, Ø 6.4 mm, Ø 6.4 mm slotted 4 mm, 52 mm apart');
  });

  it('differ where a check judges equal words differently', () => {
    expect(rowOf('coil-voltage')).toMatchObject({ old: '12 V', cells: [{ said: '12 V', outcome: 'pass' }, { said: '12 V', outcome: 'fail' }], differs: true });
  });

  it('say no probability of one that will not do, and leave out rows that say nothing', () => {
    expect(rowOf('works')?.cells.map(({ said }) => said)).toEqual(['very likely to work, 95 %', '']);
    expect(rowOf('learned')).toBeUndefined();
    expect(rowOf('rotation')).toBeUndefined();
  });
});
