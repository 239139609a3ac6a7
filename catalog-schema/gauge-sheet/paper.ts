export type PaperName = 'a4' | 'letter';

export const PAPER_NAMES: readonly PaperName[] = ['a4', 'letter'];

/** Width and height in mm: ISO 216 A4; ANSI/ASME Y14.1 size A (8.5 x 11 in), called letter. */
export const PAPERS: Readonly<Record<PaperName, { readonly widthMm: number; readonly heightMm: number; readonly name: string }>> = {
  a4: { widthMm: 210, heightMm: 297, name: 'A4' },
  letter: { widthMm: 215.9, heightMm: 279.4, name: 'Letter' },
};

/** Kept free on every side: common printers cannot reach the outer 4 to 8 mm (common practice, no source). */
export const MARGIN_MM = 12;

/** Width of each line, mm. The middle of a line is the size it shows, so a gauge's line is thin. */
export const LINE_MM = { thin: 0.15, gauge: 0.2, heavy: 0.5 } as const;
