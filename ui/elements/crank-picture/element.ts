import { css, LitElement, type TemplateResult } from 'lit';
import type { CrankNode, ProveAnswer } from '../../../catalog-schema/index.ts';
import { drawingStyle, WidthWatcher, type InterlocksAct } from '../../drawing/index.ts';
import { viewCrankPicture } from './view.ts';

const crankStyle = css`
  .crank-case { fill: none; stroke: var(--ink-2); stroke-width: 1px; }
  .crank-body { fill: none; stroke: var(--ink); stroke-width: var(--weight); }
  .crank-wire { fill: none; stroke: var(--ink); stroke-width: var(--weight); stroke-linejoin: round; }
  .crank-cable { fill: none; stroke: var(--ink); stroke-width: calc(6px + var(--weight)); stroke-linejoin: round; }
  .crank-core { fill: none; stroke: var(--paper); stroke-width: calc(6px - var(--weight)); stroke-linejoin: round; }
  .crank-bridge { fill: none; stroke: var(--ink); stroke-width: calc(2px + var(--weight)); stroke-linecap: round; }
  .crank-part { --weight: 1.5px; }
  .crank-cleared { --weight: 0.75px; }
  .crank-cleared .crank-body, .crank-cleared .crank-wire, .crank-cleared .crank-bridge, .crank-cleared .crank-cable { stroke: var(--ghost); }
  .crank-possible { --weight: 2.5px; }
  .crank-likely, .crank-proven { --weight: 4px; }
  .hatch { stroke: var(--ink-2); stroke-width: 1px; }
  .crank-lead { stroke-width: 2px; stroke-dasharray: 2 6; }
  .crank-meter { fill: var(--paper); stroke: var(--do); stroke-width: var(--line); }
`;

/**
 * `<crank-picture>`: the cranking circuit, with what the evidence says of each part drawn on the part and every point that a meter can touch.
 *
 * Properties: `answer` of prove, or undefined · `interlocks` where they act on the coil · `startSwitch` drawn held · `plus`, `minus` where the probes are ·
 * `reading` what the meter shows, as text. Events: `point-tap` { node } · `start-tap`.
 */
export class CrankPicture extends LitElement {
  static override properties = { answer: { attribute: false }, interlocks: {}, startSwitch: { type: Boolean }, plus: {}, minus: {}, reading: {} };
  static override styles = [drawingStyle, crankStyle];

  declare answer: ProveAnswer | undefined;
  declare interlocks: InterlocksAct;
  declare startSwitch: boolean;
  declare plus: CrankNode | undefined;
  declare minus: CrankNode | undefined;
  declare reading: string;

  #width = new WidthWatcher(this, 720);

  constructor() {
    super();
    this.interlocks = 'in-return';
    this.startSwitch = true;
    this.reading = '';
  }

  override render(): TemplateResult {
    return viewCrankPicture({
      widthPx: this.#width.px, answer: this.answer, interlocks: this.interlocks, startSwitch: this.startSwitch, plus: this.plus, minus: this.minus, reading: this.reading,
      onPoint: (node) => this.dispatchEvent(new CustomEvent('point-tap', { detail: { node } })), onStart: () => this.dispatchEvent(new CustomEvent('start-tap')),
    });
  }
}

customElements.define('crank-picture', CrankPicture);

declare global {
  interface HTMLElementTagNameMap { 'crank-picture': CrankPicture }
}
