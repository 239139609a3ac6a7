import { svg, type SVGTemplateResult } from 'lit';
import { LINE_MM, type Mark } from '../../catalog-schema/gauge-sheet/index.ts';

/** One mark of a page that prints at true size, in a drawing whose unit is a millimetre. Words take their size from a style: a rule of the page may not change it. */
export function drawPaperMark(mark: Mark): SVGTemplateResult {
  switch (mark.kind) {
    case 'line': return svg`<line x1=${mark.x1} y1=${mark.y1} x2=${mark.x2} y2=${mark.y2} stroke-width=${LINE_MM[mark.weight]}></line>`;
    case 'circle': return svg`<circle cx=${mark.x} cy=${mark.y} r=${mark.diameterMm / 2} stroke-width=${LINE_MM[mark.weight]}></circle>`;
    case 'polygon': return svg`<polygon points=${mark.points.map((point) => point.join(',')).join(' ')} stroke-width=${LINE_MM[mark.weight]}></polygon>`;
    case 'text': return svg`<text x=${mark.x} y=${mark.y} style=${`font-size: ${mark.sizeMm}px`} font-weight=${mark.strong ? 700 : 400} text-anchor=${mark.anchor}>${mark.words}</text>`;
  }
}
