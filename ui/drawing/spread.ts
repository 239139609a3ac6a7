/**
 * Places on a line as near as can be to where each would like to be (least squares), in the order given, at least `gapAfter[i]`
 * from its successor and all within [low, high].
 * @param wanted places in rising order, px
 * @param gapAfter least distance from place i to place i + 1, px; one shorter than `wanted`
 * @returns the places; when the line is too short for all gaps, every gap is shortened alike.
 * Pool-adjacent-violators: subtract the running gaps, fit a rising sequence, add them back.
 */
export function spreadApart(wanted: readonly number[], gapAfter: readonly number[], low: number, high: number): number[] {
  const n = wanted.length;
  if (n === 0) return [];
  const need = gapAfter.slice(0, n - 1).reduce((sum, gap) => sum + gap, 0);
  const squeeze = need > high - low && need > 0 ? Math.max(0, high - low) / need : 1;
  const run: number[] = [0];
  for (let i = 1; i < n; i++) run.push(run[i - 1]! + (gapAfter[i - 1] ?? 0) * squeeze);

  const blocks: { sum: number; count: number }[] = [];
  wanted.forEach((want, i) => {
    blocks.push({ sum: want - run[i]!, count: 1 });
    while (blocks.length > 1) {
      const [before, last] = [blocks.at(-2)!, blocks.at(-1)!];
      if (before.sum / before.count <= last.sum / last.count) break;
      blocks.splice(-2, 2, { sum: before.sum + last.sum, count: before.count + last.count });
    }
  });
  const top = high - run[n - 1]!;
  const places: number[] = [];
  for (const block of blocks) {
    const level = Math.min(Math.max(block.sum / block.count, low), Math.max(top, low));
    for (let k = 0; k < block.count; k++) places.push(level + run[places.length]!);
  }
  return places;
}

/** How labels lie along one edge: rows of boxes, the lines to farther rows running between the nearer boxes. */
export type LabelRow = Readonly<{ lane: number; row: number; left: number; right: number }>;

/**
 * Lays labels along an edge of a sheet so that none covers another nor the line to another.
 * @param wanted where each line would like to reach the edge, rising, px
 * @param width of the sheet, px; `boxWidth` of one label; `gap` kept between a box and a neighbour's line
 * @returns for each: the x of its line, its row (0 is nearest the drawing) and its box; `null` when they do not fit in two rows.
 */
export function layLabelRows(wanted: readonly number[], width: number, boxWidth: number, gap: number): LabelRow[] | null {
  const n = wanted.length;
  const half = boxWidth / 2;
  if (n * boxWidth + (n - 1) * gap <= width) {
    const centres = spreadApart(wanted, Array<number>(n).fill(boxWidth + gap), half, width - half);
    return centres.map((centre, i) => {
      const left = centre - half;
      const lane = Math.min(Math.max(wanted[i]!, left + 12), left + boxWidth - 12);
      return { lane, row: 0, left, right: left + boxWidth };
    });
  }
  // Two rows in turn; of the two ways to begin, the one with fewer labels in the near row needs the least width.
  for (const first of n % 2 === 1 ? [1, 0] : [0, 1]) {
    const rowOf = (i: number): number => (i + first) % 2;
    const gaps = Array<number>(n).fill(half + gap);
    const [low, high] = [rowOf(0) === 0 ? half : gap, rowOf(n - 1) === 0 ? width - half : width - gap];
    if ((n - 1) * (half + gap) > high - low) continue;
    const lanes = spreadApart(wanted, gaps, low, high);
    const farLanes = lanes.filter((_, i) => rowOf(i) === 1);
    const farCentres = spreadApart(farLanes, Array<number>(farLanes.length).fill(boxWidth + 4), half, width - half);
    const fits = farCentres.every((centre, i) => Math.abs(centre - farLanes[i]!) <= half - 4
      && (i === 0 || centre - farCentres[i - 1]! >= boxWidth + 3.99));
    if (!fits) continue;
    let far = 0;
    return lanes.map((lane, i) => {
      const centre = rowOf(i) === 0 ? lane : farCentres[far++]!;
      return { lane, row: rowOf(i), left: centre - half, right: centre + half };
    });
  }
  return null;
}
