import { normaliseNumber } from '../normalise-number.ts';

// A normalised number as bytes: 0 is no character, 1 to 10 the digits, 11 to 36 the letters, from 37 on whatever else there is (two such may share a byte:
// who finds by bytes looks at the text before he calls two numbers the same).

const DIGITS = 1;
const LETTERS = 11;
const OTHERS = 37;

/** Characters that one takes for one another on a worn label: the first of each list stands for all of them. */
const LOOK_ALIKE = ['0O', '1IL', '8B', '5S', '2Z', '6G'] as const;

/** The code of a plain character of a normalised number. */
function codeOfPlain(unit: number): number {
  if (unit >= 48 && unit <= 57) return unit - 48 + DIGITS;
  if (unit >= 65 && unit <= 90) return unit - 65 + LETTERS;
  return 0;
}

/** The code that stands for all that look like a code. */
export const LOOKS: Uint8Array = makeLooks();

export const LOOK_CLASSES = 30;
/** Codes of what looks alike counted without gaps, all others as one: below LOOK_CLASSES. */
export const LOOK_CLASS: Uint8Array = makeClasses();

/**
 * Writes the codes of a number, as `normaliseNumber` has it, from `at` on; where they end. `into` has room for `roomOfNumber(number)`.
 * Plain ASCII, which nearly all numbers are, is coded without making a text of it.
 */
export function writeCodes(number: string, into: Uint8Array, at: number): number {
  let end = at;
  for (let index = 0; index < number.length; index++) {
    const unit = number.charCodeAt(index);
    if (unit > 127) return writeAnyCodes(normaliseNumber(number), into, at);
    const code = codeOfPlain(unit >= 97 && unit <= 122 ? unit - 32 : unit);
    if (code !== 0) into[end++] = code;
  }
  return end;
}

/** Most bytes the codes of a number take. */
export function roomOfNumber(number: string): number {
  // One sign of Unicode's compatibility forms stands for 18 characters at most.
  return /[^\0-\x7f]/.test(number) ? number.length * 18 : number.length;
}

export function codesOf(number: string): Uint8Array {
  const codes = new Uint8Array(roomOfNumber(number));
  return codes.slice(0, writeCodes(number, codes, 0));
}

function writeAnyCodes(normalised: string, into: Uint8Array, at: number): number {
  let end = at;
  for (const character of normalised) {
    const point = character.codePointAt(0)!;
    into[end++] = codeOfPlain(point) || OTHERS + (Math.imul(point, 0x9e3779b1) >>> 8) % (256 - OTHERS);
  }
  return end;
}

function makeLooks(): Uint8Array {
  const looks = Uint8Array.from({ length: 256 }, (_, code) => code);
  for (const alike of LOOK_ALIKE) for (const character of alike) looks[codeOfPlain(character.charCodeAt(0))] = codeOfPlain(alike.charCodeAt(0));
  return looks;
}

function makeClasses(): Uint8Array {
  const classes = new Uint8Array(256).fill(LOOK_CLASSES - 1);
  let next = 0;
  for (let code = DIGITS; code < OTHERS; code++) if (LOOKS[code] === code) classes[code] = next++;
  for (let code = DIGITS; code < OTHERS; code++) classes[code] = classes[LOOKS[code]!]!;
  return classes;
}
