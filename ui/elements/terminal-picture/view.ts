import { html, svg, type SVGTemplateResult, type TemplateResult } from 'lit';
import type { Wire } from '../../../catalog-schema/index.ts';
import {
  DRAWING_WORDS, type FaceLook, type FaceSheet, type FaceSpot, type FaceTerminal, type FaceWire,
  drawFaceGround, drawFaceSpot, drawMark, markBox, sayScale, sayWire, terminalLines, wireWidthPx,
} from '../../drawing/index.ts';

/** A picture beneath the face: `toMm` maps its px (y down) to the face's mm (y up): x' = a x + c y + e, y' = b x + d y + f. */
export type FacePhoto = Readonly<{ href: string; widthPx: number; heightPx: number; toMm: readonly [a: number, b: number, c: number, d: number, e: number, f: number] }>;

export type TerminalPictureInput = Readonly<{
  sheet: FaceSheet; terminals: readonly FaceTerminal[]; look: FaceLook
  selected: readonly string[]; selectedWire: string
  /** may terminals be tapped, and is the case one of the places */
  live: boolean; withCase: boolean; caption: boolean
  photo?: FacePhoto
  onTap: (id: string) => void
  onKey: (event: KeyboardEvent, id: string) => void
  onWire: (tag: string) => void
}>;

const TARGET = 48;

/** The terminal picture from what the element knows; keeps no state. */
export function viewTerminalPicture(input: TerminalPictureInput): TemplateResult {
  const { sheet, terminals, look } = input;
  if (terminals.length === 0) return html`<p class="empty">${DRAWING_WORDS.nothingYet}</p>`;
  const caseHeight = input.withCase ? TARGET : 0;
  return html`<svg width=${sheet.width} height=${sheet.height + caseHeight} viewBox=${`0 0 ${sheet.width} ${sheet.height + caseHeight}`}
      role=${input.live ? 'group' : 'img'} aria-label=${describeFace(input)}>
    ${viewPhoto(input)}
    ${drawFaceGround(sheet, look)}
    ${sheet.spots.map((spot) => viewSpot(spot, input))}
    ${input.live ? sheet.wires.map((wire) => viewWireTarget(wire, input)) : null}
    ${input.withCase ? viewCase(input) : null}
  </svg>
  ${input.caption ? html`<p class="caption">${sayScale(terminals)} · ${DRAWING_WORDS.bracketSide} ↓</p>` : null}`;
}

/** What a terminal is, in words: first what stands beside it in the drawing, then its form and the wires on it. */
export function describeTerminal(terminal: FaceTerminal, wires: readonly Wire[]): string {
  const hung = wires.filter((w) => w.wasOn === terminal.id).map((wire) => sayWire({ wire })).join('; ');
  return DRAWING_WORDS.terminalSpoken(terminalLines(terminal).join(' '), DRAWING_WORDS.forms[terminal.form], hung);
}

function describeFace(input: TerminalPictureInput): string {
  const words = DRAWING_WORDS.faceSpoken(input.terminals.length);
  if (input.live) return words;
  const wires = input.sheet.wires.map((w) => w.wire);
  return `${words}. ${input.terminals.map((t) => describeTerminal(t, wires)).join('. ')}`;
}

function viewSpot(spot: FaceSpot, input: TerminalPictureInput): SVGTemplateResult {
  const { terminal, centre } = spot;
  const chosen = input.selected.includes(terminal.id);
  const drawn = svg`${drawFaceSpot(spot, input.sheet, input.look)}${chosen ? drawMark('do', spot) : null}`;
  if (!input.live) return svg`<g>${drawn}</g>`;
  const ring = markBox(spot);
  const reach = Math.max(TARGET / 2, (ring.right - ring.left) / 2, (ring.bottom - ring.top) / 2);
  return svg`<g role="button" tabindex="0" data-terminal=${terminal.id} aria-pressed=${chosen ? 'true' : 'false'}
      aria-label=${describeTerminal(terminal, input.sheet.wires.map((w) => w.wire))}
      @click=${() => input.onTap(terminal.id)} @keydown=${(event: KeyboardEvent) => input.onKey(event, terminal.id)}>
    <circle class="hit" cx=${centre.x} cy=${centre.y} r=${reach} />
    ${drawn}
    <circle class="focus-ring" cx=${centre.x} cy=${centre.y} r=${reach + 2} />
  </g>`;
}

