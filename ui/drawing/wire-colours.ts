/** What a wire's colour letters say: the ground colour, the stripe, the word for both, and whether the letters were read. */
export type WireColour = Readonly<{ base: string; stripe: string | null; words: string; letters: string; known: boolean }>;

/**
 * Letters and names of IEC 60757, in the standard's order, with the ink each is drawn in. The inks are ours: chosen to be told
 * apart side by side on all three grounds; every wire also carries its letters.
 */
const COLOURS: readonly (readonly [letters: string, name: string, ink: string])[] = [
  ['BK', 'black', '#141414'],
  ['BN', 'brown', '#7a4a22'],
  ['RD', 'red', '#d11f1f'],
  ['OG', 'orange', '#f58a07'],
  ['YE', 'yellow', '#ffe12b'],
  ['GN', 'green', '#1f8f3a'],
  ['BU', 'blue', '#2563d9'],
  ['VT', 'violet', '#7d3bb0'],
  ['GY', 'grey', '#9a9a9a'],
  ['WH', 'white', '#ffffff'],
  ['PK', 'pink', '#f59ac0'],
  ['GD', 'gold', '#c9a227'],
  ['TQ', 'turquoise', '#21bdb5'],
  ['SR', 'silver', '#cfd3d6'],
];
const BY_LETTERS = new Map(COLOURS.map(([letters, name, ink]) => [letters, { name, ink }] as const));

/** Every colour one can choose, in the standard's order. */
export const WIRE_COLOURS: readonly Readonly<{ letters: string; name: string; ink: string }>[] =
  COLOURS.map(([letters, name, ink]) => ({ letters, name, ink }));

/**
 * Reads colour letters: 'YE', 'YE/GN' (ground/stripe), also run together as the standard writes them ('RDBU', 'GNYE').
 * Unknown letters are drawn as bare paper with their own words, and `known` is false.
 */
export function readWireColour(colour: string | undefined): WireColour {
  const text = (colour ?? '').trim().toUpperCase();
  const parts = text.includes('/') ? text.split('/').map((p) => p.trim()) : (text.match(/.{1,2}/g) ?? []);
  const [ground, second, ...more] = parts;
  const base = ground === undefined ? undefined : BY_LETTERS.get(ground);
  const stripe = second === undefined ? undefined : BY_LETTERS.get(second);
  if (base === undefined || (second !== undefined && stripe === undefined) || more.length > 0) {
    return { base: 'none', stripe: null, words: text === '' ? 'colour not noted' : text, letters: text, known: false };
  }
  return {
    base: base.ink,
    stripe: stripe?.ink ?? null,
    words: stripe === undefined ? base.name : `${base.name} with ${stripe.name} stripe`,
    letters: second === undefined ? ground! : `${ground}/${second}`,
    known: true,
  };
}
