import PDFDocument from 'pdfkit';
import { PAPERS, type PaperName } from '../../catalog-schema/gauge-sheet/index.ts';
import type { AsLeftAnswer, AsLeftStepAnswer, WiringLine } from '../../catalog-schema/index.ts';
import { STEP_WORDS } from '../engine/as-left/index.ts';
import { registerFaces, spell, type Face } from '../services/index.ts';
import { saySignOff, sayTick } from './print-as-left.ts';

/** A PDF point is 1/72 in (ISO 32000-1, 8.3.2.3). */
const POINTS_A_MM = 72 / 25.4;
const MARGIN = 12 * POINTS_A_MM;
const GUTTER = 6 * POINTS_A_MM;
const BOX = 3.2 * POINTS_A_MM;
/** Sizes of type tried from the largest until the sheet is one page, pt; a job with very many wires goes on over the page. */
const SIZES = [10, 9.5, 9, 8.5, 8, 7.5, 7, 6.5];
/** What the table's columns take of its width: wire, leads to, was on, goes on, end. */
const COLUMNS = [0.16, 0.16, 0.16, 0.3, 0.22] as const;

type Pdf = PDFKit.PDFDocument;
interface Sheet { readonly pdf: Pdf; readonly size: number; readonly left: number; readonly right: number; readonly bottom: number }

/** The checklist as one sheet to print: old and new wiring, every step with its box, torques, sign-off. `compress: false` is for tests. */
export function drawAsLeftPdf(answer: AsLeftAnswer, paper: PaperName, options: { compress?: boolean } = {}): Pdf {
  const size = SIZES.find((each) => {
    const trial = openPdf(paper, each, true);
    const pages = drawSheet(trial, answer);
    trial.pdf.end();
    trial.pdf.resume();
    return pages === 1;
  }) ?? SIZES.at(-1)!;
  const sheet = openPdf(paper, size, options.compress ?? true);
  drawSheet(sheet, answer);
  sheet.pdf.end();
  return sheet.pdf;
}

function openPdf(paper: PaperName, size: number, compress: boolean): Sheet {
  const { widthMm, heightMm } = PAPERS[paper];
  const [width, height] = [widthMm * POINTS_A_MM, heightMm * POINTS_A_MM];
  const pdf = new PDFDocument({ size: [width, height], margin: 0, pdfVersion: '1.7', compress, info: { Title: STEP_WORDS.sheet.title } });
  registerFaces(pdf);
  return { pdf, size, left: MARGIN, right: width - MARGIN, bottom: height - MARGIN };
}

/** Draws everything; answers how many pages it took. */
function drawSheet(sheet: Sheet, answer: AsLeftAnswer): number {
  const { pdf, size, left, right } = sheet;
  const width = right - left;
  let pages = 1;
  let y = MARGIN;
  const needRoom = (height: number): void => {
    if (y + height <= sheet.bottom) return;
    pdf.addPage();
    pages += 1;
    y = MARGIN;
  };
  const write = (text: string, face: Face, pt: number, gap = 1): void => {
    const height = heightOf(pdf, text, face, pt, width);
    needRoom(height);
    put(pdf, text, face, pt, left, y, width);
    y += height + gap;
  };

  write(STEP_WORDS.sheet.title, 'strong', 14);
  write([answer.title, answer.machine, answer.customer].filter((line) => line !== null && line !== '').join(' · '), 'plain', size + 1);
  if (answer.part !== null) write(`${STEP_WORDS.sheet.newPart}: ${answer.part.title}, ${answer.part.id}`, 'plain', size + 1, 5);

  if (answer.wiring.length > 0) {
    const { columns } = STEP_WORDS.sheet;
    const rows = [[columns.wire, columns.leads, columns.was, columns.now, columns.end], ...answer.wiring.map(cellsOf)];
    rows.forEach((cells, index) => {
      const strong = index === 0;
      const work = index > 0 && answer.wiring[index - 1]!.work;
      const faces = cells.map((_, column): Face => (strong || (work && column === 3) ? 'strong' : 'plain'));
      const height = Math.max(...cells.map((text, column) => heightOf(pdf, text, faces[column]!, size, width * COLUMNS[column]! - 4))) + 3;
      needRoom(height);
      let x = left;
      cells.forEach((text, column) => {
        put(pdf, text, faces[column]!, size, x, y + 1.5, width * COLUMNS[column]! - 4);
        x += width * COLUMNS[column]!;
      });
      pdf.lineWidth(strong ? 0.9 : 0.3).moveTo(left, y + height).lineTo(right, y + height).stroke();
      y += height;
    });
    y += 7;
  }

  y = drawSteps(sheet, answer.steps, y, () => {
    pdf.addPage();
    pages += 1;
    return MARGIN;
  });
  for (const note of answer.notes) write(note, 'plain', size - 1);
  write(STEP_WORDS.sheet.cautions, 'plain', size - 1, 9);
  write(saySignOff(answer), 'strong', size + 0.5, 0);
  return pages;
}

