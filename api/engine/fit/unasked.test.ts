import { describe, expect, it } from 'vitest';
import { Notes } from './finding.ts';
import { record, relay } from './sample-bench.ts';
import { chanceOfUnasked, chancesOfUnasked, shareRecorded } from './unasked.ts';

describe('what nobody wrote down', () => {
  it('is nothing where bolts, wires and ends are recorded, and then costs no part anything', () => {
    const notes = new Notes();
    expect(shareRecorded(record(), false)).toBe(1);
    expect(chanceOfUnasked(record(), false, relay('p', { terminals: [] }), notes)).toBe(1);
    expect([...notes.assumptions]).toEqual([]);
  });

  it('grows with each that is missing', () => {
    const { mounting: _mounting, ...unbolted } = record();
    expect(shareRecorded(unbolted, false)).toBeCloseTo(2 / 3, 12);
    expect(shareRecorded({ ...unbolted, wires: record().wires!.map(({ end: _end, ...wire }) => wire) }, false)).toBeCloseTo(1 / 3, 12);
    expect(shareRecorded(record({ wires: record().wires!.map((wire, i) => (i < 2 ? wire : { ...wire, leadsTo: 'unknown' as const })) }), false)).toBeCloseTo(2.5 / 3, 12);
    expect(shareRecorded({ system: { nominalV: 12 } }, false)).toBe(0);
  });

  it('of a starter is its data instead of where the wires lead', () => {
    const rec = record({ partClass: 'starter-motor', starter: { rotation: 'cw', pinionTeeth: 9, pinionModuleMm: 2.5 }, wires: [{ tag: '1', wasOn: 'B', end: { form: 'ring', holeMm: 8.4 } }] });
    expect(shareRecorded(rec, true)).toBeCloseTo((1 + 3 / 5 + 1) / 3, 12);
  });

  it('weighs less on a part with the terminals of the removed one, says so, as the bounds have it', () => {
    const { mounting: _mounting, ...rec } = record();
    const notes = new Notes();
    const [alike, other] = [relay('a'), relay('b', { terminals: relay('x').terminals.slice(0, 3) })].map((part) => chanceOfUnasked(rec, false, part, notes));
    expect(alike!).toBeGreaterThan(other!);
    expect(alike).toBe(chancesOfUnasked(rec, false).alike);
    expect([...notes.assumptions].join()).toMatch(/67 % of bolts, wires and their ends are recorded/);
    const { terminals: _terminals, ...unlisted } = rec;
    expect(chanceOfUnasked(unlisted, false, relay('a'), notes)).toBe(chancesOfUnasked(unlisted, false).alike);
  });
});
