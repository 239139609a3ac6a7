import type { TerminalForm, Wire } from '../../catalog-schema/index.ts';
import type { Spot } from './geometry.ts';
import { breakLines } from './label-placing.ts';
import { DRAWING_WORDS, sayId } from './words.ts';

export type StackInput = Readonly<{
  form: TerminalForm
  /** the wires that go on this terminal, in any order; `jumpers` more lugs of jumpers */
  wires: readonly Wire[]; jumpers: number
  /** what to tighten to, with its source, as it is to be read */
  torque: string
  widthPx: number
}>;

export type StackPiece = 'body' | 'inner-nut' | 'lug' | 'jumper-lug' | 'washer' | 'spring' | 'outer-nut' | 'screw-head' | 'tab' | 'receptacle' | 'bare-end';
/** One thing on the stud, from the body outward: its box from the axis, and the words beside it. */
export type StackLayer = Readonly<{
  piece: StackPiece; wire?: Wire; top: number; height: number; order: number | null
  lines: readonly string[]; tone: 'plain' | 'do' | 'not'; textTop: number
}>;
export type StackSheet = Readonly<{ width: number; height: number; axis: number; textLeft: number; layers: readonly StackLayer[]; stud: Readonly<{ top: number; bottom: number }>; never: Readonly<{ at: Spot; lines: readonly string[] }> | null }>;

const HEIGHTS: Readonly<Record<StackPiece, number>> = {
  body: 40, 'inner-nut': 28, lug: 13, 'jumper-lug': 13, washer: 7, spring: 9, 'outer-nut': 28, 'screw-head': 22, tab: 64, receptacle: 44, 'bare-end': 40,
};
const LINE = 18;
const GAP = 9;
const AXIS = 76;
const TEXT_LEFT = 158;

/**
 * The order in which things go on a terminal, from the body outward: the lug faces lie on the seat, the largest cable first, the washer
 * outside all lugs (common practice, no source), the inner nut held while the outer one is turned.
 */
export function stackOf(input: Pick<StackInput, 'form' | 'wires' | 'jumpers'>): Readonly<{ piece: StackPiece; wire?: Wire }>[] {
  const byArea = [...input.wires].sort((a, b) => (b.areaMm2 ?? 0) - (a.areaMm2 ?? 0));
  const lugs = [
    ...byArea.map((wire) => ({ piece: 'lug' as const, wire })), ...Array.from({ length: input.jumpers }, () => ({ piece: 'jumper-lug' as const })),
  ];
  switch (input.form) {
    case 'stud': return [{ piece: 'body' }, { piece: 'inner-nut' }, ...lugs, { piece: 'washer' }, { piece: 'spring' }, { piece: 'outer-nut' }];
    case 'screw': return [{ piece: 'body' }, ...lugs, { piece: 'washer' }, { piece: 'screw-head' }];
    case 'tab': return [{ piece: 'body' }, { piece: 'tab' }, ...byArea.map((wire) => ({ piece: 'receptacle' as const, wire }))];
    case 'lead': case 'pin': return [{ piece: 'body' }, { piece: 'tab' }, ...byArea.map((wire) => ({ piece: 'bare-end' as const, wire }))];
    default: { const never: never = input.form; throw new Error(`no stack for ${String(never)}`); }
  }
}

/** Lays the stack upright, the body at the foot, its words at the right, each beside its piece and none over another. */
export function layStackSheet(input: StackInput): StackSheet {
  const pieces = stackOf(input);
  const width = input.widthPx;
  const room = width - TEXT_LEFT - 4;
  const said = pieces.map((p) => sayPiece(p.piece, p.wire, input.torque));
  const texts = said.map((s) => breakLines(s.words, 14, room - 24, true));
  const threaded = input.form === 'stud' || input.form === 'screw';
  const hasLugs = pieces.some((p) => p.piece === 'lug' || p.piece === 'jumper-lug');
  const neverLines = threaded && hasLugs ? breakLines(DRAWING_WORDS.stack.never, 14, room - 24, true) : [];

  // Drawn apart along the axis, each piece level with its words: whichever needs more room sets the step.
  let y = threaded ? 30 : 26;
  const outward = pieces.map((p, i) => ({ ...p, i })).toReversed();
  const layers: StackLayer[] = [];
  let count = pieces.filter((p) => isPutOn(p.piece)).length;
  let never: StackSheet['never'] = null;
  for (const { piece, wire, i } of outward) {
    const isSeat = neverLines.length > 0 && (piece === 'inner-nut' || (piece === 'body' && input.form === 'screw'));
    if (isSeat) {
      const room = Math.max(neverLines.length * LINE, 18);
      never = { at: { x: TEXT_LEFT, y: y + room / 2 }, lines: neverLines };
      y += room + GAP;
    }
    const height = HEIGHTS[piece];
    const lines = texts[i]!;
    const slot = Math.max(height, lines.length * LINE);
    layers.push({
      piece, top: y + (slot - height) / 2, height, lines, tone: said[i]!.tone, textTop: y + (slot - lines.length * LINE) / 2,
      order: isPutOn(piece) ? count-- : null, ...(wire === undefined ? {} : { wire }),
    });
    // Nut and body are one piece with the stud: they stay together.
    y += slot + (piece === 'inner-nut' || piece === 'tab' ? 0 : GAP);
  }
  return { width, axis: AXIS, textLeft: TEXT_LEFT, layers: layers.toReversed(), height: y, stud: { top: 6, bottom: y - GAP - HEIGHTS.body }, never };
}

function isPutOn(piece: StackPiece): boolean {
  return piece !== 'body' && piece !== 'inner-nut' && piece !== 'tab';
}

function sayPiece(piece: StackPiece, wire: Wire | undefined, torque: string): { words: string; tone: StackLayer['tone'] } {
  const words = DRAWING_WORDS.stack;
  const tag = sayId(wire?.tag ?? '');
  switch (piece) {
    case 'body': return { words: words.seat, tone: 'plain' };
    case 'inner-nut': return { words: words.innerNut, tone: 'do' };
    case 'lug': return { words: words.lug(tag), tone: 'plain' };
    case 'jumper-lug': return { words: words.jumperLug, tone: 'plain' };
    case 'washer': return { words: words.washer, tone: 'plain' };
    case 'spring': return { words: words.spring, tone: 'plain' };
    case 'outer-nut': return { words: torque === '' ? words.outerNut : `${words.outerNut}, ${words.torque(torque)}`, tone: 'do' };
    case 'screw-head': return { words: torque === '' ? words.screwHead : `${words.screwHead}, ${words.torque(torque)}`, tone: 'do' };
    case 'tab': return { words: words.tab, tone: 'plain' };
    case 'receptacle': return { words: words.receptacle(tag), tone: 'do' };
    case 'bare-end': return { words: words.bareEnd(tag), tone: 'do' };
    default: { const never: never = piece; throw new Error(`no words for ${String(never)}`); }
  }
}
