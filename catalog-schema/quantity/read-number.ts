import Fraction from 'fraction.js';

/** A number at the start of a text: what it is, how it is printed back, and the text after it; or why it is none, in plain words. */
export type ReadNumber =
  | { ok: true; value: Fraction; printed: string; isFraction: boolean; rest: string }
  | { ok: false; fault: string };

const VULGAR = /[\u00BC-\u00BE\u2150-\u215E]/g;

/** One way of writing each sign that has several: spaces, minus, ohm, micro, ½ as ' 1/2'. */
export function normaliseSigns(text: string): string {
  return text.replace(VULGAR, (sign) => ` ${sign.normalize('NFKD')}`).normalize('NFC')
    .replace(/[\u2044\u2215]/g, '/').replace(/[\u2010-\u2015\u2212]/g, '-').replace(/\u2126/g, '\u03A9')
    .replace(/\u2103/g, '°C').replace(/\u2109/g, '°F').replace(/[\u00A0\u2007\u2009\u202F]/g, ' ').trim();
}

/**
 * Reads the number a text begins with: '7.9', '12,5', '.5', '5/16', '1-3/8', '1 3/8', '-3'.
 * A comma is a decimal comma, save where it could part thousands ('1,234'): then the reader is asked.
 */
export function readNumber(text: string): ReadNumber {
  const written = normaliseSigns(text);
  const match = /^([+-]?) ?([\d.,/ -]*)(.*)$/s.exec(written);
  const sign = match?.[1] === '-' ? -1 : 1;
  // A trailing separator belongs to the unit or to nothing; '1.2.3' keeps all of it.
  const digits = (match?.[2] ?? '').replace(/[ -]+$/, '');
  const rest = (match?.[3] ?? '').trim();
  if (!/\d/.test(digits)) return { ok: false, fault: 'not a number' };

  const mixed = /^(?:(\d+)(?: +|-))?(\d+) ?\/ ?(\d+)$/.exec(digits);
  if (mixed) {
    const [, whole, over = '', under = ''] = mixed;
    if (Number(under) === 0) return { ok: false, fault: 'nothing can be parted by 0' };
    const value = new Fraction(BigInt(over), BigInt(under)).add(new Fraction(BigInt(whole ?? '0')));
    if (whole !== undefined && BigInt(over) >= BigInt(under)) return { ok: false, fault: 'the fraction beside a whole number must be below 1' };
    return { ok: true, value: value.mul(sign), printed: `${sign < 0 ? '-' : ''}${whole === undefined ? '' : `${whole}-`}${over}/${under}`, isFraction: true, rest };
  }
  const decimal = readDecimal(digits);
  if (typeof decimal === 'string') return { ok: false, fault: decimal };
  const value = decimal.mul(sign);
  return { ok: true, value, printed: String(value.valueOf()), isFraction: false, rest };
}

/** The value of digits with separators, or the fault. */
function readDecimal(digits: string): Fraction | string {
  if (/^\d{1,3}(,\d{3})+\.\d+$/.test(digits) || /^\d{1,3}(,\d{3}){2,}$/.test(digits)) return parsePlain(digits.replaceAll(',', ''));
  if (/^\d{1,3}(\.\d{3})+,\d+$/.test(digits)) return parsePlain(digits.replaceAll('.', '').replace(',', '.'));
  if (/^[1-9]\d{0,2},\d{3}$/.test(digits)) {
    return `either ${digits.replace(',', '.')} or ${digits.replace(',', '')}: write it with a point, or without a comma`;
  }
  const plain = digits.replace(',', '.');
  return /^(\d+\.?\d*|\.\d+)$/.test(plain) ? parsePlain(plain) : 'not one number';
}

function parsePlain(plain: string): Fraction {
  const [whole = '', decimals = ''] = plain.split('.');
  return new Fraction(BigInt(`${whole}${decimals}`), 10n ** BigInt(decimals.length));
}
