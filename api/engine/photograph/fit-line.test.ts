import { describe, expect, it } from 'vitest';
import { crossLines, fitLine, moveLine } from './fit-line.ts';

describe('a line by total least squares', () => {
  // Source: Pearson, On lines and planes of closest fit to systems of points in space, 1901: y = 5.784 - 0.546 x (data and result from memory).
  it('is the published one for the published points', () => {
    const x = [0, 0.9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4];
    const y = [5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5];
    const line = fitLine(x.map((value, k) => ({ x: value, y: y[k]! })), 1)!;
    const slope = line.along.y / line.along.x;
    expect(slope).toBeCloseTo(-0.546, 3);
    expect(line.centre.y - slope * line.centre.x).toBeCloseTo(5.784, 3);
  });

  it('runs upright and askew as well as level', () => {
    expect(Math.abs(fitLine([{ x: 3, y: 0 }, { x: 3, y: 9 }], 1)!.along.y)).toBeCloseTo(1, 12);
    const askew = fitLine([{ x: 0, y: 0 }, { x: 1, y: 1 }, { x: 5, y: 5 }], 1)!;
    expect(askew.along.y / askew.along.x).toBeCloseTo(1, 12);
    for (const residual of askew.residuals) expect(residual).toBeCloseTo(0, 12);
  });

  it('is known across by noise over root n, and in direction by noise over the spread', () => {
    const line = fitLine([-30, -10, 10, 30].map((x) => ({ x, y: 4 })), 2)!;
    expect(line.offsetSigma).toBeCloseTo(1, 12);
    expect(line.turnSigma).toBeCloseTo(2 / Math.sqrt(2000), 12);
  });

  it('is none through marks in one place', () => {
    expect(fitLine([{ x: 3, y: 3 }, { x: 3, y: 3 }], 1)).toBeUndefined();
  });

  it('crosses another where both pass, moves across itself, and crosses no parallel', () => {
    const level = fitLine([{ x: 0, y: 2 }, { x: 8, y: 2 }], 1)!;
    const upright = fitLine([{ x: 5, y: -4 }, { x: 5, y: 9 }], 1)!;
    expect(crossLines(level, upright, 0.1)).toEqual({ x: expect.closeTo(5, 12), y: expect.closeTo(2, 12) });
    expect(crossLines(moveLine(level, level.along.x * 3, 0), upright, 0.1)?.y).toBeCloseTo(5, 12);
    expect(crossLines(level, moveLine(level, 1, 0.05), 0.1)).toBeUndefined();
  });
});
