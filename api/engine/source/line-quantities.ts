/** So many units or the next whole packs above. */
export function toPacks(units: number, pack: number): number {
  return pack === 1 ? units : Math.ceil(units / pack) * pack;
}

/** The least whole packs from `first` to `last` whose goods reach an amount; goods rise with the quantity. */
export function reachGoods(wantedMinor: number, first: number, last: number, pack: number, goodsOf: (qty: number) => number): number | undefined {
  if (first > last) return undefined;
  if (goodsOf(first) >= wantedMinor) return first;
  const most = Math.floor((last - first) / pack);
  let below = 0;
  let above = 1;
  // Doubling, then halving: the quantity may be any, and a price of nothing never reaches.
  while (above < most && goodsOf(first + above * pack) < wantedMinor) {
    below = above;
    above *= 2;
  }
  above = Math.min(above, most);
  if (above < 1 || goodsOf(first + above * pack) < wantedMinor) return undefined;
  while (above - below > 1) {
    const middle = Math.floor((below + above) / 2);
    if (goodsOf(first + middle * pack) < wantedMinor) below = middle;
    else above = middle;
  }
  return first + above * pack;
}
