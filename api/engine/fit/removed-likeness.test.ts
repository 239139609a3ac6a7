import { describe, expect, it } from 'vitest';
import type { BenchRecord, Part } from '../../../catalog-schema/index.ts';
import { Notes } from './finding.ts';
import { checkMounting, PlacementFinder } from './mounting.ts';
import { hasSameTerminals } from './removed-likeness.ts';
import { record, relay } from './sample-bench.ts';

const studs = (thread: string): Part => relay('p', { terminals: relay('x').terminals.map((t) => (t.form === 'stud' ? { ...t, thread } : t)) });
const read = (more: (old: NonNullable<BenchRecord['terminals']>[number]) => object): BenchRecord => record({ terminals: record().terminals!.map(({ id, form, at }) => ({ id, form, at, ...more({ id, form }) })) });

describe('the likeness of a part to the removed one', () => {
  it('is not known without a list of terminals, and taken for granted of a part that has none', () => {
    expect(hasSameTerminals({ system: { nominalV: 12 } }, relay('p'))).toBeUndefined();
    expect(hasSameTerminals(record(), relay('p', { terminals: [] }))).toBe(true);
  });

  it('asks for as many terminals of each form', () => {
    expect(hasSameTerminals(read(() => ({})), relay('p'))).toBe(true);
    expect(hasSameTerminals(read(() => ({})), relay('p', { terminals: relay('x').terminals.slice(0, 3) }))).toBe(false);
  });

  it('asks each size that was read to agree: an M8 stud measures a little under 8 mm', () => {
    const measured = (majorDiameterMm: number): BenchRecord => read(({ form }) => (form === 'stud' ? { majorDiameterMm } : {}));
    expect(hasSameTerminals(measured(7.85), studs('M8x1.25'))).toBe(true);
    expect(hasSameTerminals(measured(7.85), studs('M6x1'))).toBe(false);
    expect(hasSameTerminals(measured(7.85), studs('M10x1.5'))).toBe(false);
    const pitched = read(({ form }) => (form === 'stud' ? { majorDiameterMm: 7.85, pitchMm: 1.25 } : {}));
    expect(hasSameTerminals(pitched, studs('M8x1.25'))).toBe(true);
    expect(hasSameTerminals(read(({ form }) => (form === 'stud' ? { thread: '5/16-18' } : {})), studs('M8x1.25'))).toBe(false);
    const tabs = (tabWidthMm: number): BenchRecord => read(({ form }) => (form === 'tab' ? { tabWidthMm } : {}));
    expect([hasSameTerminals(tabs(6.3), relay('p')), hasSameTerminals(tabs(4.8), relay('p'))]).toEqual([true, false]);
  });

  it('speaks for bolts that nobody recorded, and decides no check', () => {
    const { mounting: _mounting, ...unbolted } = record();
    const { terminals: _terminals, ...unlisted } = unbolted;
    const judge = (rec: BenchRecord, part: Part) => checkMounting(rec, part, new PlacementFinder(undefined), new Notes()).finding;
    expect(judge(unbolted, relay('p'))).toMatchObject({ outcome: 'unknown', fromSetting: 'unboltedAlikeHolds' });
    expect(judge(unbolted, studs('M10x1.5'))).toMatchObject({ outcome: 'unknown', fromSetting: 'unboltedUnlikeHolds' });
    expect(judge(unlisted, relay('p'))).toMatchObject({ outcome: 'unknown', fromSetting: 'unboltedHolds' });
  });
});
