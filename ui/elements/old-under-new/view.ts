import { html, type TemplateResult } from 'lit';
import { DRAWING_WORDS, type MountingInput, PX_PER_MM_TRUE, drawMounting, groupNewHoles, layMountingSheet, sayMm } from '../../drawing/index.ts';

export type OldUnderNewInput = MountingInput & Readonly<{ caption: boolean }>;

/** Old bolts under the new bracket; keeps no state. */
export function viewOldUnderNew(input: OldUnderNewInput): TemplateResult {
  const sheet = layMountingSheet(input);
  const inMm = (px: number): string => `${(px / PX_PER_MM_TRUE).toFixed(3)}mm`;
  const [width, height] = input.trueSize === true ? [inMm(sheet.width), inMm(sheet.height)] : [sheet.width, sheet.height];
  const words = describeMounting(input);
  return html`<svg class=${input.trueSize === true ? 'true-size' : ''} width=${width} height=${height} viewBox=${`0 0 ${sheet.width} ${sheet.height}`}
      role="img" aria-label=${words.join('. ')}>${drawMounting(input, sheet)}</svg>
    ${input.caption ? html`<p class="caption">${words.map((line, i) => html`${i === 0 ? null : html`<br>`}${line}`)}</p>` : null}`;
}

/** What the drawing shows, in words. */
export function describeMounting(input: MountingInput): string[] {
  const { placement, units } = input;
  const lines: string[] = [];
  if (input.bolts.length === 0) lines.push(DRAWING_WORDS.noBolts);
  else if (input.holes.length === 0) lines.push(DRAWING_WORDS.noHoles);
  else if (placement === null) lines.push(DRAWING_WORDS.noPlacement);
  else {
    const turn = Math.abs(placement.rotationDeg) < 0.05 && !placement.flipped ? DRAWING_WORDS.asItStands
      : placement.flipped ? DRAWING_WORDS.turnedOver : '';
    const turned = Math.abs(placement.rotationDeg) < 0.05 ? '' : DRAWING_WORDS.turned(`${sayMm(placement.rotationDeg)}°`);
    lines.push(`${DRAWING_WORDS.greyUnderInk}; ${[turn, turned].filter(Boolean).join(', ')}`);
    lines.push(...groupNewHoles(placement.newHoles, units).map((group) => group.words));
  }
  lines.push(DRAWING_WORDS.outlineTaken);
  if (input.trueSize === true) lines.push(DRAWING_WORDS.trueSize);
  return lines;
}
