import Fuse from 'fuse.js';
import type { Catalogue, FindAnswer, Replacements } from '../../../catalog-schema/index.ts';
import { normaliseNumber } from '../normalise-number.ts';
import { describeSetting } from '../settings.ts';
import type { Snapshot } from '../snapshot/index.ts';
import { listOtherForms, readTradeNumber, type TradeNumber } from './check-digit.ts';
import { listChanges } from './misreading.ts';
import { codesOf } from './number-code.ts';
import { NumberIndex, type NumberEntry } from './number-index.ts';
import { sourceOfParts, sourceOfSnapshot, type PartSource } from './part-source.ts';
import { ShopFindings } from './shop-findings.ts';
import { followSupersession } from './supersession.ts';
import { WordIndex } from './word-index.ts';

type Hit = FindAnswer['hits'][number];
type How = Hit['how'];

/** Hits that are listed at most: a person looks at a screenful. */
const MOST_HITS = 50;
/** So many parts by their numbers are enough: further ones are looked for further away only while there are fewer. */
const ENOUGH = 10;
/** Near numbers listed at most. */
const MOST_NEAR = 20;
/** Numbers that share something with the one asked, ranked by Fuse.js. */
const MOST_SHARING = 100;
/** Fuse.js distance beyond which two numbers are not alike: about one character in three. */
const NEAR = 0.34;
const LONGEST_PATTERN = 32;

// Scores: what is the number itself, then claims (with what the shop found, up or down), then near numbers by their misreading, then those that share a part of it, and words.
const SCORE = { same: 1, normalised: 0.95, replaces: 0.9, near: 0.85, sharing: 0.5 } as const;
/** What the shop found moves a claim by at most half of this. */
const SHOP_ON_CLAIM = 0.08;
/** The same of words, as a share of the score. */
const SHOP_ON_WORDS = 0.1;

const CLAIM_CAUTION = 'A claim that a part replaces another is somebody\'s word: compare the parts with a bench record.';
const NEAR_CAUTION = 'The number as it was read is not in the catalogue; near ones are listed: compare with what is stamped on the part.';

/** Answers look-ups of one catalogue from an index that is made once. */
export class Finder {
  readonly #source: PartSource;
  readonly #numbers: NumberIndex;
  /** made when words are first asked for */
  #words: WordIndex | undefined;
  #findings: { readonly of: Replacements; readonly findings: ShopFindings } | undefined;

  constructor(catalogue: Catalogue | Snapshot) {
    this.#source = 'rowsById' in catalogue ? sourceOfSnapshot(catalogue) : sourceOfParts(catalogue);
    this.#numbers = new NumberIndex(this.#source);
  }

  /** Bytes of the index, words included where they were asked for. */
  get indexBytes(): number {
    return this.#numbers.bytes + (this.#words?.bytes ?? 0);
  }

  /**
   * Parts by number or words, each once, the number itself first: as written; without case and separators (leading zeros count); claims of
   * replacing it, and what the shop itself fitted in its place; numbers it is likely a misreading of, and others near to it; words of title and class.
   * `shop` is what the shop found of parts.
   */
  find(text: string, shop: Replacements = []): FindAnswer {
    const asked = text.trim();
    const trade = readTradeNumber(asked);
    const forms = trade ? [asked, trade.digits, ...(trade.right ? listOtherForms(trade) : [])] : [asked];
    const search = new Search(this.#source, this.#findingsOf(shop));
    for (const [at, form] of forms.entries()) this.#addSame(search, asked, form, at === 0);
    const wanted = normaliseNumber(trade?.digits ?? asked);
    const exact = search.count > 0;
    if (wanted !== '') this.#addNear(search, wanted);
    if (wanted !== '') this.#addWords(search, asked);
    return answerOf(search.list(), trade, exact);
  }

  #findingsOf(shop: Replacements): ShopFindings {
    if (this.#findings?.of !== shop) this.#findings = { of: shop, findings: new ShopFindings(shop, this.#source) };
    return this.#findings.findings;
  }

  #addSame(search: Search, asked: string, form: string, asWritten: boolean): void {
    const wanted = normaliseNumber(form);
    if (wanted === '') return;
    for (const entry of this.#numbers.findSame(codesOf(wanted), wanted)) {
      const how = entry.claim ? 'replaces' : asWritten && entry.number === asked ? 'same' : 'normalised';
      search.add(entry, how, how === 'replaces' ? SCORE.replaces + SHOP_ON_CLAIM * (search.trustIn(entry.rank, wanted) - 0.5) : SCORE[how], wanted);
    }
    // What the shop fitted in place of this number and what held is as good as anybody's claim.
    for (const { rank, number } of search.findings.heldFor(wanted)) {
      search.add({ rank, number, issuer: '' }, 'replaces', SCORE.replaces + SHOP_ON_CLAIM * (search.trustIn(rank, wanted) - 0.5), wanted);
    }
  }

