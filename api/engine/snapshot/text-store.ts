import { GrowingArray } from './growing-array.ts';
import { decodeText, encodeTextInto } from './text-coding.ts';

const MOST_BYTES = 0xffffffff;

/** Texts one behind the other as UTF-8; each is found by its number. */
export class TextStore {
  readonly #ends = new GrowingArray(new Uint32Array(0));
  #bytes = new Uint8Array(1 << 16);
  #used = 0;

  add(text: string): void {
    // UTF-16 to UTF-8 takes at most three bytes a code unit.
    const room = this.#used + text.length * 3;
    if (room > this.#bytes.length) {
      const larger = new Uint8Array(Math.max(room, this.#bytes.length * 2));
      larger.set(this.#bytes.subarray(0, this.#used));
      this.#bytes = larger;
    }
    this.#used += encodeTextInto(text, this.#bytes.subarray(this.#used));
    if (this.#used > MOST_BYTES) throw new Error('more than 4 GB of text do not go into one snapshot');
    this.#ends.push(this.#used);
  }

  /** The bytes and where each text ends. */
  finish(): { bytes: Uint8Array; ends: Uint32Array } {
    return { bytes: this.#bytes.subarray(0, this.#used), ends: this.#ends.values };
  }

  /** The same in another order: the text that stood at `order[i]` stands at i. */
  finishInOrder(order: Uint32Array): { bytes: Uint8Array; ends: Uint32Array } {
    const from = this.finish();
    const bytes = new Uint8Array(from.bytes.length);
    const ends = new Uint32Array(order.length);
    let used = 0;
    for (let i = 0; i < order.length; i++) {
      const at = order[i]!;
      const start = at === 0 ? 0 : from.ends[at - 1]!;
      const end = from.ends[at]!;
      // A call a part costs more than the few bytes it copies.
      for (let byte = start; byte < end; byte++) bytes[used++] = from.bytes[byte]!;
      ends[i] = used;
    }
    return { bytes, ends };
  }
}

/** Texts of a file, read one at a time. */
export class StoredTexts {
  readonly #bytes: Uint8Array;
  readonly #ends: Uint32Array;

  constructor(bytes: Uint8Array, ends: Uint32Array) {
    this.#bytes = bytes;
    this.#ends = ends;
  }

  get count(): number {
    return this.#ends.length;
  }

  at(index: number): string {
    return decodeText(this.#bytes.subarray(index === 0 ? 0 : this.#ends[index - 1]!, this.#ends[index]!));
  }
}

/** Texts that are the same for many parts, each kept once; a text's code is the order in which it first came. */
export class TextDictionary {
  readonly #codes = new Map<string, number>();
  readonly #store = new TextStore();

  codeOf(text: string): number {
    let code = this.#codes.get(text);
    if (code === undefined) {
      this.#codes.set(text, code = this.#codes.size);
      this.#store.add(text);
    }
    return code;
  }

  get size(): number {
    return this.#codes.size;
  }

  finish(): { bytes: Uint8Array; ends: Uint32Array } {
    return this.#store.finish();
  }
}
