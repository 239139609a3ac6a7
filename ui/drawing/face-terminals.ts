import type { Measured, RecordTerminal, Terminal, TerminalForm } from '../../catalog-schema/index.ts';
import type { PointMm } from './geometry.ts';
import { majorDiameterMm, usualNutMm } from './thread-size.ts';
import { DRAWING_WORDS, sayLength } from './words.ts';

/** A terminal ready to be drawn: every size in mm, and which of them were measured or are in the catalogue. */
export type FaceTerminal = Readonly<{
  id: string; form: TerminalForm; at: PointMm; placeKnown: boolean; sizeKnown: boolean
  /** a blade that stands on edge */
  upright: boolean
  majorMm: number; nutMm: number; tabWidthMm: number; tabThicknessMm: number
  marking: string; sizeWords: string
}>;

/** Sizes drawn, dashed, where nobody has given one; common practice, no source. */
const TAKEN = { studMm: 8, screwMm: 4, tabWidthMm: 6.3, tabThicknessMm: 0.8, pitchMm: 16 } as const;

/** Places of a five-pin cube relay by marking, pins towards you: spread for the eye, from memory, never matched on. Its turned blades likewise. */
const CUBE: Readonly<Record<string, PointMm>> = {
  '87': { xMm: 0, yMm: 13 }, '87a': { xMm: 0, yMm: 1 }, '30': { xMm: 0, yMm: -14 },
  '86': { xMm: -14, yMm: -1 }, '85': { xMm: 14, yMm: -1 },
};
const CUBE_UPRIGHT = new Set(['30', '85', '86']);

/**
 * Terminals of a record or of a catalogue part, with a place and a size for each. Those without `at` get a sensible place from
 * their form and number and `placeKnown: false`.
 */
export function faceTerminals(terminals: readonly (Terminal | RecordTerminal)[], units: 'mm' | 'inch' = 'mm'): FaceTerminal[] {
  const places = placesOf(terminals);
  const isCube = looksLikeCube(terminals);
  return terminals.map((terminal, i) => {
    const measuredMajor = 'majorDiameterMm' in terminal ? middle(terminal.majorDiameterMm) : undefined;
    const measuredNut = 'nutAcrossFlatsMm' in terminal ? middle(terminal.nutAcrossFlatsMm) : undefined;
    const threaded = terminal.form === 'stud' || terminal.form === 'screw';
    const major = threaded ? measuredMajor ?? majorDiameterMm(terminal.thread) : undefined;
    const tabWidth = middle(terminal.tabWidthMm);
    const majorMm = major ?? (terminal.form === 'screw' ? TAKEN.screwMm : TAKEN.studMm);
    return {
      id: terminal.id, form: terminal.form, at: places[i]!, placeKnown: terminal.at !== undefined && !('atBy' in terminal && terminal.atBy === 'eye'),
      upright: isCube && CUBE_UPRIGHT.has(terminal.marking ?? terminal.id),
      sizeKnown: threaded ? major !== undefined : terminal.form === 'tab' ? tabWidth !== undefined : true,
      majorMm, nutMm: measuredNut ?? usualNutMm(majorMm),
      tabWidthMm: tabWidth ?? TAKEN.tabWidthMm, tabThicknessMm: middle(terminal.tabThicknessMm) ?? TAKEN.tabThicknessMm,
      marking: terminal.marking ?? '',
      sizeWords: threaded
        ? terminal.thread ?? (major === undefined ? '' : sayLength(major, units))
        : tabWidth === undefined ? '' : sayLength(tabWidth, units),
    };
  });
}

/** What the caption says of the drawing's truth. */
export function sayScale(terminals: readonly FaceTerminal[]): string {
  const known = terminals.filter((t) => t.placeKnown).length;
  if (terminals.length === 0) return '';
  if (known === terminals.length) return DRAWING_WORDS.toScale;
  return known === 0 ? DRAWING_WORDS.notToScale : DRAWING_WORDS.partlyToScale;
}

/** Half the width and half the height a terminal takes on its face, mm, its nut or the slot round its blade included. */
export function footprintMm(terminal: FaceTerminal): { x: number; y: number } {
  const reach = reachMm(terminal);
  if (terminal.form !== 'tab' && terminal.form !== 'pin') return { x: reach, y: reach };
  return terminal.upright ? { x: 1.6, y: reach } : { x: reach, y: 1.6 };
}

/** Half of the longest extent of a terminal on its face, mm. */
export function reachMm(terminal: FaceTerminal): number {
  switch (terminal.form) {
    case 'stud': return terminal.nutMm / 2 / Math.cos(Math.PI / 6);
    case 'screw': return terminal.majorMm;
    case 'tab': case 'pin': return terminal.tabWidthMm / 2 + 0.9;
    case 'lead': return 2.5;
    default: return unreachable(terminal.form);
  }
}

function placesOf(terminals: readonly (Terminal | RecordTerminal)[]): PointMm[] {
  const known = terminals.filter((t) => t.at !== undefined);
  const missing = terminals.filter((t) => t.at === undefined);
  const places = new Map<string, PointMm>();
  for (const terminal of known) places.set(terminal.id, terminal.at!);
  if (known.length > 0) {
    const low = Math.min(...known.map((t) => t.at!.yMm));
    const middleX = known.reduce((sum, t) => sum + t.at!.xMm, 0) / known.length;
    missing.forEach((t, i) => places.set(t.id, { xMm: middleX + (i - (missing.length - 1) / 2) * TAKEN.pitchMm, yMm: low - 18 }));
  } else if (looksLikeCube(missing)) {
    for (const t of missing) places.set(t.id, CUBE[t.marking ?? t.id]!);
  } else {
    const studs = missing.filter((t) => t.form === 'stud');
    const small = missing.filter((t) => t.form !== 'stud');
    layRow(studs, 30, 0, places);
    const perRow = small.length > 6 ? Math.ceil(small.length / 2) : 6;
    for (let row = 0; row * perRow < small.length; row++) {
      layRow(small.slice(row * perRow, (row + 1) * perRow), TAKEN.pitchMm, (studs.length > 0 ? -20 : 0) - row * 16, places);
    }
  }
  return terminals.map((t) => places.get(t.id)!);
}

/** Tabs or pins that carry a cube relay's markings, each once. */
function looksLikeCube(terminals: readonly (Terminal | RecordTerminal)[]): boolean {
  const marks = terminals.map((t) => t.marking ?? t.id);
  return marks.length > 2 && marks.every((mark) => CUBE[mark] !== undefined) && new Set(marks).size === marks.length
    && terminals.every((t) => t.form === 'tab' || t.form === 'pin');
}

function layRow(row: readonly { id: string }[], stepMm: number, yMm: number, places: Map<string, PointMm>): void {
  row.forEach((t, i) => places.set(t.id, { xMm: (i - (row.length - 1) / 2) * stepMm, yMm }));
}

function middle(measured: Measured | undefined): number | undefined {
  return typeof measured === 'object' ? measured.value : measured;
}

/** Marks a place no value can reach. */
export function unreachable(value: never): never {
  throw new Error(`unreachable: ${JSON.stringify(value)}`);
}
