import PDFDocument from 'pdfkit';
import { PAPERS, type PaperName } from '../../catalog-schema/gauge-sheet/index.ts';
import type { CustomerRecord } from '../../catalog-schema/index.ts';
import { listSections, RECORD_WORDS, type RecordSection } from '../engine/record/index.ts';
import { registerFaces, spell, type Face } from '../services/index.ts';
import { sayMoment } from './print-as-left.ts';

/** A PDF point is 1/72 in (ISO 32000-1, 8.3.2.3). */
const POINTS_A_MM = 72 / 25.4;
const MARGIN = 14 * POINTS_A_MM;
const GUTTER = 8 * POINTS_A_MM;
/** Sizes of type tried from the largest until the page is one sheet, pt; a job with very many readings goes on over the page. */
const SIZES = [10, 9.5, 9, 8.5, 8, 7.5, 7, 6.5];
/** What the left column of a table takes of its width. */
const WHAT = 0.62;

type Pdf = PDFKit.PDFDocument;
interface Sheet { readonly pdf: Pdf; readonly size: number; readonly width: number; readonly height: number }
/** One line or row of the page, with the height it takes. */
interface Block { readonly height: number; readonly keepWithNext: boolean; draw(x: number, y: number): void }

/** The customer's page as one sheet in two columns. `compress: false` is for tests. */
export function drawRecordPdf(record: CustomerRecord, paper: PaperName, { compress = true }: { compress?: boolean } = {}): Pdf {
  const size = SIZES.find((each) => {
    const trial = openPdf(paper, each, true);
    const pages = drawPage(trial, record);
    trial.pdf.end();
    trial.pdf.resume();
    return pages === 1;
  }) ?? SIZES.at(-1)!;
  const sheet = openPdf(paper, size, compress);
  drawPage(sheet, record);
  sheet.pdf.end();
  return sheet.pdf;
}

function openPdf(paper: PaperName, size: number, compress: boolean): Sheet {
  const { widthMm, heightMm } = PAPERS[paper];
  const [width, height] = [widthMm * POINTS_A_MM, heightMm * POINTS_A_MM];
  const pdf = new PDFDocument({ size: [width, height], margin: 0, pdfVersion: '1.7', compress, info: { Title: RECORD_WORDS.title } });
  registerFaces(pdf);
  return { pdf, size, width, height };
}

/** Draws everything; answers how many pages it took. */
function drawPage({ pdf, size, width, height }: Sheet, record: CustomerRecord): number {
  const head = makeText(pdf, RECORD_WORDS.title, 'strong', 16, width - 2 * MARGIN);
  const title = makeText(pdf, record.title, 'strong', size + 1, width - 2 * MARGIN);
  const about = makeText(pdf, [record.machine, record.customer].filter((line) => line !== null && line !== '').join(' · '), 'plain', size + 1, width - 2 * MARGIN);
  let top = MARGIN;
  for (const block of [head, title, about]) {
    block.draw(MARGIN, top);
    top += block.height + 2;
  }
  top += 3;
  pdf.lineWidth(0.9).moveTo(MARGIN, top).lineTo(width - MARGIN, top).stroke();
  top += 8;
  const column = (width - 2 * MARGIN - GUTTER) / 2;
  const blocks = listSections(record, sayMoment).flatMap((section) => makeSection(pdf, section, size, column, record.found.proven));
  return flow(pdf, blocks, top, height - MARGIN, [MARGIN, MARGIN + column + GUTTER]);
}

/** Fills one column after another, evened out where all fit on this page. */
function flow(pdf: Pdf, blocks: readonly Block[], from: number, bottom: number, columns: readonly number[]): number {
  let pages = 1;
  let column = 0;
  let top = from;
  let y = from;
  const total = blocks.reduce((sum, { height }) => sum + height, 0);
  const tallest = Math.max(...blocks.map(({ height }) => height));
  let foot = Math.min(bottom, from + total / 2 + tallest + 20);
  blocks.forEach((block, index) => {
    const room = block.height + (block.keepWithNext ? blocks[index + 1]?.height ?? 0 : 0);
    if (y + room > foot && y > top) {
      column += 1;
      foot = bottom;
      if (column === columns.length) {
        pdf.addPage();
        pages += 1;
        column = 0;
        top = MARGIN;
      }
      y = top;
    }
    block.draw(columns[column]!, y);
    y += block.height;
  });
  return pages;
}

function makeSection(pdf: Pdf, { name, title, lines, table }: RecordSection, size: number, width: number, proven: boolean): Block[] {
  return [
    makeText(pdf, title, 'strong', size + 1, width, { before: 7, after: 2, keepWithNext: true }),
    ...lines.map((line, index) => makeText(pdf, line, name === 'found' && proven && index === 0 ? 'strong' : 'plain', size, width, { after: 2 })),
    ...table.map(({ what, showed }): Block => {
      const [left, right] = [makeText(pdf, what, 'plain', size - 0.5, width * WHAT - 6), makeText(pdf, showed, 'plain', size - 0.5, width * (1 - WHAT))];
      const height = Math.max(left.height, right.height) + 3.5;
      return {
        height, keepWithNext: false,
        draw: (x, y) => {
          left.draw(x, y + 1.2);
          right.draw(x + width * WHAT, y + 1.2);
          pdf.lineWidth(0.3).moveTo(x, y + height).lineTo(x + width, y + height).stroke();
        },
      };
    }),
  ];
}

function makeText(pdf: Pdf, text: string, face: Face, pt: number, width: number, { before = 0, after = 0, keepWithNext = false } = {}): Block {
  const said = spell(text);
  const height = said === '' ? 0 : pdf.font(face).fontSize(pt).heightOfString(said, { width }) + before + after;
  return { height, keepWithNext, draw: (x, y) => { if (said !== '') pdf.font(face).fontSize(pt).text(said, x, y + before, { width }); } };
}