function viewWireTarget(faceWire: FaceWire, input: TerminalPictureInput): SVGTemplateResult {
  const { wire, label } = faceWire;
  const height = Math.max(TARGET, label.bottom - label.top);
  const chosen = input.selectedWire === wire.tag;
  const end = faceWire.points.at(-1)!;
  return svg`<g role="button" tabindex="0" data-wire=${wire.tag} aria-pressed=${chosen ? 'true' : 'false'} aria-label=${sayWire(faceWire)}
      @click=${() => input.onWire(wire.tag)}
      @keydown=${(event: KeyboardEvent) => { if (event.key === 'Enter' || event.key === ' ') { event.preventDefault(); input.onWire(wire.tag); } }}>
    <rect class="hit" x=${label.left} y=${(label.top + label.bottom - height) / 2} width=${label.right - label.left} height=${height} />
    ${chosen ? svg`<rect class="mark-do" x=${label.left} y=${label.top} width=${label.right - label.left} height=${label.bottom - label.top} rx="2" />
      <circle class="wash-do" cx=${end.x} cy=${end.y} r=${wireWidthPx(wire) / 2 + 3} />` : null}
    <rect class="focus-ring" x=${label.left - 2} y=${label.top - 2} width=${label.right - label.left + 4} height=${label.bottom - label.top + 4} />
  </g>`;
}

/** The metal body as a place for a meter's probe, under the face, where the bracket is. */
function viewCase(input: TerminalPictureInput): SVGTemplateResult {
  const { sheet } = input;
  const chosen = input.selected.includes('case');
  const [left, right] = [sheet.width / 2 - 90, sheet.width / 2 + 90];
  const top = sheet.height + 2;
  return svg`<g role="button" tabindex="0" data-terminal="case" aria-pressed=${chosen ? 'true' : 'false'} aria-label=${DRAWING_WORDS.caseSpoken}
      @click=${() => input.onTap('case')} @keydown=${(event: KeyboardEvent) => input.onKey(event, 'case')}>
    <rect class=${chosen ? 'mark-do' : 'outline'} x=${left} y=${top} width=${right - left} height=${TARGET - 6} rx="2" />
    <rect class="hit" x=${left} y=${top} width=${right - left} height=${TARGET} />
    <text class="strong" text-anchor="middle" x=${sheet.width / 2} y=${top + 26}>${DRAWING_WORDS.case}</text>
    <rect class="focus-ring" x=${left - 3} y=${top - 3} width=${right - left + 6} height=${TARGET} />
  </g>`;
}

/** As far as the face reaches: labels and wires stay on plain ground. */
function viewPhoto(input: TerminalPictureInput): SVGTemplateResult | null {
  const { photo, sheet } = input;
  if (photo === undefined) return null;
  const { body, projection: { scale, origin } } = sheet;
  const [a, b, c, d, e, f] = photo.toMm;
  const matrix = [scale * a, -scale * b, scale * c, -scale * d, origin.x + scale * e, origin.y - scale * f].join(' ');
  return svg`<clipPath id="face-photo"><rect x=${body.left} y=${body.top} width=${body.right - body.left} height=${body.bottom - body.top}></rect></clipPath>
    <g clip-path="url(#face-photo)"><image href=${photo.href} opacity="0.5" preserveAspectRatio="none" width=${photo.widthPx} height=${photo.heightPx} transform=${`matrix(${matrix})`}></image></g>`;
}
