import { REFUSAL_CODES } from '../../catalog-schema/index.ts';
import { benchWords } from '../words/bench.ts';

const FORM_NAMES = Object.keys(benchWords.formsInShort).sort((a, b) => b.length - a.length);
const NAMED = new RegExp(`(?<![\\w-])(?:the )?(${FORM_NAMES.join('|')})( form)?(?![\\w-])`, 'g');

/** The reason for a measurement with the contract's names of circuit forms put in a technician's words. */
export function sayWhy(why: string): string {
  if (!why.startsWith('it tells ')) return why;
  return why.replace(NAMED, (_, form: keyof typeof benchWords.formsInShort) => benchWords.formsInShort[form]);
}

const CODES = new RegExp(`(^|[;:.] ?)(?:${REFUSAL_CODES.join('|')}): `, 'g');

/** Why a check came out as it did, without the contract's codes of refused wirings: the sentence behind each says it. */
export function sayCheckWhy(why: string): string {
  return why.replace(CODES, (_, before: string) => (before === '' ? '' : `${before.trim()} `)).replaceAll('.;', ';');
}
