import { describe, expect, it } from 'vitest';
import type { MachineMounting, Mounting } from '../../../catalog-schema/index.ts';
import { findPlacement, HoleNeeds } from './index.ts';

// Distances of hole patterns worked out by hand.

const machine: MachineMounting = { holes: [{ xMm: 0, yMm: 0, diameterMm: 6.5 }, { xMm: 50, yMm: 0, diameterMm: 6.5 }], boltMm: 6 };
const part = (...spots: [number, number, number][]): Mounting => ({ holes: spots.map(([xMm, yMm, diameterMm]) => ({ xMm, yMm, diameterMm })), drillable: true });

describe('what any placement needs', () => {
  it('is no hole where the distances agree, turned or not', () => {
    expect(new HoleNeeds(machine).leastNewHoles(part([0, 0, 6.5], [0, 50.4, 6.5]))).toBe(0);
  });

  it('is a hole where they are out by more than the room of both bolts', () => {
    // Half a millimetre in the diameter is a quarter off centre, at each of the two.
    expect(new HoleNeeds(machine).leastNewHoles(part([0, 0, 6.5], [50.6, 0, 6.5]))).toBe(1);
    expect(new HoleNeeds({ ...machine, plusMinusMm: 0.1 }).leastNewHoles(part([0, 0, 6.5], [50.6, 0, 6.5]))).toBe(0);
  });

  it('pass surely only where the uncertainty of the bolts may be against them', () => {
    const needs = new HoleNeeds({ ...machine, plusMinusMm: 0.1 });
    expect([needs.leastNewHoles(part([0, 0, 6.5], [50.4, 0, 6.5])), needs.leastNewHoles(part([0, 0, 6.5], [50.4, 0, 6.5]), true)]).toEqual([0, 1]);
    expect([needs.leastNewHoles(part([0, 0, 6.5], [50.25, 0, 6.5])), needs.leastNewHoles(part([0, 0, 6.5], [50.25, 0, 6.5]), true)]).toEqual([0, 0]);
  });

  it('is a hole a bolt that is too thick for every hole', () => {
    expect(new HoleNeeds(machine).leastNewHoles(part([0, 0, 5.9], [50, 0, 5.9]))).toBe(2);
    expect(new HoleNeeds(machine).leastNewHoles(part([0, 0, 5.9], [50, 0, 6.5]))).toBe(1);
  });

  it('gives a lone bolt no room for its uncertainty', () => {
    const lone = { holes: [{ xMm: 0, yMm: 0, diameterMm: 6.5 }], boltMm: 6, plusMinusMm: 0.5 };
    expect(new HoleNeeds(lone).leastNewHoles(part([0, 0, 5.9]))).toBe(1);
    expect(findPlacement(lone, part([0, 0, 5.9])).outcome).toBe('work');
  });

  it('is impossible where nothing may be drilled, or only the panel and the part has too few holes', () => {
    const wide = { ...part([0, 0, 6.5], [70, 0, 6.5]), drillable: false };
    expect(new HoleNeeds(machine).leastNewHoles(wide)).toBeUndefined();
    expect(new HoleNeeds({ ...machine, drillable: true }).leastNewHoles(wide)).toBe(1);
    expect(new HoleNeeds({ ...machine, drillable: true }).leastNewHoles({ ...part([0, 0, 6.5]), drillable: false })).toBeUndefined();
  });
});
