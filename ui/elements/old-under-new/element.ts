import { LitElement, type TemplateResult } from 'lit';
import type { BenchRecord, Mounting, Placement, Plan, RecordTerminal, Terminal, Wire } from '../../../catalog-schema/index.ts';
import { WidthWatcher, drawingStyle, faceTerminals } from '../../drawing/index.ts';
import { viewOldUnderNew } from './view.ts';

/**
 * `<old-under-new>`: the machine's bolts (grey) under the new part's bracket (ink), to one scale, what to drill in the pencil; and above it,
 * where a plan is given, the old part's terminals (grey) under the new part's (ink) with each wire's way from its old place to the new.
 *
 * Properties: `machine` BenchRecord['mounting'] · `bracket` Part['mounting'] · `placement` Fit['placement'] (null: centre on centre, said so)
 * · `units` 'mm' | 'inch'
 * · `plan` Plan with `oldTerminals`, `newTerminals`, `wires`: draws the terminals too
 * · `caption` false to leave out the words beneath. No events.
 */
export class OldUnderNew extends LitElement {
  static override properties = {
    machine: { attribute: false }, bracket: { attribute: false }, placement: { attribute: false }, units: {},
    caption: { attribute: false },
    plan: { attribute: false }, oldTerminals: { attribute: false }, newTerminals: { attribute: false }, wires: { attribute: false },
  };
  static override styles = drawingStyle;

  declare machine: BenchRecord['mounting'];
  declare bracket: Mounting | undefined;
  declare placement: Placement | null;
  declare units: 'mm' | 'inch';
  declare caption: boolean;
  declare plan: Plan | null;
  declare oldTerminals: readonly RecordTerminal[];
  declare newTerminals: readonly Terminal[];
  declare wires: readonly Wire[];

  #width = new WidthWatcher(this, 680);

  constructor() {
    super();
    this.machine = undefined;
    this.bracket = undefined;
    this.placement = null;
    this.units = 'mm';
    this.caption = true;
    this.plan = null;
    this.oldTerminals = [];
    this.newTerminals = [];
    this.wires = [];
  }

  override render(): TemplateResult {
    const { machine, bracket, plan, oldTerminals, newTerminals, wires, units } = this;
    const face = plan === null || oldTerminals.length === 0 || newTerminals.length === 0 ? undefined
      : { oldTerminals: faceTerminals(oldTerminals, units), newTerminals: faceTerminals(newTerminals, units), wires, plan, widthPx: this.#width.px };
    return viewOldUnderNew({
      ...(face === undefined ? {} : { face }),
      bolts: machine?.holes ?? [], holes: bracket?.holes ?? [], placement: this.placement, widthPx: this.#width.px, units: this.units,
      caption: this.caption, ...(machine?.boltMm === undefined ? {} : { boltMm: machine.boltMm }),
    });
  }
}

customElements.define('old-under-new', OldUnderNew);

declare global {
  interface HTMLElementTagNameMap { 'old-under-new': OldUnderNew }
}
