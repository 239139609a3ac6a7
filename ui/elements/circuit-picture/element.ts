import { LitElement, type TemplateResult } from 'lit';
import type { CircuitElement, Terminal } from '../../../catalog-schema/index.ts';
import { WidthWatcher, drawingStyle } from '../../drawing/index.ts';
import { viewCircuitPicture } from './view.ts';

/**
 * `<circuit-picture>`: what is inside a part, between its terminals and its case, at rest or pulled in.
 *
 * Properties: `terminals` {id}[] · `circuit` CircuitElement[] of the part · `pulledIn` boolean · `live` ids of nodes that are live in the
 * state shown, drawn in the pencil · `roles` what each terminal is for, by its id, written over it · `caption` false to leave out the words of the state. No events.
 */
export class CircuitPicture extends LitElement {
  static override properties = {
    terminals: { attribute: false }, circuit: { attribute: false }, pulledIn: { type: Boolean, attribute: 'pulled-in' },
    live: { attribute: false }, roles: { attribute: false }, caption: { attribute: false },
  };
  static override styles = drawingStyle;

  declare terminals: readonly Pick<Terminal, 'id'>[];
  declare circuit: readonly CircuitElement[];
  declare pulledIn: boolean;
  declare live: readonly string[];
  declare roles: Readonly<Record<string, string>>;
  declare caption: boolean;

  #width = new WidthWatcher(this, 620);

  constructor() {
    super();
    this.terminals = [];
    this.circuit = [];
    this.pulledIn = false;
    this.live = [];
    this.roles = {};
    this.caption = true;
  }

  override render(): TemplateResult | null {
    if (this.circuit.length === 0) return null;
    return viewCircuitPicture({
      terminals: this.terminals, circuit: this.circuit, pulledIn: this.pulledIn, live: this.live, roles: this.roles, widthPx: this.#width.px, caption: this.caption,
    });
  }
}

customElements.define('circuit-picture', CircuitPicture);

declare global {
  interface HTMLElementTagNameMap { 'circuit-picture': CircuitPicture }
}
