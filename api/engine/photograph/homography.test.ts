import { describe, expect, it } from 'vitest';
import { applyHomography, estimateHomography, invertMatrix, multiplyMatrices, type Matrix3, type Spot } from './homography.ts';

const known: Matrix3 = [9.2, -1.4, 310, 2.1, -8.7, 940, 0.0011, -0.0007, 1];
const card: Spot[] = [{ x: -42.8, y: -26.99 }, { x: 42.8, y: -26.99 }, { x: 42.8, y: 26.99 }, { x: -42.8, y: 26.99 }];
const seen = (spots: readonly Spot[]) => spots.map((spot) => applyHomography(known, spot)!);
const expectSpot = (found: Spot | undefined, want: Spot, digits = 8) => {
  expect(found?.x).toBeCloseTo(want.x, digits);
  expect(found?.y).toBeCloseTo(want.y, digits);
};

describe('a homography from pairs', () => {
  it('is the known one again, away from the four pairs too', () => {
    const h = estimateHomography(card, seen(card))!;
    for (const spot of [{ x: 0, y: 0 }, { x: 90, y: -70 }, { x: -60, y: 31 }]) expectSpot(applyHomography(h, spot), applyHomography(known, spot)!);
  });

  it('is the known one from seven exact pairs', () => {
    const more = [...card, { x: 3, y: 70 }, { x: -77, y: 4 }, { x: 11, y: -9 }];
    expectSpot(applyHomography(estimateHomography(more, seen(more))!, { x: 90, y: -70 }), applyHomography(known, { x: 90, y: -70 })!);
  });

  // Closed form of the map from the unit square to any four-sided figure; source: Heckbert, Fundamentals of Texture Mapping and Image Warping, 1989, section 2.2.3 (from memory).
  it('agrees with the closed form for the unit square', () => {
    const square = [{ x: 0, y: 0 }, { x: 1, y: 0 }, { x: 1, y: 1 }, { x: 0, y: 1 }];
    const [p, q, r, s] = [{ x: 120, y: 80 }, { x: 940, y: 130 }, { x: 870, y: 700 }, { x: 60, y: 610 }] as const;
    const sum = { x: p.x - q.x + r.x - s.x, y: p.y - q.y + r.y - s.y };
    const [a, b] = [{ x: q.x - r.x, y: q.y - r.y }, { x: s.x - r.x, y: s.y - r.y }];
    const below = a.x * b.y - b.x * a.y;
    const g = (sum.x * b.y - b.x * sum.y) / below;
    const h = (a.x * sum.y - sum.x * a.y) / below;
    const closed = [q.x - p.x + g * q.x, s.x - p.x + h * s.x, p.x, q.y - p.y + g * q.y, s.y - p.y + h * s.y, p.y, g, h, 1];
    const found = estimateHomography(square, [p, q, r, s])!;
    for (const [k, value] of closed.entries()) expect(found[k]! / found[8]).toBeCloseTo(value, 7);
  });

  // Source: the cross-ratio of four spots on a line is kept by every projection: Hartley and Zisserman, Multiple View Geometry, section 2.5 (from memory).
  it('keeps the cross-ratio of four spots on a line', () => {
    const h = estimateHomography(card, seen(card))!;
    const [a, b, c, d] = [0, 10, 25, 60].map((t) => applyHomography(h, { x: t, y: 0.4 * t - 7 })!) as [Spot, Spot, Spot, Spot];
    const apart = (p: Spot, q: Spot) => Math.hypot(p.x - q.x, p.y - q.y);
    expect((apart(a, c) * apart(b, d)) / (apart(a, d) * apart(b, c))).toBeCloseTo((25 * 50) / (60 * 15), 9);
  });

  // Source: Hartley and Zisserman, algorithm 4.2: with normalisation the answer does not depend on where and how large the picture's units are (from memory).
  it('does not depend on the units of the picture, even with pairs that do not quite fit', () => {
    const rough = [...seen(card), { x: 500, y: 420 }];
    const from = [...card, { x: 11, y: 50 }];
    const h = estimateHomography(from, rough)!;
    const shifted = estimateHomography(from, rough.map(({ x, y }) => ({ x: 1e-3 * x + 5000, y: 1e-3 * y - 900 })))!;
    const back: Matrix3 = [1e3, 0, -5e6, 0, 1e3, 9e5, 0, 0, 1];
    expectSpot(applyHomography(multiplyMatrices(back, shifted), { x: 60, y: 60 }), applyHomography(h, { x: 60, y: 60 })!, 3);
  });

  it('is none where three spots are on a line, two in one place, or a pair is missing', () => {
    const onLine = [{ x: 0, y: 0 }, { x: 1, y: 1 }, { x: 2, y: 2 }, { x: 0, y: 5 }];
    expect(estimateHomography(onLine, seen(card))).toBeUndefined();
    expect(estimateHomography([card[0]!, card[0]!, card[2]!, card[3]!], seen(card))).toBeUndefined();
    expect(estimateHomography(card.slice(1), seen(card).slice(1))).toBeUndefined();
  });

  it('goes back by its inverse, and has none where it is flat', () => {
    const back = invertMatrix(known)!;
    expectSpot(applyHomography(back, applyHomography(known, { x: 7, y: -3 })!), { x: 7, y: -3 });
    expect(invertMatrix([1, 2, 3, 2, 4, 6, 1, 0, 1])).toBeUndefined();
  });

  it('takes a spot on or beyond the horizon nowhere', () => {
    const h: Matrix3 = [1, 0, 0, 0, 1, 0, 0, -0.01, 1];
    expect(applyHomography(h, { x: 0, y: 100 }, 1)).toBeUndefined();
    expect(applyHomography(h, { x: 0, y: 101 }, 1)).toBeUndefined();
    expect(applyHomography(h, { x: 0, y: 99 }, 1)).toBeDefined();
  });
});
