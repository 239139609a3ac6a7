import type { OrderKey } from './order-key.ts';

/** A binary heap of slots by the best place each can come to, then by rank; numbers alone, since most of what goes in never comes out. */
export class SlotHeap {
  #keys = new Float64Array(1024);
  #ranks = new Uint32Array(1024);
  #slots = new Uint32Array(1024);
  #sources = new Uint16Array(1024);
  #count = 0;

  get isEmpty(): boolean {
    return this.#count === 0;
  }

  /** of the first */
  get key(): OrderKey {
    return this.#keys[0]!;
  }

  get rank(): number {
    return this.#ranks[0]!;
  }

  get slot(): number {
    return this.#slots[0]!;
  }

  /** what the first was pushed with */
  get source(): number {
    return this.#sources[0]!;
  }

  push(key: OrderKey, rank: number, slot: number, source: number): void {
    if (this.#count === this.#keys.length) this.#grow();
    const keys = this.#keys;
    const ranks = this.#ranks;
    let at = this.#count++;
    while (at > 0) {
      const above = (at - 1) >> 1;
      if (keys[above]! < key || (keys[above] === key && ranks[above]! <= rank)) break;
      this.#move(above, at);
      at = above;
    }
    this.#put(at, key, rank, slot, source);
  }

  pop(): void {
    const count = --this.#count;
    if (count <= 0) return;
    const keys = this.#keys;
    const ranks = this.#ranks;
    const key = keys[count]!;
    const rank = ranks[count]!;
    let at = 0;
    for (;;) {
      let below = 2 * at + 1;
      if (below >= count) break;
      if (below + 1 < count && (keys[below + 1]! < keys[below]! || (keys[below + 1] === keys[below] && ranks[below + 1]! < ranks[below]!))) below++;
      if (keys[below]! > key || (keys[below] === key && ranks[below]! >= rank)) break;
      this.#move(below, at);
      at = below;
    }
    this.#put(at, key, rank, this.#slots[count]!, this.#sources[count]!);
  }

  #move(from: number, to: number): void {
    this.#keys[to] = this.#keys[from]!;
    this.#ranks[to] = this.#ranks[from]!;
    this.#slots[to] = this.#slots[from]!;
    this.#sources[to] = this.#sources[from]!;
  }

  #put(at: number, key: OrderKey, rank: number, slot: number, source: number): void {
    this.#keys[at] = key;
    this.#ranks[at] = rank;
    this.#slots[at] = slot;
    this.#sources[at] = source;
  }

  #grow(): void {
    const enlarge = <T extends Float64Array | Uint32Array | Uint16Array>(old: T, larger: T): T => {
      larger.set(old);
      return larger;
    };
    const room = 4 * this.#keys.length;
    this.#keys = enlarge(this.#keys, new Float64Array(room));
    this.#ranks = enlarge(this.#ranks, new Uint32Array(room));
    this.#slots = enlarge(this.#slots, new Uint32Array(room));
    this.#sources = enlarge(this.#sources, new Uint16Array(room));
  }
}
