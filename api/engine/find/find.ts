import Fuse from 'fuse.js';
import type { Catalogue, FindAnswer, Part } from '../../../catalog-schema/index.ts';
import { normaliseNumber } from '../normalise-number.ts';

type Hit = FindAnswer['hits'][number];

/** Near numbers and words that are listed at most: a person looks at a screenful. */
const MOST_HITS = 50;
/** Fuse.js distance beyond which two numbers are not near: about one character in three. */
const NEAR = 0.34;

const RANK: Readonly<Record<Hit['how'], number>> = { same: 0, normalised: 1, replaces: 2, 'likely-misread': 3, similar: 4, words: 5 };

/**
 * Parts by number or words: the number itself; without case and separators (leading zeros count); claims of replacing it (evidence, no
 * more); then, only where none of these hit, near numbers; then words of the title.
 * `currentIds` follows every supersession to the parts that have none; more than one is a kit.
 */
export function find(text: string, catalogue: Catalogue): FindAnswer {
  const asked = text.trim();
  const wanted = normaliseNumber(asked);
  if (wanted === '') return { hits: [], cautions: [], assumptions: [] };
  const byId = new Map(catalogue.map((part) => [part.id, part]));
  const hits: Hit[] = [];
  const add = (part: Part, number: string, issuer: string, how: Hit['how'], score: number): void => {
    hits.push({ partId: part.id, number, issuer, how, score: Math.round(score * 1e6) / 1e6, currentIds: followSupersession(part, byId) });
  };

  for (const part of catalogue) {
    for (const { number, issuer } of part.numbers ?? []) {
      if (number === asked) add(part, number, issuer, 'same', 1);
      else if (normaliseNumber(number) === wanted) add(part, number, issuer, 'normalised', 0.95);
    }
    if (part.id === asked) add(part, part.id, '', 'same', 1);
    for (const { number, issuer } of part.replaces ?? []) {
      if (normaliseNumber(number) === wanted) add(part, number, issuer, 'replaces', 0.9);
    }
  }
  if (hits.length === 0) {
    for (const { part, number, issuer, score } of findNear(wanted, catalogue)) add(part, number, issuer, 'similar', score);
  }
  const named = new Set(hits.map(({ partId }) => partId));
  for (const { part, score } of findWords(asked, catalogue)) if (!named.has(part.id)) add(part, part.numbers?.[0]?.number ?? part.id, part.numbers?.[0]?.issuer ?? '', 'words', score);

  const sorted = hits.toSorted((a, b) => RANK[a.how] - RANK[b.how] || b.score - a.score || compare(a.partId, b.partId) || compare(a.number, b.number));
  return {
    hits: sorted.slice(0, MOST_HITS),
    cautions: hits.some(({ how }) => how === 'replaces') ? ['A claim that a part replaces another is somebody\'s word: compare the parts with a bench record.'] : [],
    assumptions: hits.some(({ how }) => how === 'similar') ? ['the number is not in the catalogue as written: near numbers are listed, most alike first'] : [],
  };
}

/** The parts that stand at the end of every line of successors; the part itself where nobody superseded it. */
function followSupersession(part: Part, byId: ReadonlyMap<string, Part>): string[] {
  const current = new Set<string>();
  const seen = new Set<string>();
  const open = [part.id];
  for (let id = open.pop(); id !== undefined; id = open.pop()) {
    if (seen.has(id)) continue;
    seen.add(id);
    const successors = (byId.get(id)?.supersededBy ?? []).filter((next) => byId.has(next));
    if (successors.length === 0) current.add(id);
    open.push(...successors);
  }
  return [...current].toSorted(compare);
}

/** Numbers with most of their characters in the same order, ranked by Fuse.js among those that share a part of three characters. */
function findNear(wanted: string, catalogue: Catalogue): { part: Part; number: string; issuer: string; score: number }[] {
  if (wanted.length < 3) return [];
  const pieces = new Set(piecesOf(wanted));
  const candidates = catalogue.flatMap((part) => (part.numbers ?? []).map(({ number, issuer }) => ({ part, number, issuer, normalised: normaliseNumber(number) })))
    .filter(({ normalised }) => piecesOf(normalised).some((piece) => pieces.has(piece)));
  return new Fuse(candidates, { keys: ['normalised'], includeScore: true, threshold: NEAR, ignoreLocation: true, shouldSort: true })
    .search(wanted.slice(0, 32))
    .map(({ item, score = 1 }) => ({ part: item.part, number: item.number, issuer: item.issuer, score: (1 - score) * 0.8 }))
    .filter(({ score }) => score > 0);
}

/** Parts whose title or class holds every word that was asked. */
function findWords(asked: string, catalogue: Catalogue): { part: Part; score: number }[] {
  const words = asked.toLowerCase().split(/[^\p{L}\p{N}.]+/u).filter((word) => word !== '');
  if (words.length === 0) return [];
  return catalogue.flatMap((part) => {
    const text = `${part.title} ${part.partClass.replaceAll('-', ' ')}`.toLowerCase();
    if (!words.every((word) => text.includes(word))) return [];
    const letters = words.reduce((sum, word) => sum + word.length, 0);
    return [{ part, score: 0.5 * Math.min(1, letters / text.length) }];
  });
}

function piecesOf(number: string): string[] {
  return Array.from({ length: Math.max(0, number.length - 2) }, (_, index) => number.slice(index, index + 3));
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
