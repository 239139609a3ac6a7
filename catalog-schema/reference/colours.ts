import colourFacts from './colours.json' with { type: 'json' };
import type { Fact } from './fact.ts';

export interface Colour {
  /** IEC 60757 letters */
  readonly letters: string;
  readonly name: string;
  readonly source: string;
  /** how a screen draws it; the standard gives no shade */
  readonly screenHex: string;
  readonly screenHexSource: 'own choice';
}

/** Shades that stay apart on paper, dark and daylight grounds; own choice. Green-and-yellow is drawn in green with a yellow stripe. */
const SCREEN_HEX: Readonly<Record<string, string>> = {
  BK: '#1b1b1b', BN: '#7a4a21', RD: '#c8232c', OG: '#ee7f1b', YE: '#f2c500', GN: '#2e8b3d', BU: '#2166b5', VT: '#7a3b9a',
  GY: '#878c90', WH: '#ffffff', PK: '#f2a0b8', GD: '#b8902f', TQ: '#1fa9a6', SR: '#c3c7ca', GNYE: '#2e8b3d',
};

const facts: readonly Fact[] = colourFacts;

/** The colours of IEC 60757 in the order of its table. */
export const COLOURS: readonly Colour[] = facts
  .filter((fact) => fact.quantity === 'colour')
  .map((fact) => ({
    letters: fact.designation, name: String(fact.value), source: fact.source,
    screenHex: SCREEN_HEX[fact.designation] ?? '#878c90', screenHexSource: 'own choice',
  }));

/**
 * A wire's colour as written: 'YE', with a stripe 'YE/GN', 'ye-gn', 'YEGN' or 'GNYE'; case does not matter.
 * Any two colours may meet: harnesses of machines do not keep the standard's rule for green with yellow.
 * @returns undefined for letters the standard does not know; the text itself is still worth keeping.
 */
export function readColour(text: string): { base: Colour; stripe?: Colour } | undefined {
  const written = text.trim().toUpperCase();
  const match = /^([A-Z]{2})(?: ?[/-]? ?([A-Z]{2}))?$/.exec(written);
  const base = findColour(match?.[1]);
  if (!base) return undefined;
  if (match?.[2] === undefined) return { base };
  const stripe = findColour(match[2]);
  return stripe && { base, stripe };
}

function findColour(letters: string | undefined): Colour | undefined {
  return COLOURS.find((colour) => colour.letters === letters);
}
