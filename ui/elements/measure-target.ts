import type { BenchRecord } from '../../catalog-schema/index.ts';

/** A figure of a terminal that is typed into a field of its own. */
export type TerminalFigure = 'majorDiameterMm' | 'pitchMm' | 'nutAcrossFlatsMm' | 'tabWidthMm' | 'tabThicknessMm';

/** How ohms are read: between which two places, with what, which probe is plus (undefined: not noted), and the plunger. */
export interface ReadingSetUp {
  readonly between: readonly [string, string];
  readonly by: 'meter' | 'supply';
  readonly plusOn: string | undefined;
  readonly pulledIn: boolean;
}

/** Where on the screen a measurement is entered. */
export type MeasureTarget =
  | { readonly kind: 'figure'; readonly terminal: string; readonly figure: TerminalFigure }
  | { readonly kind: 'ohms'; readonly setUp: ReadingSetUp };

const FIGURES: readonly (readonly [RegExp, TerminalFigure])[] = [
  [/^measure the pitch of (.+)$/, 'pitchMm'], [/^measure the major diameter of (.+)$/, 'majorDiameterMm'], [/^measure the nut of (.+)$/, 'nutAcrossFlatsMm'],
  [/^measure the width of tab (.+)$/, 'tabWidthMm'], [/^measure the thickness of tab (.+)$/, 'tabThicknessMm'],
];
const OHMS = /^read the ohms between (.+) with a (meter|supply)(?:, plus on (.+))?, (at rest|held in)$/;

/**
 * Where a measurement that the engine asks for is entered: its sentence, up to the first colon, is fixed. Undefined where the sentence is
 * of another kind or names what the record does not have: it is then shown as words alone.
 */
export function targetOf(what: string, record: BenchRecord): MeasureTarget | undefined {
  const sentence = what.split(':')[0]!.trim();
  const ids = (record.terminals ?? []).map(({ id }) => id);
  for (const [pattern, figure] of FIGURES) {
    const terminal = pattern.exec(sentence)?.[1];
    if (terminal !== undefined) return ids.includes(terminal) ? { kind: 'figure', terminal, figure } : undefined;
  }
  const asked = OHMS.exec(sentence);
  if (asked === null) return undefined;
  const [, pair = '', by, plusOn, state] = asked;
  const between = splitPair(pair, [...ids, 'case']);
  if (between === undefined || (plusOn !== undefined && !between.includes(plusOn))) return undefined;
  return { kind: 'ohms', setUp: { between, by: by === 'supply' ? 'supply' : 'meter', plusOn, pulledIn: state === 'held in' } };
}

/** The two places named by 'A and B'; an id may hold the word itself. */
function splitPair(pair: string, nodes: readonly string[]): [string, string] | undefined {
  const parts = pair.split(' and ');
  for (let at = 1; at < parts.length; at++) {
    const [a, b] = [parts.slice(0, at).join(' and '), parts.slice(at).join(' and ')];
    if (a !== b && nodes.includes(a) && nodes.includes(b)) return [a, b];
  }
  return undefined;
}
