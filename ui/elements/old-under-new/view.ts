import { html, type TemplateResult } from 'lit';
import {
  DRAWING_WORDS, type FaceOverInput, type FaceOverSheet, type MountingInput, drawFaceOver, drawMounting, groupNewHoles, layFaceOverSheet,
  layMountingSheet, sayMm, sayScale,
} from '../../drawing/index.ts';

export type OldUnderNewInput = MountingInput & Readonly<{ caption: boolean; face?: FaceOverInput }>;

/** The old part under the new one: terminals with the way of each wire, where they are given; bolts under bracket. Keeps no state. */
export function viewOldUnderNew(input: OldUnderNewInput): TemplateResult {
  const sheet = layMountingSheet(input);
  const words = describeMounting(input);
  const anyHole = input.bolts.length > 0 || input.holes.length > 0;
  return html`${input.face === undefined ? null : viewFaceOver(input.face, input)}
    ${anyHole ? html`<svg width=${sheet.width} height=${sheet.height} viewBox=${`0 0 ${sheet.width} ${sheet.height}`}
      role="img" aria-label=${words.join('. ')}>${drawMounting(input, sheet)}</svg>
    ${input.caption ? viewCaption(words) : null}` : null}`;
}

function viewFaceOver(face: FaceOverInput, { placement }: Pick<MountingInput, 'placement'>): TemplateResult {
  const sheet = layFaceOverSheet(face);
  const turned = placement !== null && (Math.abs(placement.rotationDeg) >= 0.05 || placement.flipped);
  const words = [DRAWING_WORDS.faceOver, ...describeWays(face, sheet), ...(turned ? [DRAWING_WORDS.faceTurned] : [])];
  const scales = [...new Set([`${DRAWING_WORDS.oldPart}: ${sayScale(face.oldTerminals)}`, `${DRAWING_WORDS.newPart}: ${sayScale(face.newTerminals)}`])];
  return html`<svg width=${sheet.face.width} height=${sheet.face.height} viewBox=${`0 0 ${sheet.face.width} ${sheet.face.height}`} role="img"
      aria-label=${words.join('. ')}>${drawFaceOver(sheet)}</svg>
    ${viewCaption([...words, scales.join(' · ')])}`;
}

/** The wires' ways in words, for those who hear the drawing and under it for all. */
export function describeWays({ plan, wires }: FaceOverInput, { ways, elsewhere }: FaceOverSheet): string[] {
  const moves = ways.filter(({ moved }) => moved).map(({ wire }) => DRAWING_WORDS.wayOf(wire.tag, wire.wasOn, plan.wires.find(({ tag }) => tag === wire.tag)!.to));
  const others = elsewhere.map(({ wire, to }) => (to === undefined ? DRAWING_WORDS.staysOff(wire.tag) : DRAWING_WORDS.goesElsewhere(wire.tag, to)));
  const jumpers = plan.jumpers.map(({ from, to }) => DRAWING_WORDS.jumperFromTo(from, to));
  return [...(moves.length + others.length === 0 && wires.length > 0 ? [DRAWING_WORDS.allStay] : [...moves, ...others]), ...jumpers];
}

function viewCaption(words: readonly string[]): TemplateResult {
  return html`<p class="caption">${words.map((line, i) => html`${i === 0 ? null : html`<br>`}${line}`)}</p>`;
}

/** What the drawing of bolts and bracket shows, in words. */
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
  return lines;
}
