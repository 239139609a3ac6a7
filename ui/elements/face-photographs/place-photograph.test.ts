import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { JobPhotograph, PhotographThing } from '../../../catalog-schema/index.ts';
import { findPin, pinsOf, placePhotograph, type Affine, type Pin } from './place-photograph.ts';

const through = ([a, b, c, d, e, f]: Affine, x: number, y: number): [number, number] => [a * x + c * y + e, b * x + d * y + f];

describe('pins of a picture', () => {
  const thing = (terminal: string, ...marks: [number, number][]): PhotographThing => ({ what: 'terminal', terminal, by: 'middle', marks: marks.map(([xPx, yPx]) => ({ xPx, yPx, noisePx: 1 })) });
  const photograph: JobPhotograph = {
    name: 'face.jpg', at: '2026-03-01T09:30:00Z', widthPx: 2048, heightPx: 1536,
    things: { 'terminal B': thing('B', [100, 200]), 'terminal M': thing('M', [300, 200], [320, 220]), 'terminal X': thing('X', [1, 1]), h: { what: 'hole', by: 'middle', marks: [{ xPx: 5, yPx: 5, noisePx: 1 }] } },
  };

  it('are the middles of what was marked on terminals that the record has', () => {
    expect(pinsOf(photograph, [{ id: 'B' }, { id: 'M' }])).toEqual([{ id: 'B', xPx: 100, yPx: 200 }, { id: 'M', xPx: 310, yPx: 210 }]);
  });

  it('are found by a tap near enough', () => {
    const pins = pinsOf(photograph, [{ id: 'B' }, { id: 'M' }]);
    expect(findPin(pins, { xPx: 290, yPx: 205 }, 40)?.id).toBe('M');
    expect(findPin(pins, { xPx: 200, yPx: 205 }, 40)).toBeUndefined();
    expect(findPin([], { xPx: 0, yPx: 0 }, 40)).toBeUndefined();
  });
});

describe('a picture beneath the drawing', () => {
  it('comes to lie with its two pins on their terminals, upright', () => {
    const terminals = [{ id: 'B', at: { xMm: -16, yMm: 0 } }, { id: 'M', at: { xMm: 16, yMm: 0 } }];
    const map = placePhotograph([{ id: 'B', xPx: 400, yPx: 700 }, { id: 'M', xPx: 1040, yPx: 700 }], terminals)!;
    expect(through(map, 400, 700).map((value) => value + 0)).toEqual([-16, 0]);
    expect(through(map, 1040, 700)).toEqual([16, 0]);
    // up in the picture is up in the drawing: 20 px a millimetre
    expect(through(map, 720, 500)).toEqual([0, 10]);
  });

  it('is laid exactly by pins that any turn, size and shift has moved', () => {
    fc.assert(fc.property(fc.double({ min: -3, max: 3, noNaN: true }), fc.double({ min: 0.01, max: 2, noNaN: true }), fc.array(fc.tuple(fc.integer({ min: 0, max: 2048 }), fc.integer({ min: 0, max: 2048 })), { minLength: 2, maxLength: 6 }), (turn, size, places) => {
      fc.pre(new Set(places.map(String)).size > 1);
      const [c, s] = [size * Math.cos(turn), size * Math.sin(turn)];
      const pins: Pin[] = places.map(([xPx, yPx], k) => ({ id: `T${k}`, xPx, yPx }));
      const terminals = pins.map(({ id, xPx, yPx }) => ({ id, at: { xMm: c * xPx + s * yPx + 7, yMm: s * xPx - c * yPx - 3 } }));
      const map = placePhotograph(pins, terminals)!;
      for (const [k, pin] of pins.entries()) {
        const [x, y] = through(map, pin.xPx, pin.yPx);
        expect(Math.hypot(x - terminals[k]!.at.xMm, y - terminals[k]!.at.yMm)).toBeLessThan(1e-6);
      }
    }));
  });

  it('is not laid by one pin, by two on one spot, or by pins of terminals without a place', () => {
    const terminals = [{ id: 'B', at: { xMm: 0, yMm: 0 } }, { id: 'M', at: { xMm: 10, yMm: 0 } }, { id: 'S' }];
    expect(placePhotograph([{ id: 'B', xPx: 1, yPx: 1 }], terminals)).toBeUndefined();
    expect(placePhotograph([{ id: 'B', xPx: 1, yPx: 1 }, { id: 'M', xPx: 1, yPx: 1 }], terminals)).toBeUndefined();
    expect(placePhotograph([{ id: 'B', xPx: 1, yPx: 1 }, { id: 'S', xPx: 90, yPx: 1 }], terminals)).toBeUndefined();
  });
});
