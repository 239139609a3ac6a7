import type { SectionArray } from './section-file.ts';

/** A typed array that is filled one value at a time. */
export class GrowingArray<T extends Exclude<SectionArray, Uint8Array | Uint16Array>> {
  #values: T;
  length = 0;

  constructor(first: T) {
    this.#values = first;
  }

  push(value: number): void {
    if (this.length === this.#values.length) {
      const Type = this.#values.constructor as new (length: number) => T;
      const larger = new Type(Math.max(1024, this.length * 2));
      larger.set(this.#values);
      this.#values = larger;
    }
    this.#values[this.length++] = value;
  }

  /** What was filled in; a view, good until the next push. */
  get values(): T {
    return this.#values.subarray(0, this.length) as T;
  }
}
