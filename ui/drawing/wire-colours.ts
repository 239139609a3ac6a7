import { COLOURS, readColour } from '../../catalog-schema/index.ts';

/** What a wire's colour letters say: ground ink, stripe ink, the words, the letters as drawn, and whether they were read. */
export type WireColour = Readonly<{ base: string; stripe: string | null; words: string; letters: string; known: boolean }>;

/** Every colour one can choose for a ground or a stripe, in the standard's order. */
export const WIRE_COLOURS: readonly Readonly<{ letters: string; name: string; ink: string }>[] = COLOURS
  .filter((colour) => colour.letters.length === 2)
  .map((colour) => ({ letters: colour.letters, name: colour.name.replace(/ \(.*\)$/, ''), ink: colour.screenHex }));
const BY_LETTERS = new Map(WIRE_COLOURS.map((colour) => [colour.letters, colour]));

/**
 * A wire's colour for drawing: 'YE', 'YE/GN' (ground/stripe), also run together. Letters that are not read are drawn as bare paper
 * with the letters beside, and `known` is false.
 */
export function readWireColour(colour: string | undefined): WireColour {
  const written = (colour ?? '').trim();
  const read = readColour(written);
  const base = BY_LETTERS.get(read?.base.letters ?? '');
  const stripe = BY_LETTERS.get(read?.stripe?.letters ?? '');
  if (base === undefined) {
    return { base: 'none', stripe: null, words: written === '' ? 'colour not noted' : written, letters: written, known: false };
  }
  return {
    base: base.ink, stripe: stripe?.ink ?? null, known: true,
    words: stripe === undefined ? base.name : `${base.name} with ${stripe.name} stripe`,
    letters: stripe === undefined ? base.letters : `${base.letters}/${stripe.letters}`,
  };
}
