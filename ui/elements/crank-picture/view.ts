import { html, svg, type SVGTemplateResult, type TemplateResult } from 'lit';
import { CRANK_NODE_NAMES, type CrankNode, type ProveAnswer } from '../../../catalog-schema/index.ts';
import { drawCrank, drawCrankHatches, drawCrankPoint, drawMeter, drawProbe, DRAWING_WORDS, judgeParts, layCrankSheet, scaleOfCrank, type CrankSpot, type InterlocksAct } from '../../drawing/index.ts';

export type CrankPictureInput = Readonly<{
  widthPx: number; answer: ProveAnswer | undefined; interlocks: InterlocksAct; startSwitch: boolean; plus: CrankNode | undefined; minus: CrankNode | undefined; reading: string
  onPoint: (node: CrankNode) => void; onStart: () => void
}>;

/** The cranking circuit from what the element knows; keeps no state. */
export function viewCrankPicture(input: CrankPictureInput): TemplateResult {
  const { widthPx, answer, interlocks, startSwitch } = input;
  const scale = scaleOfCrank(widthPx);
  const sheet = layCrankSheet({ widthPx: widthPx / scale, interlocks, startSwitch, states: answer === undefined ? [] : judgeParts(answer) });
  const { crank } = DRAWING_WORDS;
  const at = (node: CrankNode | undefined) => sheet.spots.find((spot) => spot.node === node)?.at;
  const { target } = sheet.start;
  return html`<svg width=${sheet.width * scale} height=${sheet.height * scale} viewBox=${`0 0 ${sheet.width} ${sheet.height}`} role="group" aria-label=${crank.spoken(startSwitch ? crank.held : crank.off)}>
    ${drawCrankHatches()}${drawCrank(sheet)}
    ${sheet.spots.map((spot) => viewPoint(spot, input))}
    <g role="button" tabindex="0" aria-pressed=${startSwitch ? 'true' : 'false'} aria-label=${crank.startSpoken} data-start @click=${input.onStart} @keydown=${pressOn(input.onStart)}>
      <rect class="hit" x=${target.left} y=${target.top} width=${target.right - target.left} height=${target.bottom - target.top} />
      <rect class="focus-ring" x=${target.left + 2} y=${target.top + 2} width=${target.right - target.left - 4} height=${target.bottom - target.top - 4} rx="4" /></g>
    <g pointer-events="none">${drawMeter(at(input.plus), at(input.minus), input.reading, sheet)}</g>
  </svg>`;
}

function viewPoint({ node, at, target }: CrankSpot, { plus, minus, onPoint }: CrankPictureInput): SVGTemplateResult {
  const { crank } = DRAWING_WORDS;
  const probe = node === plus ? crank.plusProbe : node === minus ? crank.minusProbe : '';
  return svg`<g role="button" tabindex="0" data-node=${node} aria-pressed=${probe === '' ? 'false' : 'true'} aria-label=${crank.pointSpoken(CRANK_NODE_NAMES[node], probe)}
      @click=${() => onPoint(node)} @keydown=${pressOn(() => onPoint(node))}>
    <rect class="hit" x=${target.left} y=${target.top} width=${target.right - target.left} height=${target.bottom - target.top} />
    ${drawCrankPoint(node, at)}
    ${probe === '' ? null : drawProbe(at, node === plus ? 'red' : 'black')}
    <circle class="focus-ring" cx=${at.x} cy=${at.y} r="21" /></g>`;
}

function pressOn(act: () => void): (event: KeyboardEvent) => void {
  return (event) => {
    if (event.key !== 'Enter' && event.key !== ' ') return;
    event.preventDefault();
    act();
  };
}
