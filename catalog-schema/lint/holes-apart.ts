import type { MountingHole } from '../part.ts';
import type { LintRule } from './lint-rule.ts';

export const holesApart: LintRule = {
  name: 'holes-apart',
  description: 'No two mounting holes run into one another, and together they span no more than 1.5 times the body (common practice, no source).',
  check({ parts }) {
    return parts.flatMap((part) => {
      const holes = part.mounting?.holes ?? [];
      const found = holes.flatMap((one, i) => holes.slice(i + 1).flatMap((other, j) =>
        gapBetween(one, other) > (one.diameterMm + other.diameterMm) / 2 ? [] : [{ where: part.id, words: `holes ${i} and ${i + 1 + j} run into one another` }]));
      if (!part.body || holes.length === 0) return found;
      const most = 1.5 * Math.max(part.body.lengthMm, part.body.widthMm);
      const points = holes.flatMap(pointsAlong);
      const span = Math.max(spread(points.map(([x]) => x)), spread(points.map(([, y]) => y)));
      return span <= most ? found : [...found, { where: part.id, words: `holes span ${span.toFixed(1)} mm, the body allows ${most.toFixed(1)} mm` }];
    });
  },
};

/** Steps along a slot that are looked at; a slot of 20 mm is looked at every millimetre. */
const STEPS = 20;

function pointsAlong({ xMm, yMm, slotMm = 0, slotAngleDeg = 0 }: MountingHole): [number, number][] {
  if (slotMm === 0) return [[xMm, yMm]];
  const angle = (slotAngleDeg * Math.PI) / 180;
  return Array.from({ length: STEPS + 1 }, (_, i) => {
    const along = (i / STEPS - 0.5) * slotMm;
    return [xMm + along * Math.cos(angle), yMm + along * Math.sin(angle)];
  });
}

function gapBetween(one: MountingHole, other: MountingHole): number {
  const others = pointsAlong(other);
  return Math.min(...pointsAlong(one).flatMap(([x, y]) => others.map(([u, v]) => Math.hypot(x - u, y - v))));
}

function spread(values: readonly number[]): number {
  return Math.max(...values) - Math.min(...values);
}
