import { LOOK_CLASS, LOOKS } from './number-code.ts';
import { FAR, LOST, OTHER, SWAPPED } from './misreading.ts';

/** Codes of all entries one behind the other; entry e ends where `ends[e]` says and begins where the one before ends. */
export interface Entries { readonly codes: Uint8Array; readonly ends: Uint32Array }

/** So few entries are looked at one by one rather than split further. */
const FEW = 12;

/** Of each node side by side, so that looking at one is one reach into memory: where its entries begin and end, its first child (0: they are looked at one by one), how many children. */
const FIELDS = 4;
const [FROM, TO, FIRST_CHILD, CHILDREN] = [0, 1, 2, 3] as const;

interface Nodes {
  readonly fields: Uint32Array;
  /** what the last character under a node looks like; 0 where its entries have ended */
  readonly looks: Uint8Array;
}

/**
 * Entries sorted by what their characters look like, from the front or from the back, with a tree over them: a node is a run of entries
 * that begin alike. All in typed arrays; the codes are kept once more in this order, so that neighbours lie side by side.
 */
export class NumberTrie {
  /** in the order of this trie; from the back, each with its last character first */
  readonly entries: Entries;
  /** the entry, as it was given, at each place of this order; equal ones in the order they were given */
  readonly order: Uint32Array;
  readonly #nodes: Nodes;

  constructor(given: Entries, backward: boolean) {
    const { order, nodes } = sortEntries(given, backward);
    this.order = order;
    this.#nodes = nodes;
    this.entries = putInOrder(given, order, backward);
  }

  get bytes(): number {
    return [this.entries.codes, this.entries.ends, this.order, ...Object.values(this.#nodes)].reduce((sum, { byteLength }) => sum + byteLength, 0);
  }

  /** The places among which all that look like the codes stand. */
  rangeOf(read: Uint8Array): { from: number; to: number } {
    const { fields, looks } = this.#nodes;
    let node = 0;
    for (let depth = 0; fields[node * FIELDS + FIRST_CHILD] !== 0; depth++) {
      const wanted = depth < read.length ? LOOKS[read[depth]!]! : 0;
      const first = fields[node * FIELDS + FIRST_CHILD]!;
      let next = 0;
      for (let child = first, end = first + fields[node * FIELDS + CHILDREN]!; child < end; child++) if (looks[child] === wanted) next = child;
      if (next === 0) return { from: 0, to: 0 };
      node = next;
    }
    return { from: fields[node * FIELDS + FROM]!, to: fields[node * FIELDS + TO]! };
  }

  /**
   * Calls `take` with the place of every entry that may lie within `most` of what was read, such that the first half of it (seen from this
   * side) bears at most half of the misreading. What looks alike costs nothing here: `take` looks at the entry itself. It returns the
   * most that is still of use from then on.
   */
  search(read: Uint8Array, most: number, take: (place: number) => number, backward: boolean): void {
    this.#visit(new Search(read, most, take, backward), 0, 0, LOOSE);
  }

  #visit(walk: Search, node: number, depth: number, state: number): void {
    const { fields, looks } = this.#nodes;
    const place = node * FIELDS;
    const first = fields[place + FIRST_CHILD]!;
    if (first === 0) {
      this.#scan(walk, fields[place + FROM]!, fields[place + TO]!, depth, state);
      return;
    }
    for (let child = first, last = first + fields[place + CHILDREN]!; child < last; child++) {
      const look = looks[child]!;
      if (look === 0) {
        if (walk.ends(depth)) for (let at = fields[child * FIELDS + FROM]!, end = fields[child * FIELDS + TO]!; at < end; at++) walk.take(at);
      } else if (depth < walk.deepest && (state === LOOSE || walk.mayFollow(depth, look))) {
        const next = walk.step(depth, look);
        if (next !== DEAD) this.#visit(walk, child, depth + 1, next);
      }
    }
  }

  #scan(walk: Search, from: number, to: number, depth: number, state: number): void {
    const { codes, ends } = this.entries;
    for (let at = from, start = from === 0 ? 0 : ends[from - 1]!; at < to; at++) {
      const length = ends[at]! - start;
      if (length <= walk.deepest && length >= walk.shortest) {
        let now = state;
        for (let i = depth; now !== DEAD && i < length; i++) {
          const look = LOOKS[codes[start + i]!]!;
          now = now === LOOSE || walk.mayFollow(i, look) ? walk.step(i, look) : DEAD;
        }
        if (now !== DEAD && walk.ends(length)) walk.take(at);
      }
      start += length;
    }
  }
}

