import Fuse from 'fuse.js';
import { GrowingArray } from '../snapshot/index.ts';
import type { PartSource } from './part-source.ts';

/** Parts that hold every word, at most so many looked at closer. */
const MOST_FOUND = 300;
/** Fuse.js takes patterns of up to 32 characters. */
const LONGEST_PATTERN = 32;
/** Words that begin as the one asked, at most. */
const MOST_WORDS = 400;
/** Words near to one that nobody uses: looked for among so many words at most, and so many taken. */
const MOST_FUZZY_AMONG = 20_000;
const MOST_FUZZY = 5;
/** A question with more words than these is no title, and one with more unknown words than these none of this catalogue. */
const MOST_ASKED = 16;
const MOST_UNKNOWN = 3;
/** Fuse.js distance beyond which two words are not near: about one letter in three. */
const NEAR = 0.34;
/** Score of a title that is what was asked. */
const BEST = 0.5;

/** Words of titles and classes: which parts hold them. */
export class WordIndex {
  readonly #source: PartSource;
  readonly #words: readonly string[];
  /** parts of a word, by its place in the list of words */
  readonly #starts: Uint32Array;
  readonly #ranks: Uint32Array;

  constructor(source: PartSource) {
    this.#source = source;
    const codes = new Map<string, number>();
    // Titles are alike by the thousand: each is cut into words once.
    const titles = new Map<string, Uint32Array>();
    const pairs = { word: new GrowingArray(new Uint32Array(source.count * 6)), rank: new GrowingArray(new Uint32Array(source.count * 6)) };
    for (let rank = 0; rank < source.count; rank++) {
      const { title, partClass } = source.namesAt(rank);
      const key = `${partClass} ${title}`;
      let words = titles.get(key);
      if (!words) {
        words = Uint32Array.from(new Set(wordsOf(title, partClass)), (word) => {
          const code = codes.get(word) ?? codes.size;
          codes.set(word, code);
          return code;
        });
        if (titles.size < 50_000) titles.set(key, words);
      }
      for (const word of words) {
        pairs.word.push(word);
        pairs.rank.push(rank);
      }
    }
    this.#words = [...codes.keys()].sort();
    const place = new Uint32Array(codes.size);
    this.#words.forEach((word, at) => { place[codes.get(word)!] = at; });
    const starts = new Uint32Array(codes.size + 1);
    for (const word of pairs.word.values) starts[place[word]! + 1]!++;
    for (let word = 0; word < codes.size; word++) starts[word + 1]! += starts[word]!;
    const next = starts.slice();
    const ranks = new Uint32Array(pairs.rank.length);
    for (let pair = 0; pair < ranks.length; pair++) ranks[next[place[pairs.word.values[pair]!]!]!++] = pairs.rank.values[pair]!;
    this.#starts = starts;
    this.#ranks = ranks;
  }

  /** Bytes of the arrays and, at two a character, of the words. */
  get bytes(): number {
    return this.#starts.byteLength + this.#ranks.byteLength + this.#words.reduce((sum, word) => sum + 2 * word.length, 0);
  }

  /** Parts whose title and class hold every word that was asked, in order of id; a word that begins one stands for it, one that nobody uses for its like. */
  find(asked: string): { rank: number; score: number }[] {
    const words = [...new Set(cutWords(asked))];
    if (words.length === 0 || words.length > MOST_ASKED) return [];
    const known = words.map((word) => this.#beginningWith(word));
    if (known.filter((places) => places.length === 0).length > MOST_UNKNOWN) return [];
    const lists = known.map((places, at) => (places.length > 0 ? places : this.#nearTo(words[at]!)));
    const sizes = lists.map((places) => places.reduce((sum, at) => sum + this.#starts[at + 1]! - this.#starts[at]!, 0));
    if (sizes.some((size) => size === 0)) return [];
    // The rarest word first: the others are only looked up for its parts.
    const [rarest, ...others] = lists.map((places, at) => ({ places, size: sizes[at]! })).toSorted((a, b) => a.size - b.size);
    const candidates = this.#partsOf(rarest!.places);
    const found: number[] = [];
    for (const rank of candidates) {
      if (others.every(({ places }) => places.some((at) => this.#holds(at, rank)))) found.push(rank);
      if (found.length === MOST_FOUND) break;
    }
    return this.#score(asked, words, found);
  }

  #score(asked: string, words: readonly string[], found: readonly number[]): { rank: number; score: number }[] {
    const texts = found.map((rank) => ({ rank, title: this.#source.namesAt(rank).title }));
    const closeness = new Map(new Fuse(texts, { keys: ['title'], includeScore: true, ignoreLocation: true, threshold: 1 })
      .search([...asked].slice(0, LONGEST_PATTERN).join('')).map(({ item, score = 1 }) => [item.rank, 1 - score]));
    const letters = words.reduce((sum, word) => sum + word.length, 0);
    return texts.map(({ rank, title }) => ({ rank, score: BEST * (Math.min(1, letters / Math.max(1, title.length)) + (closeness.get(rank) ?? 0)) / 2 }));
  }

  /** Places of the words that begin so. */
  #beginningWith(word: string): number[] {
    const places: number[] = [];
    for (let at = lowerBound(this.#words, word); at < this.#words.length && places.length < MOST_WORDS && this.#words[at]!.startsWith(word); at++) places.push(at);
    return places;
  }

  /** Places of words spelled nearly so. */
  #nearTo(word: string): number[] {
    if (!/^\p{L}{4,}$/u.test(word) || this.#words.length > MOST_FUZZY_AMONG) return [];
    return new Fuse(this.#words, { includeScore: true, threshold: NEAR }).search(word.slice(0, LONGEST_PATTERN), { limit: MOST_FUZZY }).map(({ refIndex }) => refIndex);
  }

  /** In order of id. */
  #partsOf(places: readonly number[]): Uint32Array {
    const runs = places.map((at) => this.#ranks.subarray(this.#starts[at]!, this.#starts[at + 1]!));
    if (runs.length === 1) return runs[0]!;
    const all = new Uint32Array(runs.reduce((sum, run) => sum + run.length, 0));
    let used = 0;
    for (const run of runs) {
      all.set(run, used);
      used += run.length;
    }
    return all.sort().filter((rank, at, ranks) => at === 0 || rank !== ranks[at - 1]);
  }

  #holds(word: number, rank: number): boolean {
    let low = this.#starts[word]!;
    let high = this.#starts[word + 1]!;
    while (low < high) {
      const middle = (low + high) >>> 1;
      if (this.#ranks[middle]! < rank) low = middle + 1;
      else high = middle;
    }
    return low < this.#starts[word + 1]! && this.#ranks[low] === rank;
  }
}

function wordsOf(title: string, partClass: string): string[] {
  return [...cutWords(title), ...partClass.split('-')];
}

/** Words in small letters; a unit behind a number is a word of its own, as it is written with a blank. */
function cutWords(text: string): string[] {
  return text.normalize('NFKC').toLowerCase().replace(/(\d)(v|a|w|kw|mm|ohms?)\b/g, '$1 $2').split(/[^\p{L}\p{N}.]+/u)
    .map((word) => word.replace(/^\.+|\.+$/g, '')).filter((word) => word !== '');
}

function lowerBound(words: readonly string[], word: string): number {
  let low = 0;
  let high = words.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (words[middle]! < word) low = middle + 1;
    else high = middle;
  }
  return low;
}
