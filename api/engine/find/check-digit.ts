// Trade item numbers of GS1 (GTIN-8, -12, -13, -14): from the right of the number without its last digit the weights are 3, 1, 3, 1 ...; the last digit
// makes the weighted sum a multiple of ten (GS1 General Specifications, check digit calculation).

const LENGTHS: ReadonlySet<number> = new Set([8, 12, 13, 14]);

/** What a GS1 code has between its fields. */
const GROUP_SEPARATOR = String.fromCharCode(29);

/** Of digits without their check digit. */
export function checkDigitOf(digits: string): number {
  let sum = 0;
  for (let at = digits.length - 1, weight = 3; at >= 0; at--, weight = 4 - weight) sum += Number(digits[at]) * weight;
  return (10 - (sum % 10)) % 10;
}

export interface TradeNumber {
  readonly digits: string;
  readonly name: 'GTIN-8' | 'GTIN-12' | 'GTIN-13' | 'GTIN-14';
  /** what its last digit has to be */
  readonly check: number;
  readonly right: boolean;
}

/**
 * What was read as a trade item number, where it has the look of one: 8, 12, 13 or 14 digits and blanks or hyphens, or 14 digits
 * behind the application identifier 01, as a GS1 code gives them. A scanner's prefix of the kind of code (`]C1`) is passed over.
 */
export function readTradeNumber(text: string): TradeNumber | undefined {
  const plain = text.normalize('NFKC').trim().replace(/^\][A-Za-z]\d/, '').replace(GROUP_SEPARATOR, '');
  const inCode = /^\(01\)\s*(\d{14})(?!\d)/.exec(plain)?.[1] ?? (/^01\d{14}/.test(plain) && plain.length > 16 ? plain.slice(2, 16) : /^01(\d{14})$/.exec(plain)?.[1]);
  const digits = inCode ?? (/^\d[\d -]*$/.test(plain) ? plain.replace(/[ -]/g, '') : '');
  if (!LENGTHS.has(digits.length)) return undefined;
  const check = checkDigitOf(digits.slice(0, -1));
  return { digits, name: `GTIN-${digits.length}` as TradeNumber['name'], check, right: check === Number(digits.at(-1)) };
}

/** The same trade item number with other counts of leading zeros: a GTIN-12 is the GTIN-13 with one zero before it. */
export function listOtherForms({ digits }: TradeNumber): string[] {
  const bare = digits.replace(/^0+/, '');
  return [...LENGTHS].filter((length) => length >= bare.length && length !== digits.length && (length !== 8 || digits.length === 8 || bare.length <= 8)).map((length) => bare.padStart(length, '0'));
}
