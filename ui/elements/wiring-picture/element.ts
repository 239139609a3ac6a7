import { LitElement, type TemplateResult } from 'lit';
import type { Plan, RecordTerminal, Terminal, Wire } from '../../../catalog-schema/index.ts';
import { WidthWatcher, drawingStyle, faceTerminals } from '../../drawing/index.ts';
import { viewWiringPicture } from './view.ts';

/**
 * `<wiring-picture>`: the old part's face above the new one's, to one scale, and each wire's path from its old place to the new.
 *
 * Properties: `oldTerminals` RecordTerminal[] of the record · `newTerminals` Terminal[] of the part · `wires` Wire[] of the record
 * · `plan` Plan (one plan of a rewire answer; nothing is drawn while undefined) · `units` 'mm' | 'inch' · `caption` false to leave
 * out the line about the scale. No events.
 */
export class WiringPicture extends LitElement {
  static override properties = {
    oldTerminals: { attribute: false }, newTerminals: { attribute: false }, wires: { attribute: false }, plan: { attribute: false },
    units: {}, caption: { attribute: false },
  };
  static override styles = drawingStyle;

  declare oldTerminals: readonly (RecordTerminal | Terminal)[];
  declare newTerminals: readonly (RecordTerminal | Terminal)[];
  declare wires: readonly Wire[];
  declare plan: Plan | undefined;
  declare units: 'mm' | 'inch';
  declare caption: boolean;

  #width = new WidthWatcher(this, 760);

  constructor() {
    super();
    this.oldTerminals = [];
    this.newTerminals = [];
    this.wires = [];
    this.plan = undefined;
    this.units = 'mm';
    this.caption = true;
  }

  override render(): TemplateResult | null {
    if (this.plan === undefined) return null;
    return viewWiringPicture({
      oldTerminals: faceTerminals(this.oldTerminals, this.units), newTerminals: faceTerminals(this.newTerminals, this.units),
      wires: this.wires, plan: this.plan, widthPx: this.#width.px, caption: this.caption,
    });
  }
}

customElements.define('wiring-picture', WiringPicture);

declare global {
  interface HTMLElementTagNameMap { 'wiring-picture': WiringPicture }
}
