import { normaliseNumber } from '../normalise-number.ts';
import type { PartSource } from './part-source.ts';

/** Parts by their ids without case and separators: one table of ranks, probed from where the text hashes to. */
export class IdTable {
  readonly #source: PartSource;
  /** rank + 1; 0 is free */
  readonly #table: Uint32Array;

  constructor(source: PartSource) {
    this.#source = source;
    const table = new Uint32Array(2 ** Math.ceil(Math.log2(source.count * 1.5 + 2)));
    for (let rank = 0; rank < source.count; rank++) {
      let place = hashLoosely(source.idAt(rank)) & (table.length - 1);
      while (table[place] !== 0) place = (place + 1) & (table.length - 1);
      table[place] = rank + 1;
    }
    this.#table = table;
  }

  get bytes(): number {
    return this.#table.byteLength;
  }

  ranksOf(normalised: string): number[] {
    const found: number[] = [];
    const table = this.#table;
    for (let place = hashLoosely(normalised) & (table.length - 1); table[place] !== 0; place = (place + 1) & (table.length - 1)) {
      const rank = table[place]! - 1;
      if (normaliseNumber(this.#source.idAt(rank)) === normalised) found.push(rank);
    }
    return found;
  }
}

/** FNV-1a over what `normaliseNumber` leaves, without making a text of plain ASCII. */
function hashLoosely(id: string): number {
  let hash = 0x811c9dc5;
  for (let index = 0; index < id.length; index++) {
    let unit = id.charCodeAt(index);
    if (unit > 127) return hashPlainly(normaliseNumber(id));
    if (unit >= 97 && unit <= 122) unit -= 32;
    if ((unit >= 48 && unit <= 57) || (unit >= 65 && unit <= 90)) hash = Math.imul(hash ^ unit, 0x01000193);
  }
  return spread(hash);
}

function hashPlainly(normalised: string): number {
  let hash = 0x811c9dc5;
  for (let index = 0; index < normalised.length; index++) hash = Math.imul(hash ^ normalised.charCodeAt(index), 0x01000193);
  return spread(hash);
}

/** The low bits hang on all others. */
function spread(hash: number): number {
  const mixed = Math.imul(hash ^ (hash >>> 16), 0x85ebca6b);
  return (mixed ^ (mixed >>> 13)) >>> 0;
}
