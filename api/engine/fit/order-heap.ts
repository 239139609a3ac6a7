import type { OrderKey } from './order-key.ts';

/** A place in the order, or the best it can still come to; ties by rank (place in order of id). */
export interface Placed {
  readonly key: OrderKey;
  readonly rank: number;
}

export function comparePlaced(a: Placed, b: Placed): number {
  return a.key - b.key || a.rank - b.rank;
}

/** A binary heap: the first in order is at hand. */
export class OrderHeap<T extends Placed> {
  readonly #items: T[] = [];

  get first(): T | undefined {
    return this.#items[0];
  }

  push(item: T): void {
    const items = this.#items;
    let at = items.length;
    items.push(item);
    while (at > 0) {
      const above = (at - 1) >> 1;
      if (comparePlaced(items[above]!, item) <= 0) break;
      items[at] = items[above]!;
      at = above;
    }
    items[at] = item;
  }

  pop(): T | undefined {
    const items = this.#items;
    const first = items[0];
    const last = items.pop();
    if (last === undefined || items.length === 0) return first;
    let at = 0;
    for (;;) {
      let below = 2 * at + 1;
      if (below >= items.length) break;
      if (below + 1 < items.length && comparePlaced(items[below + 1]!, items[below]!) < 0) below++;
      if (comparePlaced(items[below]!, last) >= 0) break;
      items[at] = items[below]!;
      at = below;
    }
    items[at] = last;
    return first;
  }
}
