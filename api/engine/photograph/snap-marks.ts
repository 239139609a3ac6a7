import type { PhotographMark, Read } from '../../../catalog-schema/index.ts';
import { settingOf } from '../settings.ts';
import { refuse } from './card.ts';
import { snapEdge, type GreyPicture, type SnappedEdge } from './snap-edge.ts';

const [LEAST_REACH_PX, MOST_REACH_PX] = [8, 100];

/**
 * Snaps an edge marked by hand, up to its rounded corners or not: first as wide as the marks may be off, the nearer of several edges
 * before the stronger (a card has stripes and print), then closely about the line found, so that the slope is taken straight across it.
 * @param marks two or more; the two furthest apart count
 * Cost: two of `snapEdge`.
 */
export function snapMarks(picture: GreyPicture, marks: readonly PhotographMark[]): Read<SnappedEdge> {
  const pair = findFurthest(marks);
  if (!pair) return refuse('marks', `${marks.length === 1 ? '1 mark' : 'no mark'}`, 'two marks, far apart on one straight edge');
  const inset = settingOf('snapInset');
  const between = (share: number) => ({ xPx: pair[0].xPx + share * (pair[1].xPx - pair[0].xPx), yPx: pair[0].yPx + share * (pair[1].yPx - pair[0].yPx) });
  const [from, to] = [between(inset), between(1 - inset)];
  const noise = Math.max(pair[0].noisePx, pair[1].noisePx);
  const reach = (times: number) => Math.min(MOST_REACH_PX, Math.max(LEAST_REACH_PX, times * noise));
  const rough = snapEdge(picture, from, to, reach(settingOf('snapReach')), Math.max(noise, LEAST_REACH_PX / settingOf('snapReach')));
  if (!rough.ok) return rough;
  const { centre, along } = rough.value.line;
  const onLine = ({ xPx, yPx }: { xPx: number; yPx: number }) => {
    const t = (xPx - centre.x) * along.x + (yPx - centre.y) * along.y;
    return { xPx: centre.x + t * along.x, yPx: centre.y + t * along.y };
  };
  return snapEdge(picture, onLine(from), onLine(to), LEAST_REACH_PX);
}

function findFurthest(marks: readonly PhotographMark[]): [PhotographMark, PhotographMark] | undefined {
  let best: { pair: [PhotographMark, PhotographMark]; apart: number } | undefined;
  for (const [k, a] of marks.entries()) {
    for (const b of marks.slice(k + 1)) {
      const apart = Math.hypot(a.xPx - b.xPx, a.yPx - b.yPx);
      if (best === undefined || apart > best.apart) best = { pair: [a, b], apart };
    }
  }
  return best?.pair;
}
