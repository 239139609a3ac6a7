import { measureCard, measureDistance, snapEdge, type EdgeMarks } from '../../api/engine/photograph/index.ts';
import { drawCard } from './draw-card.ts';
import { addLength, emptyTally, type Tally } from './judge-photographs.ts';
import { createRandom, drawPhotograph } from './pinhole.ts';

/** Figures over drawn photographs: each edge is marked at its two ends some 2 px off, then snapped to the brightness. */
export function judgeSnapping(count: number, seed: number): { refused: number; spacing: Tally } {
  const random = createRandom(seed);
  const spacing = emptyTally();
  let refused = 0;
  for (let k = 0; k < count; k++) {
    const photograph = drawPhotograph(random, { wide: 180, raisedMm: 0, edgeNoisePx: 2, edgeMarks: 4, tapNoisePx: 1 });
    const picture = { luminance: drawCard(photograph, random, 6), widthPx: photograph.widthPx, heightPx: photograph.heightPx };
    const edges: EdgeMarks[] = [];
    for (const marks of photograph.edges) {
      const snapped = snapEdge(picture, marks[0]!, marks.at(-1)!);
      if (snapped.ok) edges.push(snapped.value.marks);
    }
    const plane = edges.length === 4 ? measureCard({ picture, edges }) : undefined;
    if (!plane?.ok) {
      refused++;
      continue;
    }
    const { holes } = photograph;
    for (let i = 0; i < holes.length; i++) {
      for (let j = i + 1; j < holes.length; j++) {
        const [a, b] = [holes[i]!, holes[j]!];
        const measured = measureDistance(plane.value, { ...a.tap, noisePx: 1 }, { ...b.tap, noisePx: 1 });
        addLength(spacing, measured, Math.hypot(a.xMm - b.xMm, a.yMm - b.yMm), 0.5);
      }
    }
  }
  return { refused, spacing };
}