/** By runs of equal looks, one character after the other, until few are left of a run. */
function sortEntries({ codes, ends }: Entries, backward: boolean): { order: Uint32Array; nodes: Nodes } {
  const count = ends.length;
  const looksOf = (entry: number, depth: number): number => {
    const start = entry === 0 ? 0 : ends[entry - 1]!;
    const end = ends[entry]!;
    return depth >= end - start ? 0 : LOOKS[codes[backward ? end - 1 - depth : start + depth]!]!;
  };
  const order = Uint32Array.from({ length: count }, (_, entry) => entry);
  const sorted = new Uint32Array(count);
  const looksAt = new Uint8Array(count);
  const nodes = { from: [0], to: [count], firstChild: [0], children: [0], looks: [0] };
  const depths = [0];
  const counts = new Uint32Array(257);
  for (let node = 0; node < depths.length; node++) {
    const [from, to, depth] = [nodes.from[node]!, nodes.to[node]!, depths[node]!];
    if (to - from <= FEW || (node > 0 && nodes.looks[node] === 0)) continue;
    counts.fill(0);
    for (let at = from; at < to; at++) {
      const look = looksOf(order[at]!, depth);
      looksAt[at] = look;
      counts[look + 1]!++;
    }
    nodes.firstChild[node] = depths.length;
    let start = from;
    for (let look = 0; look < 256; look++) {
      const size = counts[look + 1]!;
      if (size === 0) continue;
      nodes.from.push(start);
      nodes.to.push(start + size);
      nodes.firstChild.push(0);
      nodes.children.push(0);
      nodes.looks.push(look);
      depths.push(depth + 1);
      nodes.children[node]!++;
      counts[look + 1] = start;
      start += size;
    }
    for (let at = from; at < to; at++) sorted[counts[looksAt[at]! + 1]!++] = order[at]!;
    order.set(sorted.subarray(from, to), from);
  }
  const fields = new Uint32Array(depths.length * FIELDS);
  for (let node = 0; node < depths.length; node++) {
    fields[node * FIELDS + FROM] = nodes.from[node]!;
    fields[node * FIELDS + TO] = nodes.to[node]!;
    fields[node * FIELDS + FIRST_CHILD] = nodes.firstChild[node]!;
    fields[node * FIELDS + CHILDREN] = nodes.children[node]!;
  }
  return { order, nodes: { fields, looks: Uint8Array.from(nodes.looks) } };
}

function putInOrder({ codes, ends }: Entries, order: Uint32Array, backward: boolean): Entries {
  const sorted = { codes: new Uint8Array(codes.length), ends: new Uint32Array(ends.length) };
  let used = 0;
  for (let at = 0; at < order.length; at++) {
    const entry = order[at]!;
    const start = entry === 0 ? 0 : ends[entry - 1]!;
    const end = ends[entry]!;
    if (backward) for (let from = end - 1; from >= start; from--) sorted.codes[used++] = codes[from]!;
    else for (let from = start; from < end; from++) sorted.codes[used++] = codes[from]!;
    sorted.ends[at] = used;
  }
  return sorted;
}

/** What may follow behind a character: nothing within reach; only characters of what was read nearby; any. */
const DEAD = 0;
const TIGHT = 1;
const LOOSE = 2;

/** The rows of one search, one for each character of the entries walked into; only the cells near the diagonal are worked out. */
class Search {
  readonly #looks: Uint8Array;
  readonly #path: Uint8Array;
  /** of each depth, the characters nearby: a bit for each class of looks */
  readonly #nearby: Uint32Array;
  readonly #rows: Uint8Array;
  /** cells on either side of the diagonal: so many characters may be lost or added */
  readonly #side: number;
  readonly #width: number;
  readonly #middle: number;
  readonly #half: number;
  #most: number;
  readonly #take: (entry: number) => number;
  readonly deepest: number;
  readonly shortest: number;

