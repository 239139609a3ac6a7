import { describe, expect, it } from 'vitest';
import { PX_PER_MM_TRUE, boundsMm, fitInto, hullOf, lengthInside, overlapArea, placeAngleDeg, placePoint, toSheet } from './geometry.ts';

const near = (p: { xMm: number; yMm: number }, x: number, y: number): void => {
  expect(p.xMm).toBeCloseTo(x, 9);
  expect(p.yMm).toBeCloseTo(y, 9);
};

describe('placing a part in the machine', () => {
  it('turns counter-clockwise about the part’s origin and then shifts', () => {
    near(placePoint({ xMm: 10, yMm: 0 }, { rotationDeg: 90, flipped: false, shiftMm: [1, 2] }), 1, 12);
    near(placePoint({ xMm: 3, yMm: 4 }, { rotationDeg: 180, flipped: false, shiftMm: [0, 0] }), -3, -4);
  });

  it('flips x before it turns, as the contract orders', () => {
    near(placePoint({ xMm: 10, yMm: 5 }, { rotationDeg: 0, flipped: true, shiftMm: [0, 0] }), -10, 5);
    near(placePoint({ xMm: 10, yMm: 0 }, { rotationDeg: 90, flipped: true, shiftMm: [0, 0] }), 0, -10);
  });

  it('keeps all distances, flipped or not', () => {
    const [a, b] = [{ xMm: -7, yMm: 2.5 }, { xMm: 11, yMm: -4 }];
    for (const flipped of [false, true]) {
      const [p, q] = [a, b].map((x) => placePoint(x, { rotationDeg: 37, flipped, shiftMm: [5, -9] })) as [typeof a, typeof b];
      expect(Math.hypot(p.xMm - q.xMm, p.yMm - q.yMm)).toBeCloseTo(Math.hypot(18, 6.5), 9);
    }
  });

  it('turns a slot’s direction with the part, whichever end is named', () => {
    expect(placeAngleDeg(30, { rotationDeg: 90, flipped: false, shiftMm: [0, 0] })).toBeCloseTo(120);
    expect(placeAngleDeg(30, { rotationDeg: 0, flipped: true, shiftMm: [0, 0] })).toBeCloseTo(150);
    expect(placeAngleDeg(170, { rotationDeg: 20, flipped: false, shiftMm: [0, 0] })).toBeCloseTo(10);
  });
});

describe('the sheet', () => {
  it('has y downward and the scale it was given', () => {
    expect(toSheet({ xMm: 2, yMm: 3 }, { scale: 10, origin: { x: 100, y: 100 } })).toEqual({ x: 120, y: 70 });
  });

  it('is true to size at 96 px to the inch', () => {
    // CSS Values and Units Level 4, section 6.2: 1in = 96px, 1mm = 1in / 25.4.
    expect(PX_PER_MM_TRUE * 25.4).toBeCloseTo(96, 12);
  });

  it('fits a box into its frame, centred, within both directions', () => {
    const projection = fitInto({ left: -30, right: 30, bottom: -10, top: 10 }, { left: 0, right: 300, top: 0, bottom: 400 }, 100);
    expect(projection.scale).toBeCloseTo(5);
    expect(toSheet({ xMm: 0, yMm: 0 }, projection)).toEqual({ x: 150, y: 200 });
    expect(fitInto({ left: 0, right: 1, bottom: 0, top: 1 }, { left: 0, right: 300, top: 0, bottom: 300 }, 6).scale).toBe(6);
  });

  it('gives a box of its own to nothing at all', () => {
    const box = boundsMm([]);
    expect(box.right - box.left).toBeGreaterThan(0);
  });
});

describe('boxes and lines', () => {
  it('measures what two boxes share, nothing where they only touch', () => {
    const a = { left: 0, top: 0, right: 10, bottom: 10 };
    expect(overlapArea(a, { left: 5, top: 5, right: 20, bottom: 20 })).toBe(25);
    expect(overlapArea(a, { left: 10, top: 0, right: 20, bottom: 10 })).toBe(0);
  });

  it('measures how far a line runs inside a box', () => {
    const box = { left: 0, top: 0, right: 10, bottom: 10 };
    expect(lengthInside({ x: -5, y: 5 }, { x: 15, y: 5 }, box)).toBeCloseTo(10);
    expect(lengthInside({ x: -5, y: 20 }, { x: 15, y: 20 }, box)).toBe(0);
    expect(lengthInside({ x: 0, y: 0 }, { x: 10, y: 10 }, box)).toBeCloseTo(Math.SQRT2 * 10);
  });

  it('draws the hull round the outermost points only', () => {
    const hull = hullOf([{ xMm: 0, yMm: 0 }, { xMm: 4, yMm: 0 }, { xMm: 2, yMm: 1 }, { xMm: 4, yMm: 3 }, { xMm: 0, yMm: 3 }]);
    expect(hull).toHaveLength(4);
    expect(hull).not.toContainEqual({ xMm: 2, yMm: 1 });
  });
});
