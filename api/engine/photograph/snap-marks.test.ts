import { describe, expect, it } from 'vitest';
import type { GreyPicture } from './snap-edge.ts';
import { snapMarks } from './snap-marks.ts';

/** A card whose edge runs along y = 60.3, dark bench above it, and on it a black stripe of stronger contrast from `stripe` to `stripe + 12`. */
function drawStriped(stripe: number): GreyPicture {
  const [widthPx, heightPx] = [400, 140];
  const luminance = new Float32Array(widthPx * heightPx);
  for (let j = 0; j < heightPx; j++) {
    const share = Math.min(1, Math.max(0, j + 1 - 60.3));
    const level = j >= stripe && j < stripe + 12 ? 10 : 70 + 130 * share;
    luminance.fill(level, j * widthPx, (j + 1) * widthPx);
  }
  return { luminance, widthPx, heightPx };
}
const marks = (y0: number, y1: number, noisePx: number) => [{ xPx: 20, yPx: y0, noisePx }, { xPx: 380, yPx: y1, noisePx }];
const offEdge = (picture: GreyPicture, y0: number, y1: number, noisePx: number): number => {
  const snapped = snapMarks(picture, marks(y0, y1, noisePx));
  if (!snapped.ok) throw new Error(JSON.stringify(snapped.faults));
  return Math.abs(snapped.value.line.centre.y - 60.3);
};

describe('an edge marked by a finger', () => {
  it('is found from marks many pixels off it, askew', () => {
    expect(offEdge(drawStriped(200), 48, 71, 8)).toBeLessThan(0.05);
    expect(offEdge(drawStriped(200), 75, 76, 10)).toBeLessThan(0.05);
  });

  it('is the nearer of two, not the stronger', () => {
    expect(offEdge(drawStriped(85), 60, 61, 10)).toBeLessThan(0.05);
    expect(offEdge(drawStriped(85), 55, 66, 10)).toBeLessThan(0.05);
  });

  it('takes the two marks furthest apart', () => {
    const [a, b] = marks(59, 62, 2);
    const snapped = snapMarks(drawStriped(200), [a!, { xPx: 40, yPx: 20, noisePx: 2 }, b!]);
    expect(snapped.ok && Math.abs(snapped.value.line.centre.y - 60.3) < 0.05).toBe(true);
  });

  it('is refused with one mark, and where none shows', () => {
    expect(snapMarks(drawStriped(200), marks(60, 60, 2).slice(0, 1))).toMatchObject({ ok: false, faults: [{ found: '1 mark' }] });
    expect(snapMarks(drawStriped(200), marks(20, 21, 2))).toMatchObject({ ok: false, faults: [{ found: 'no clear edge near the marks' }] });
  });
});
