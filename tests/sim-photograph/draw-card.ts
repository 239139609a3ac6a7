import { drawNormal, type Photograph } from './pinhole.ts';

// Brightness of a photograph of a light card with rounded corners on a dark bench, as a camera's sensor gathers it. Imports nothing of the product.

const [HALF_LONG, HALF_SHORT, ROUNDED] = [42.8, 26.99, 3.18];
const [BENCH, CARD] = [70, 190];
/** a pixel further from the outline than this shows one side of it only: no pixel is so large */
const NEAR_MM = 0.5;

/** Row by row, 0 to 255: each pixel gathers `fine` x `fine` rays, then noise of so many levels (sigma) is added. */
export function drawCard(photograph: Photograph, random: () => number, noiseLevels: number, fine = 4): Uint8Array {
  const { widthPx, heightPx } = photograph;
  const levels = new Uint8Array(widthPx * heightPx);
  for (let j = 0; j < heightPx; j++) {
    for (let i = 0; i < widthPx; i++) {
      const beyond = measureBeyond(photograph.seeThrough({ xPx: i + 0.5, yPx: j + 0.5 }));
      let share = beyond < 0 ? 1 : 0;
      if (Math.abs(beyond) < NEAR_MM) {
        let count = 0;
        for (let k = 0; k < fine * fine; k++) {
          if (measureBeyond(photograph.seeThrough({ xPx: i + ((k % fine) + 0.5) / fine, yPx: j + (Math.floor(k / fine) + 0.5) / fine })) < 0) count++;
        }
        share = count / (fine * fine);
      }
      levels[j * widthPx + i] = Math.min(255, Math.max(0, Math.round(BENCH + (CARD - BENCH) * share + noiseLevels * drawNormal(random))));
    }
  }
  return levels;
}

/** How far a place lies outside the card's outline, mm; below zero inside. */
function measureBeyond([x, y]: readonly [number, number]): number {
  const [dx, dy] = [Math.abs(x) - (HALF_LONG - ROUNDED), Math.abs(y) - (HALF_SHORT - ROUNDED)];
  return Math.hypot(Math.max(0, dx), Math.max(0, dy)) + Math.min(0, Math.max(dx, dy)) - ROUNDED;
}
