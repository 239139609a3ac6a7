import { describe, expect, it } from 'vitest';
import { judgePhotographs } from './judge-photographs.ts';
import { judgeSnapping } from './judge-snapping.ts';

// A small fixed sample of the figures `photographs.ts` gives over 500 photographs.
const setting = { wide: 180, raisedMm: 0, edgeNoisePx: 0.5, edgeMarks: 6, tapNoisePx: 1 };

describe('60 simulated photographs', () => {
  const { refused, turned, spacing } = judgePhotographs(60, 7, setting);

  it('are all measured, none with the card taken the wrong way round', () => {
    expect([refused, turned]).toEqual([0, 0]);
  });

  it('give the spacing of two holes within 0.5 mm in 95 of 100', () => {
    expect(spacing.within / spacing.count).toBeGreaterThanOrEqual(0.95);
  });

  it('state a half-width that covers the truth about 95 times in 100', () => {
    expect(spacing.covered / spacing.count).toBeGreaterThan(0.92);
    expect(spacing.covered / spacing.count).toBeLessThan(0.985);
  });

  it('widen it for holes above the card, where the camera is not known', () => {
    const raised = judgePhotographs(20, 7, { ...setting, raisedMm: 12 }).spacing;
    expect(raised.covered / raised.count).toBeGreaterThan(0.92);
  });
});

describe('two drawn photographs', () => {
  it('are measured by snapping each edge to the brightness, from marks pixels off it', () => {
    const { refused, spacing } = judgeSnapping(2, 5);
    expect(refused).toBe(0);
    expect(spacing.within).toBe(12);
    expect(spacing.covered).toBeGreaterThanOrEqual(10);
  });
});
