import PDFDocument from 'pdfkit';
import { LINE_MM, layOutGaugeSheet, type Mark, type PaperName } from '../../catalog-schema/gauge-sheet/index.ts';
import { registerFaces } from '../services/index.ts';

/** A PDF point is 1/72 in (ISO 32000-1, 8.3.2.3). */
const POINTS_A_MM = 72 / 25.4;

/** The gauge sheet as a PDF stream. `compress: false` leaves the drawing readable, for tests. */
export function drawGaugePdf(paper: PaperName, options: { compress?: boolean } = {}): PDFKit.PDFDocument {
  const sheet = layOutGaugeSheet(paper);
  const pdf = new PDFDocument({ autoFirstPage: false, margin: 0, pdfVersion: '1.7', compress: options.compress ?? true, info: { Title: 'Bench gauge sheet' } });
  // Asks the printing program not to fit the page to the paper (ISO 32000-1, table 150); some do not listen, hence the bars.
  const { _root: root } = pdf as unknown as { readonly _root: { readonly data: Record<string, unknown> } };
  root.data['ViewerPreferences'] = pdf.ref({ PrintScaling: 'None', DisplayDocTitle: true });
  registerFaces(pdf);
  for (const page of sheet.pages) {
    pdf.addPage({ size: [page.widthMm * POINTS_A_MM, page.heightMm * POINTS_A_MM], margin: 0 });
    for (const mark of page.marks) drawMark(pdf, mark);
  }
  pdf.end();
  return pdf;
}

function drawMark(pdf: PDFKit.PDFDocument, mark: Mark): void {
  const points = (mm: number): number => mm * POINTS_A_MM;
  switch (mark.kind) {
    case 'line':
      pdf.lineWidth(points(LINE_MM[mark.weight])).moveTo(points(mark.x1), points(mark.y1)).lineTo(points(mark.x2), points(mark.y2)).stroke();
      return;
    case 'circle':
      pdf.lineWidth(points(LINE_MM[mark.weight])).circle(points(mark.x), points(mark.y), points(mark.diameterMm / 2)).stroke();
      return;
    case 'polygon':
      pdf.lineWidth(points(LINE_MM[mark.weight])).polygon(...mark.points.map(([x, y]) => [points(x), points(y)])).stroke();
      return;
    case 'text': {
      pdf.font(mark.strong ? 'strong' : 'plain').fontSize(points(mark.sizeMm));
      const width = pdf.widthOfString(mark.words);
      const shift = mark.anchor === 'start' ? 0 : mark.anchor === 'middle' ? width / 2 : width;
      pdf.text(mark.words, points(mark.x) - shift, points(mark.y), { lineBreak: false, baseline: 'alphabetic' });
    }
  }
}