  constructor(read: Uint8Array, most: number, take: (entry: number) => number, backward: boolean) {
    const n = read.length;
    this.#looks = read.map((code) => LOOKS[code]!);
    if (backward) this.#looks.reverse();
    this.#side = Math.floor(most / LOST);
    this.#width = 2 * this.#side + 1;
    this.deepest = n + this.#side;
    this.shortest = n - this.#side;
    this.#path = new Uint8Array(this.deepest + 1);
    this.#nearby = Uint32Array.from({ length: this.deepest + 1 }, (_, depth) => {
      let bits = 0;
      for (let j = Math.max(0, depth - this.#side - 1); j <= depth + this.#side + 1 && j < n; j++) bits |= 1 << LOOK_CLASS[this.#looks[j]!]!;
      return bits;
    });
    // From the front the first half is the shorter one, from the back the longer: between them they are the whole.
    this.#middle = backward ? n - (n >> 1) : n >> 1;
    this.#half = most >> 1;
    this.#most = most;
    this.#take = take;
    this.#rows = new Uint8Array((this.deepest + 1) * this.#width).fill(FAR);
    for (let j = 0; j <= this.#side && j <= n; j++) this.#rows[this.#side + j] = j * LOST;
  }

  take(entry: number): void {
    this.#most = Math.min(this.#most, this.#take(entry));
  }

  /** Whether an entry that ends at this depth may lie within reach. */
  ends(depth: number): boolean {
    const cell = this.#looks.length - depth + this.#side;
    return cell >= 0 && cell < this.#width && this.#rows[depth * this.#width + cell]! <= this.#most;
  }

  /** Whether a character at `depth` is one of those read nearby. */
  mayFollow(depth: number, looks: number): boolean {
    return ((this.#nearby[depth]! >>> LOOK_CLASS[looks]!) & 1) === 1;
  }

  /** Works out the row behind a character at `depth` (from 0); what may follow. */
  step(depth: number, looks: number): number {
    const rows = this.#rows;
    const width = this.#width;
    const side = this.#side;
    const read = this.#looks;
    const n = read.length;
    const row = (depth + 1) * width;
    const last = row - width;
    const before = last - width;
    const [middle, half, most] = [this.#middle, this.#half, this.#most];
    const previous = depth > 0 ? this.#path[depth - 1]! : 0;
    this.#path[depth] = looks;
    let state = DEAD;
    // Cell k of row i is for j = i - side + k characters of what was read: straight above it in the row before is cell k + 1.
    for (let k = 0, j = depth + 1 - side; k < width; k++, j++) {
      if (j < 0 || j > n) {
        rows[row + k] = FAR;
        continue;
      }
      let cost = k + 1 < width ? rows[last + k + 1]! + LOST : FAR;
      if (j > 0) {
        const pair = rows[last + k]! + (read[j - 1] === looks ? 0 : OTHER);
        if (pair < cost) cost = pair;
        if (k > 0 && rows[row + k - 1]! + LOST < cost) cost = rows[row + k - 1]! + LOST;
        if (j > 1 && depth > 0 && looks === read[j - 2] && previous === read[j - 1]) {
          const swap = rows[before + k]! + SWAPPED;
          if (swap < cost) cost = swap;
        }
      }
      if (cost > FAR) cost = FAR;
      rows[row + k] = cost;
      const reach = j <= middle ? half : most;
      if (cost <= reach) {
        if (cost + LOST <= reach || cost + OTHER <= (j < middle ? half : most)) state = LOOSE;
        else if (state === DEAD) state = TIGHT;
      } else if (state === DEAD && j < n && j > 0 && looks === read[j] && rows[last + k]! + SWAPPED <= most && rows[last + k]! <= (j - 1 <= middle ? half : most)) {
        // This character and the next may be two that were swapped, which ends beyond the middle though this cell does not.
        state = TIGHT;
      }
    }
    return state;
  }
}
