import { LitElement, html, type TemplateResult } from 'lit';
import type { MountingHole, RecordTerminal, Terminal } from '../../../catalog-schema/index.ts';
import { drawingStyle, drawOutline, faceTerminals, layOutlineSheet } from '../../drawing/index.ts';

/**
 * `<part-outline>`: a part's terminals above its bracket, to the scale given, for laying beside others.
 *
 * Properties: `terminals` RecordTerminal[] or Terminal[] · `holes` MountingHole[] · `scale` px per mm · `width` px · `old` boolean: in grey
 * · `label` what the drawing shows, in words · `units` 'mm' | 'inch'. No events.
 */
export class PartOutline extends LitElement {
  static override properties = { terminals: { attribute: false }, holes: { attribute: false }, scale: { type: Number }, width: { type: Number }, old: { type: Boolean }, label: {}, units: {} };
  static override styles = drawingStyle;
  declare terminals: readonly (RecordTerminal | Terminal)[];
  declare holes: readonly MountingHole[];
  declare scale: number;
  declare width: number;
  declare old: boolean;
  declare label: string;
  declare units: 'mm' | 'inch';

  constructor() {
    super();
    this.terminals = [];
    this.holes = [];
    this.scale = 1;
    this.width = 200;
    this.old = false;
    this.label = '';
    this.units = 'mm';
  }

  override render(): TemplateResult | null {
    if (this.terminals.length + this.holes.length === 0) return null;
    const input = { terminals: faceTerminals(this.terminals, this.units), holes: this.holes, widthPx: this.width, scale: this.scale };
    const sheet = layOutlineSheet(input);
    return html`<svg width=${sheet.width} height=${sheet.height} viewBox=${`0 0 ${sheet.width} ${sheet.height}`} role="img" aria-label=${this.label}>
      ${drawOutline(input, sheet, this.old)}</svg>`;
  }
}
customElements.define('part-outline', PartOutline);
