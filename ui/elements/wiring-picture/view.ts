import { html, type TemplateResult } from 'lit';
import { DRAWING_WORDS, type WiringInput, type WiringLane, drawWiring, layWiringSheet, sayId, sayScale, sayWire } from '../../drawing/index.ts';

export type WiringPictureInput = WiringInput & Readonly<{ caption: boolean }>;

/** Every wire from its old place to its new one; keeps no state. */
export function viewWiringPicture(input: WiringPictureInput): TemplateResult {
  const sheet = layWiringSheet(input);
  const words = [DRAWING_WORDS.wiringSpoken, ...sheet.lanes.map(describeLane),
    ...input.plan.jumpers.map((jumper) => DRAWING_WORDS.jumperFromTo(jumper.from, jumper.to))];
  const scales = [...new Set([`${DRAWING_WORDS.oldPart}: ${sayScale(input.oldTerminals)}`, `${DRAWING_WORDS.newPart}: ${sayScale(input.newTerminals)}`])];
  const { bareTerminals } = input.plan;
  const bare = bareTerminals.length === 0 ? '' : `${DRAWING_WORDS.bare}: ${bareTerminals.map(sayId).join(', ')}`;
  return html`<svg width=${sheet.width} height=${sheet.height} viewBox=${`0 0 ${sheet.width} ${sheet.height}`} role="img" aria-label=${words.join('. ')}>
      ${drawWiring(sheet)}</svg>
    ${input.caption ? html`<p class="caption">${bare === '' ? null : html`${bare}<br>`}${scales.join(' · ')}</p>` : null}`;
}

function describeLane(lane: WiringLane): string {
  const wire = sayWire(lane);
  if (lane.fate === 'left-off') return `${wire}, ${DRAWING_WORDS.leftOff}`;
  const how = [lane.fate === 'moves' ? DRAWING_WORDS.moves : DRAWING_WORDS.stays, ...(lane.newEnd ? [DRAWING_WORDS.newEnd] : [])].join(', ');
  return DRAWING_WORDS.wiringMove(wire, lane.wire.wasOn, lane.to, how);
}
