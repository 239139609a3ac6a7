import { Random } from './random.ts';

const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ';
const DIGITS = '0123456789';
const ALL = DIGITS + LETTERS;
/** Look-alikes as the contract lists them. */
const ALIKE = ['O0', 'Il1', 'B8', 'S5', 'Z2', 'G6'];

/**
 * Part numbers of 5 to 10 characters as suppliers write them: letters, then figures, some with a letter behind, some wild. Two in five stand in a family
 * whose members differ in one character. No number comes twice.
 */
export function inventNumbers(count: number, random: Random): string[] {
  const numbers = new Set<string>();
  // Few makers, so that many numbers begin alike.
  const prefixes = Array.from({ length: 300 }, () => random.text(LETTERS, random.whole(1, 3)));
  const add = (number: string): void => { if (numbers.size < count) numbers.add(number); };
  while (numbers.size < count) {
    const number = inventNumber(prefixes, random);
    add(number);
    if (random.next() > 0.04) continue;
    // A family of 8 to 30 behind one in 25.
    const place = random.whole(0, number.length - 1);
    const from = /\d/.test(number[place]!) && random.next() < 0.7 ? DIGITS : ALL;
    for (let member = random.whole(8, 30); member > 0; member--) add(number.slice(0, place) + random.one(from) + number.slice(place + 1));
  }
  return [...numbers];
}

function inventNumber(prefixes: readonly string[], random: Random): string {
  const length = random.whole(5, 10);
  const kind = random.next();
  if (kind < 0.15) return random.text(ALL, length);
  if (kind < 0.35) return random.text(DIGITS, length);
  const prefix = random.one(prefixes);
  const suffix = random.next() < 0.3 ? random.text(LETTERS, 1) : '';
  return prefix + random.text(DIGITS, length - prefix.length - suffix.length) + suffix;
}

/** The number as somebody read it who made so many mistakes: look-alikes, swapped neighbours, a character lost or added, any other character. */
export function misread(number: string, mistakes: number, random: Random): string {
  let read = number;
  for (let mistake = 0; mistake < mistakes; mistake++) {
    const place = random.whole(0, read.length - 1);
    const kind = random.next();
    const alike = [...read].flatMap((character, at) => (ALIKE.some((each) => each.includes(character)) ? [at] : []));
    if (kind < 0.4 && alike.length > 0) {
      const at = random.one(alike);
      const others = [...ALIKE.find((each) => each.includes(read[at]!))!].filter((each) => each !== read[at]);
      read = read.slice(0, at) + random.one(others) + read.slice(at + 1);
    } else if (kind < 0.6) {
      const at = Math.min(place, read.length - 2);
      read = read.slice(0, at) + read[at + 1]! + read[at]! + read.slice(at + 2);
    } else if (kind < 0.72) read = read.slice(0, place) + read.slice(place + 1);
    else if (kind < 0.82) read = read.slice(0, place) + random.one(ALL) + read.slice(place);
    else read = read.slice(0, place) + random.one(ALL) + read.slice(place + 1);
  }
  return read;
}