  #addNear(search: Search, wanted: string): void {
    const read = codesOf(wanted);
    const characters = [...wanted];
    for (const { entry, cost, likely } of this.#numbers.findNear(read, wanted, ENOUGH)) {
      if (search.nearCount >= MOST_NEAR) break;
      const changes = listChanges(read, characters, codesOf(entry.number), [...normaliseNumber(entry.number)]);
      // Cost is in quarters of a character.
      search.add(entry, likely ? 'likely-misread' : 'similar', SCORE.near * (1 - cost / 4 / (characters.length + 1)), wanted, changes);
    }
    if (search.count >= ENOUGH) return;
    const sharing = this.#numbers.findSharing(read, MOST_SHARING).map((entry) => ({ entry, number: normaliseNumber(entry.number) }));
    const ranked = new Fuse(sharing, { keys: ['number'], includeScore: true, threshold: NEAR, ignoreLocation: true }).search(characters.slice(0, LONGEST_PATTERN).join(''));
    for (const { item: { entry, number }, score = 1 } of ranked) {
      // Of numbers that hold all of it the one with least besides is the nearest.
      search.add(entry, 'similar', SCORE.sharing * (1 - score) * (0.5 + Math.min(characters.length, number.length) / Math.max(characters.length, number.length) / 2), wanted);
    }
    for (const { entry, number } of sharing) {
      if (wanted.includes(number)) search.add(entry, 'similar', SCORE.sharing * (number.length / wanted.length), wanted);
    }
  }

  #addWords(search: Search, asked: string): void {
    this.#words ??= new WordIndex(this.#source);
    for (const { rank, score } of this.#words.find(asked)) {
      const { id, numbers: [first] } = this.#source.namesAt(rank);
      search.add({ rank, number: first?.number ?? id, issuer: first?.issuer ?? '' }, 'words', score * (1 + SHOP_ON_WORDS * (search.trustIn(rank, undefined) - 0.5)));
    }
  }
}

/** Parts by number or words; `Finder` keeps its index for the next question. */
export function find(text: string, catalogue: Catalogue, shop: Replacements = []): FindAnswer {
  return new Finder(catalogue).find(text, shop);
}

interface Found { readonly hit: Omit<Hit, 'currentIds'>; readonly rank: number }
interface Listed { readonly hit: Hit; readonly circle: readonly string[]; readonly missing: readonly string[] }

/** The hits of one question: of each part the best. */
class Search {
  readonly findings: ShopFindings;
  readonly #source: PartSource;
  readonly #found = new Map<number, Found>();
  nearCount = 0;

  constructor(source: PartSource, findings: ShopFindings) {
    this.#source = source;
    this.findings = findings;
  }

  get count(): number {
    return this.#found.size;
  }

  trustIn(rank: number, wanted: string | undefined): number {
    return this.findings.trustIn(this.#source.idAt(rank), wanted);
  }

  add({ rank, number, issuer, claim }: NumberEntry, how: How, score: number, wanted?: string, changes?: Hit['changes']): void {
    const rounded = Math.round(Math.max(0, Math.min(1, score)) * 1e6) / 1e6;
    const present = this.#found.get(rank);
    if (present && (present.hit.score > rounded || (present.hit.score === rounded && present.hit.number <= number))) return;
    if (!present && changes) this.nearCount++;
    const partId = this.#source.idAt(rank);
    const shop = this.findings.of(partId, wanted);
    this.#found.set(rank, {
      rank,
      hit: { partId, number, issuer, how, score: rounded, ...(claim === undefined ? {} : { claim }), ...(shop === undefined ? {} : { shop }), ...(changes === undefined ? {} : { changes }) },
    });
  }

  list(): Listed[] {
    return [...this.#found.values()].sort((a, b) => b.hit.score - a.hit.score || a.rank - b.rank).slice(0, MOST_HITS).map(({ hit, rank }) => {
      const { currentIds, circle, missing } = followSupersession(this.#source, rank);
      const { how, score, number, partId, issuer, ...more } = hit;
      return { hit: { partId, number, issuer, how, score, currentIds, ...more }, circle, missing };
    });
  }
}

function answerOf(listed: readonly Listed[], trade: TradeNumber | undefined, exact: boolean): FindAnswer {
  const hits = listed.map(({ hit }) => hit);
  const near = hits.some(({ changes }) => changes !== undefined);
  const circles = new Set(listed.filter(({ circle }) => circle.length > 0).map(({ circle }) => circle.join(', ')));
  const missing = new Set(listed.flatMap((each) => each.missing));
  return {
    hits,
    cautions: [
      ...(trade && !trade.right && (!exact || trade.name !== 'GTIN-8') ? [sayWrongCheck(trade)] : []),
      ...(hits.some(({ claim }) => claim !== undefined) ? [CLAIM_CAUTION] : []),
      ...(!exact && near ? [NEAR_CAUTION] : []),
      ...[...circles].map((ids) => `The catalogue says of ${ids} that they supersede one another in a circle: ask the supplier which one is current.`),
      ...[...missing].sort().map((id) => `The catalogue says that ${JSON.stringify(id)} took the place of a part listed here, but does not have it.`),
    ],
    assumptions: near ? (['findConfused', 'findSwapped', 'findLost', 'findLikely', 'findFurthest'] as const).map(describeSetting) : [],
  };
}

function sayWrongCheck({ name, digits, check }: TradeNumber): string {
  return `${digits} has the length of a ${name}, but not its check digit: after ${digits.slice(0, -1)} comes ${check}, not ${digits.at(-1)!}. If it is one, a digit was misread: scan or read it again.`;
}