/** Two columns of steps, filled one after the other and evened out; answers where the sheet goes on below them. */
function drawSteps({ pdf, size, left, right, bottom }: Sheet, steps: readonly AsLeftStepAnswer[], from: number, turnOver: () => number): number {
  const column = (right - left - GUTTER) / 2;
  const textWidth = column - BOX - 5;
  const heights = steps.map((step) => stepLines(step).reduce((sum, { text, face, pt }) => sum + heightOf(pdf, text, face, size + pt, textWidth), 0) + 3.2);
  let at = 0;
  let top = from;
  while (at < steps.length) {
    const room = bottom - top;
    const half = findHalf(heights.slice(at), room);
    let lowest = top;
    for (const side of [0, 1] as const) {
      let y = top;
      const x = left + side * (column + GUTTER);
      const upTo = at + (side === 0 ? half.first : half.second);
      for (; at < upTo; at++) {
        const step = steps[at]!;
        drawBox(pdf, x, y + 0.8, step.mark);
        let textY = y;
        for (const { text, face, pt } of stepLines(step)) {
          put(pdf, text, face, size + pt, x + BOX + 5, textY, textWidth);
          textY += heightOf(pdf, text, face, size + pt, textWidth);
        }
        y += heights[at]!;
      }
      lowest = Math.max(lowest, y);
    }
    if (at >= steps.length) return lowest + 4;
    top = turnOver();
  }
  return top;
}

/** How many of the next steps go into the left and how many into the right column of `room`: all of them, evenly, or as many as there is room for. */
function findHalf(heights: readonly number[], room: number): { first: number; second: number } {
  const total = heights.reduce((sum, height) => sum + height, 0);
  const fill = (from: number, limit: number): number => {
    let used = 0;
    let count = 0;
    while (from + count < heights.length && (used + heights[from + count]! <= limit || count === 0)) used += heights[from + count++]!;
    return count;
  };
  const tallest = Math.max(...heights);
  const first = fill(0, Math.min(room, total / 2 + tallest / 2));
  return { first, second: fill(first, room) };
}

interface Line { readonly text: string; readonly face: Face; readonly pt: number }

/** A step's words: what to do, its limit with room for the reading, and who ticked it when. */
function stepLines(step: AsLeftStepAnswer): Line[] {
  const optional = step.required ? '' : ` (${STEP_WORDS.sheet.optional})`;
  return [
    { text: `${step.says}${optional}`, face: 'plain', pt: 0 },
    ...(step.limit === null ? [] : [{ text: `${step.details[0]!}${step.tick === null ? ` ________ ${step.limit.unit}` : ''}`, face: 'plain' as const, pt: -1 }]),
    ...(step.tick === null ? [] : [{ text: sayTick(step), face: 'plain' as const, pt: -1 }]),
  ];
}

function cellsOf({ kind, wire, leads, was, now, end }: WiringLine): string[] {
  return kind === 'wire' ? [wire, leads, was, now, end] : [wire, '', '', now, ''];
}

/** The box of a step: empty, ticked or crossed. Drawn, since the typeface has neither sign. */
function drawBox(pdf: Pdf, x: number, y: number, mark: AsLeftStepAnswer['mark']): void {
  pdf.lineWidth(0.8).rect(x, y, BOX, BOX).stroke();
  pdf.lineWidth(1.3);
  if (mark === 'done') pdf.moveTo(x + BOX * 0.2, y + BOX * 0.55).lineTo(x + BOX * 0.42, y + BOX * 0.8).lineTo(x + BOX * 0.85, y + BOX * 0.2).stroke();
  if (mark === 'bad') pdf.moveTo(x + BOX * 0.2, y + BOX * 0.2).lineTo(x + BOX * 0.8, y + BOX * 0.8).moveTo(x + BOX * 0.8, y + BOX * 0.2).lineTo(x + BOX * 0.2, y + BOX * 0.8).stroke();
}

function put(pdf: Pdf, text: string, face: Face, pt: number, x: number, y: number, width: number): void {
  if (text !== '') pdf.font(face).fontSize(pt).text(spell(text), x, y, { width, lineGap: 0 });
}

function heightOf(pdf: Pdf, text: string, face: Face, pt: number, width: number): number {
  return text === '' ? 0 : pdf.font(face).fontSize(pt).heightOfString(spell(text), { width, lineGap: 0 });
}
