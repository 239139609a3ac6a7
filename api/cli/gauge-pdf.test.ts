import { describe, expect, it } from 'vitest';
import { layOutGaugeSheet, PAPER_NAMES, PAPERS, boxOfMark, type PaperName } from '../../catalog-schema/gauge-sheet/index.ts';
import { drawGaugePdf } from './gauge-pdf.ts';

async function readPdf(paper: PaperName): Promise<string> {
  const chunks: Buffer[] = [];
  for await (const chunk of drawGaugePdf(paper, { compress: false })) chunks.push(chunk as Buffer);
  return Buffer.concat(chunks).toString('latin1');
}

/** Ends of each straight single stroke in the drawing, in the points of the page's own scale. */
const strokes = (pdf: string): number[][] =>
  [...pdf.matchAll(/^([\d.]+) ([\d.]+) m\n([\d.]+) ([\d.]+) l\nS$/gm)].map((match) => match.slice(1).map(Number));

describe.each(PAPER_NAMES)('the gauge sheet as PDF on %s', (paper) => {
  it('has pages of the paper’s size in points and asks not to be scaled', async () => {
    const pdf = await readPdf(paper);
    const boxes = [...pdf.matchAll(/\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/g)];
    expect(boxes).toHaveLength(layOutGaugeSheet(paper).pages.length);
    for (const [, width, height] of boxes) {
      // 1 in = 72 pt (ISO 32000-1): A4 is 595.28 x 841.89 pt, letter 612 x 792 pt.
      expect(Number(width)).toBeCloseTo(paper === 'a4' ? 595.276 : 612, 2);
      expect(Number(height)).toBeCloseTo(paper === 'a4' ? 841.89 : 792, 2);
    }
    expect(pdf).toContain('/PrintScaling /None');
    expect(PAPERS[paper].widthMm).toBeCloseTo((Number(boxes[0]![1]) / 72) * 25.4, 2);
  });

  it('draws the 100 mm bars 283.46 pt long and the 4 in bar 288 pt, on a page that is only turned over, not scaled', async () => {
    const pdf = await readPdf(paper);
    const pages = layOutGaugeSheet(paper).pages.length;
    const lengths = strokes(pdf).map(([x1, y1, x2, y2]) => Math.hypot(x2! - x1!, y2! - y1!));
    // 100 / 25.4 x 72
    expect(lengths.filter((length) => Math.abs(length - 283.4646) < 0.01)).toHaveLength(2 * pages);
    expect(lengths.filter((length) => Math.abs(length - 288) < 0.01)).toHaveLength(pages);
    const turns = [...pdf.matchAll(/^([-\d.]+) ([-\d.]+) ([-\d.]+) ([-\d.]+) [-\d.]+ [-\d.]+ cm$/gm)].map((match) => match.slice(1, 5).map(Number));
    expect(turns.length).toBeGreaterThanOrEqual(pages);
    expect(turns.every(([a, b, c, d]) => a === 1 && b === 0 && c === 0 && d === 1 || a === 1 && b === 0 && c === 0 && d === -1)).toBe(true);
  });

  it('sets the words in the bundled typeface, none wider than the room kept for it', async () => {
    const pdf = drawGaugePdf(paper);
    for (const page of layOutGaugeSheet(paper).pages) for (const mark of page.marks) {
      if (mark.kind !== 'text') continue;
      const box = boxOfMark(mark);
      const width = pdf.font(mark.strong ? 'strong' : 'plain').fontSize(mark.sizeMm).widthOfString(mark.words);
      expect(width, mark.words).toBeLessThanOrEqual(box.right - box.left);
    }
    pdf.resume();
    expect(await readPdf(paper)).toMatch(/\/FontName \/\w+\+B612-Bold/);
  });
});
