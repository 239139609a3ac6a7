import { LitElement, css, type TemplateResult } from 'lit';
import type { BenchRecord, Mounting, Placement } from '../../../catalog-schema/index.ts';
import { WidthWatcher, drawingStyle } from '../../drawing/index.ts';
import { viewOldUnderNew } from './view.ts';

/**
 * `<old-under-new>`: the machine's bolts (grey) under the new part's bracket (ink), to one scale, what to drill in the pencil.
 *
 * Properties: `machine` BenchRecord['mounting'] · `bracket` Part['mounting'] · `placement` Fit['placement'] (null: centre on centre, said so)
 * · `units` 'mm' | 'inch' · `trueSize` boolean: one millimetre is one millimetre of paper, with a bar to check the printer by
 * · `caption` false to leave out the words beneath. No events.
 */
export class OldUnderNew extends LitElement {
  static override properties = {
    machine: { attribute: false }, bracket: { attribute: false }, placement: { attribute: false }, units: {},
    trueSize: { type: Boolean, attribute: 'true-size' }, caption: { attribute: false },
  };
  static override styles = [drawingStyle, css`svg.true-size { max-width: none; }`];

  declare machine: BenchRecord['mounting'];
  declare bracket: Mounting | undefined;
  declare placement: Placement | null;
  declare units: 'mm' | 'inch';
  declare trueSize: boolean;
  declare caption: boolean;

  #width = new WidthWatcher(this, 680);

  constructor() {
    super();
    this.machine = undefined;
    this.bracket = undefined;
    this.placement = null;
    this.units = 'mm';
    this.trueSize = false;
    this.caption = true;
  }

  override render(): TemplateResult {
    const { machine, bracket } = this;
    return viewOldUnderNew({
      bolts: machine?.holes ?? [], holes: bracket?.holes ?? [], placement: this.placement, widthPx: this.#width.px, units: this.units,
      trueSize: this.trueSize, caption: this.caption, ...(machine?.boltMm === undefined ? {} : { boltMm: machine.boltMm }),
    });
  }
}

customElements.define('old-under-new', OldUnderNew);

declare global {
  interface HTMLElementTagNameMap { 'old-under-new': OldUnderNew }
}
