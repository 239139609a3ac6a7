import { LitElement, type TemplateResult } from 'lit';
import type { RecordTerminal, Terminal, Wire } from '../../../catalog-schema/index.ts';
import { WidthWatcher, drawingStyle } from '../../drawing/index.ts';
import { viewStackPicture } from './view.ts';

/**
 * `<stack-picture>`: the order in which lugs, washer and nuts go on one terminal, from the side, numbered as they are put on.
 *
 * Properties: `terminal` Terminal or RecordTerminal (its form decides; nothing is drawn while undefined) · `wires` Wire[] that go on it
 * · `jumpers` number of jumper lugs that go on it too · `torque` string, what to tighten to with its source, '' when not known. No events.
 */
export class StackPicture extends LitElement {
  static override properties = {
    terminal: { attribute: false }, wires: { attribute: false }, jumpers: { type: Number }, torque: {},
  };
  static override styles = drawingStyle;

  declare terminal: Terminal | RecordTerminal | undefined;
  declare wires: readonly Wire[];
  declare jumpers: number;
  declare torque: string;

  #width = new WidthWatcher(this, 460);

  constructor() {
    super();
    this.terminal = undefined;
    this.wires = [];
    this.jumpers = 0;
    this.torque = '';
  }

  override render(): TemplateResult | null {
    if (this.terminal === undefined) return null;
    return viewStackPicture({
      form: this.terminal.form, wires: this.wires, jumpers: this.jumpers, torque: this.torque, widthPx: this.#width.px,
    });
  }
}

customElements.define('stack-picture', StackPicture);

declare global {
  interface HTMLElementTagNameMap { 'stack-picture': StackPicture }
}
