import { describe, expect, it } from 'vitest';
import { fitCircle } from './fit-circle.ts';

describe('a circle through taps', () => {
  // Source: Gander, Golub and Strebel, Least-squares fitting of circles and ellipses, 1994: centre (4.7398, 2.9835), radius 4.7142 (data and result from memory).
  it('is the published one for the published points', () => {
    const spots = [[1, 7], [2, 6], [5, 8], [7, 7], [9, 5], [3, 7]].map(([x, y]) => ({ x: x!, y: y! }));
    const circle = fitCircle(spots)!;
    expect(circle.x).toBeCloseTo(4.7398, 4);
    expect(circle.y).toBeCloseTo(2.9835, 4);
    expect(circle.radius).toBeCloseTo(4.7142, 4);
  });

  it('passes exactly through three', () => {
    const circle = fitCircle([{ x: 1e4, y: 0 }, { x: 1e4 + 3, y: 4 }, { x: 1e4 + 6, y: 0 }])!;
    for (const spot of [{ x: 1e4, y: 0 }, { x: 1e4 + 3, y: 4 }]) expect(Math.hypot(spot.x - circle.x, spot.y - circle.y)).toBeCloseTo(circle.radius, 8);
  });

  it('is none on a line or in one place', () => {
    expect(fitCircle([{ x: 0, y: 0 }, { x: 1, y: 2 }, { x: 2, y: 4 }])).toBeUndefined();
    expect(fitCircle([{ x: 1, y: 1 }, { x: 1, y: 1 }, { x: 1, y: 1 }])).toBeUndefined();
  });
});
