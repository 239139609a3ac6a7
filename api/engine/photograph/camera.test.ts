import { describe, expect, it } from 'vitest';
import { centreHomography, findFocal, placeCamera } from './camera.ts';
import type { Matrix3 } from './homography.ts';

// A camera of 1800 px focal length, 240 mm from the card's middle along its axis, tilted by 30 degrees about the card's x axis;
// the picture is 2000 x 1500 px. In the card's frame it stands at (0, -240 sin 30, 240 cos 30). The matrix is written out by hand.
const [f, d, s, c] = [1800, 240, 0.5, Math.sqrt(0.75)];
const tilted: Matrix3 = [f, 1000 * s, 1000 * d, 0, 750 * s - f * c, 750 * d, 0, s, d];
const flat: Matrix3 = [f, 0, 1000 * d, 0, -f, 750 * d, 0, 0, d];

describe('the camera behind a homography', () => {
  it('stands where it was put', () => {
    const place = placeCamera(centreHomography(tilted, 2000, 1500), f);
    expect(place.xMm).toBeCloseTo(0, 8);
    expect(place.yMm).toBeCloseTo(-120, 8);
    expect(place.zMm).toBeCloseTo(240 * c, 8);
  });

  it('stands there whatever the scale and sign of the homography', () => {
    const place = placeCamera(centreHomography(tilted.map((value) => -0.03 * value) as unknown as Matrix3, 2000, 1500), f);
    expect(place.zMm).toBeCloseTo(240 * c, 8);
    expect(place.yMm).toBeCloseTo(-120, 8);
  });

  it('shows its focal length when it is tilted', () => {
    const { focalPx, lnSigma } = findFocal(centreHomography(tilted, 2000, 1500), [], 2000);
    expect(Math.abs(Math.log(focalPx / f))).toBeLessThan(0.03);
    expect(lnSigma).toBeLessThan(0.05);
  });

  it('leaves the focal length to the table when it looks straight down', () => {
    const { focalPx, lnSigma } = findFocal(centreHomography(flat, 2000, 1500), [], 2000);
    expect(focalPx).toBeGreaterThan(1500);
    expect(focalPx).toBeLessThan(1900);
    expect(lnSigma).toBeGreaterThan(0.35);
  });
});
