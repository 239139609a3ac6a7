import { describe, expect, it } from 'vitest';
import { snapEdge, type GreyPicture } from './snap-edge.ts';

/** A picture cut by the line through (px, py) at an angle: dark on one side, light on the other, each pixel the mean of 8 x 8 samples. */
function drawEdge(px: number, py: number, angle: number, noise = 0, dark = 60, light = 200, seed = 0): GreyPicture {
  const [widthPx, heightPx] = [160, 120];
  let state = 12345 + seed;
  const random = () => (state = (Math.imul(state, 1664525) + 1013904223) >>> 0) / 2 ** 32;
  const luminance = new Float32Array(widthPx * heightPx);
  for (let j = 0; j < heightPx; j++) {
    for (let i = 0; i < widthPx; i++) {
      let share = 0;
      for (let k = 0; k < 64; k++) {
        const [x, y] = [i + ((k % 8) + 0.5) / 8, j + (Math.floor(k / 8) + 0.5) / 8];
        if ((y - py) * Math.cos(angle) - (x - px) * Math.sin(angle) > 0) share++;
      }
      luminance[j * widthPx + i] = dark + ((light - dark) * share) / 64 + noise * (random() + random() + random() - 1.5);
    }
  }
  return { luminance, widthPx, heightPx };
}

/** A mark on that line, so far along it from (px, py), and so far off it. */
const mark = (px: number, py: number, angle: number, along: number, off: number) =>
  ({ xPx: px + along * Math.cos(angle) - off * Math.sin(angle), yPx: py + along * Math.sin(angle) + off * Math.cos(angle) });
const offLine = (px: number, py: number, angle: number, { xPx, yPx }: { xPx: number; yPx: number }) => (yPx - py) * Math.cos(angle) - (xPx - px) * Math.sin(angle);

describe('an edge snapped to the picture', () => {
  it.each([0, 0.31, 0.8, Math.PI / 2, -0.5])('lies on the drawn edge to a twentieth of a pixel at %f rad, from marks pixels off it', (angle) => {
    const snapped = snapEdge(drawEdge(80.37, 60.81, angle), mark(80.37, 60.81, angle, -42, 3), mark(80.37, 60.81, angle, 42, -2.5));
    if (!snapped.ok) throw new Error(JSON.stringify(snapped.faults));
    const { centre } = snapped.value.line;
    expect(Math.abs(offLine(80.37, 60.81, angle, { xPx: centre.x, yPx: centre.y }))).toBeLessThan(0.05);
    expect(Math.abs(Math.sin(Math.atan2(snapped.value.line.along.y, snapped.value.line.along.x) - angle))).toBeLessThan(0.002);
  });

  it('states a noise that bears out in 40 noisy pictures: most lines within two sigma, none beyond four, and no sigma above a fifth of a pixel', () => {
    const ratios = Array.from({ length: 40 }, (_, k) => {
      const [px, py, angle] = [80 + 0.137 * k, 60 + 0.071 * k, 0.04 * k - 0.8];
      const snapped = snapEdge(drawEdge(px, py, angle, 30, 60, 200, k), mark(px, py, angle, -45, 2), mark(px, py, angle, 45, -2));
      if (!snapped.ok) throw new Error(JSON.stringify(snapped.faults));
      const { centre, offsetSigma } = snapped.value.line;
      expect(offsetSigma).toBeLessThan(0.2);
      return Math.abs(offLine(px, py, angle, { xPx: centre.x, yPx: centre.y })) / offsetSigma;
    });
    expect(ratios.filter((ratio) => ratio <= 2).length).toBeGreaterThanOrEqual(34);
    expect(Math.max(...ratios)).toBeLessThan(4);
  });

  it('takes bytes as well, and the other sense of contrast', () => {
    const drawn = drawEdge(80.4, 60.3, 0.1, 0, 210, 40);
    const snapped = snapEdge({ ...drawn, luminance: Uint8Array.from(drawn.luminance) }, mark(80.4, 60.3, 0.1, -40, 2), mark(80.4, 60.3, 0.1, 40, 2));
    expect(snapped.ok && Math.abs(offLine(80.4, 60.3, 0.1, { xPx: snapped.value.line.centre.x, yPx: snapped.value.line.centre.y })) < 0.05).toBe(true);
  });

  it('passes over a part that hides a piece of the edge', () => {
    const drawn = drawEdge(80.4, 60.25, 0);
    for (let j = 40; j < 90; j++) for (let i = 70; i < 84; i++) drawn.luminance[j * 160 + i] = j < 56 ? 20 : 255;
    const snapped = snapEdge(drawn, { xPx: 30, yPx: 62 }, { xPx: 130, yPx: 62 });
    expect(snapped.ok && Math.abs(snapped.value.line.centre.y - 60.25) < 0.05).toBe(true);
  });

  it('is refused where there is none: a blank picture, or noise alone', () => {
    for (const noise of [0, 40]) {
      const snapped = snapEdge(drawEdge(80, 60, 0, noise, 128, 128), { xPx: 30, yPx: 60 }, { xPx: 130, yPx: 60 });
      expect(!snapped.ok && snapped.faults[0]?.found).toBe('no clear edge near the marks');
    }
  });

  it('is refused where the marks are outside, too close, or the array is not the picture', () => {
    const drawn = drawEdge(80, 60, 0);
    expect(snapEdge(drawn, { xPx: -5, yPx: 60 }, { xPx: 130, yPx: 60 }).ok).toBe(false);
    expect(snapEdge(drawn, { xPx: 30, yPx: 60 }, { xPx: 36, yPx: 60 }).ok).toBe(false);
    expect(snapEdge({ ...drawn, heightPx: 121 }, { xPx: 30, yPx: 60 }, { xPx: 130, yPx: 60 }).ok).toBe(false);
    expect(snapEdge(drawn, { xPx: 30, yPx: 60 }, { xPx: 130, yPx: 60 }, 0).ok).toBe(false);
  });
});
