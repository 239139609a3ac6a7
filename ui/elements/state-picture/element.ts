import { LitElement, type TemplateResult } from 'lit';
import type { SwitchState } from '../../../catalog-schema/index.ts';
import { WidthWatcher, drawingStyle, type InterlocksAct } from '../../drawing/index.ts';
import { viewStatePicture } from './view.ts';

/**
 * `<state-picture>`: the cranking circuit in one position of its switches, lit as far as battery volts reach.
 *
 * Properties: `state` SwitchState of a plan · `interlocks` where they act on the coil · `hasFeed` the plan has a cranking feed. No events.
 */
export class StatePicture extends LitElement {
  static override properties = { state: { attribute: false }, interlocks: {}, hasFeed: { type: Boolean } };
  static override styles = drawingStyle;

  declare state: SwitchState | undefined;
  declare interlocks: InterlocksAct;
  declare hasFeed: boolean;

  #width = new WidthWatcher(this, 320);

  constructor() {
    super();
    this.state = undefined;
    this.interlocks = 'in-feed';
    this.hasFeed = false;
  }

  override render(): TemplateResult | null {
    if (this.state === undefined) return null;
    return viewStatePicture({ state: this.state, interlocks: this.interlocks, hasFeed: this.hasFeed, widthPx: Math.min(this.#width.px, 420) });
  }
}

customElements.define('state-picture', StatePicture);

declare global {
  interface HTMLElementTagNameMap { 'state-picture': StatePicture }
}
