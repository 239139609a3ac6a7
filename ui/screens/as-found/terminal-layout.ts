import type { PartClass, RecordTerminal, TerminalForm } from '../../../catalog-schema/index.ts';

/** Where the small terminals sit, seen with the bracket down. */
export type SmallPlace = 'above' | 'between' | 'below';

export interface TerminalCounts { readonly studs: number; readonly tabs: number; readonly place: SmallPlace }

/** What a part of a class most often shows: a start for the counts, to be corrected by what is in the hand. */
export function usualCounts(partClass: PartClass | undefined): TerminalCounts {
  switch (partClass) {
    case 'contactor': return { studs: 2, tabs: 2, place: 'above' };
    case 'plug-in-relay': return { studs: 0, tabs: 4, place: 'above' };
    case 'starter-motor': return { studs: 1, tabs: 0, place: 'above' };
    case 'start-relay': case 'shift-solenoid': case undefined: return { studs: 2, tabs: 1, place: 'above' };
  }
}

/** Distances of a first drawing, mm; nobody has measured them, the person moves what sits elsewhere. */
const STUD_STEP_MM = 32;
const TAB_STEP_MM = 12;
const ROW_MM = 16;
const LETTERS = 'ABCDEFGHIJKLMNOP';

/**
 * Terminals for a first drawing: studs in a row, tabs in a row above, between or below them, named A, B, C from left to right.
 * Four or five tabs alone stand as on a plug-in relay's foot: two and two, or with one in the middle.
 */
export function layTerminals(counts: TerminalCounts): RecordTerminal[] {
  if (counts.studs === 0) return layFoot(counts.tabs);
  const tabY = counts.place === 'above' ? ROW_MM : counts.place === 'below' ? -ROW_MM : 0;
  const places = [
    ...spread(counts.studs, STUD_STEP_MM).map((xMm) => ({ form: 'stud' as const, xMm, yMm: 0 })),
    ...spread(counts.tabs, counts.place === 'between' ? Math.min(TAB_STEP_MM, STUD_STEP_MM / (counts.tabs + 1)) : TAB_STEP_MM)
      .map((xMm) => ({ form: 'tab' as const, xMm, yMm: tabY })),
  ];
  return places.map((place, index) => ({ id: LETTERS[index]!, form: place.form, at: { xMm: place.xMm, yMm: place.yMm }, atBy: 'eye' }));
}

function layFoot(tabs: number): RecordTerminal[] {
  const foot = [[-8, 8], [8, 8], [-8, -8], [8, -8], [0, 0]] as const;
  if (tabs > foot.length) return spread(tabs, TAB_STEP_MM).map((xMm, index) => ({ id: LETTERS[index]!, form: 'tab', at: { xMm, yMm: 0 }, atBy: 'eye' }));
  return foot.slice(0, tabs).map(([xMm, yMm], index) => ({ id: LETTERS[index]!, form: 'tab', at: { xMm, yMm }, atBy: 'eye' }));
}

/** `count` places in a row around 0. */
function spread(count: number, step: number): number[] {
  return Array.from({ length: count }, (_, index) => (index - (count - 1) / 2) * step);
}

/** One more terminal: the next free letter, to the right of all others. */
export function addTerminal(terminals: readonly RecordTerminal[], form: TerminalForm): RecordTerminal {
  const used = new Set(terminals.map((terminal) => terminal.id));
  const id = [...LETTERS].find((letter) => !used.has(letter)) ?? `T${terminals.length + 1}`;
  const right = Math.max(-TAB_STEP_MM, ...terminals.map((terminal) => terminal.at?.xMm ?? 0));
  return { id, form, at: { xMm: right + TAB_STEP_MM, yMm: 0 }, atBy: 'eye' };
}
