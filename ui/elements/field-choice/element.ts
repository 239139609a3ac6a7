import { html, nothing, type TemplateResult } from 'lit';
import { isOverlap } from '../../../catalog-schema/index.ts';
import type { LengthUnit, WorkSheet } from '../../client/index.ts';
import '../choice-entry/element.ts';
import { followChanges, PlainElement } from '../plain-element.ts';
import { groupByField } from '../say-entry.ts';

/** Beside a field, or the fields of one thing: the answers among which a person has to choose there. Nothing where there is one answer. */
export class FieldChoice extends PlainElement {
  static override properties = { sheet: { attribute: false }, at: { attribute: false }, unit: {} };
  declare sheet: WorkSheet;
  /** the paths in the job's document of what stands here */
  declare at: readonly (readonly string[])[];
  declare unit: LengthUnit;

  constructor() {
    super();
    this.unit = 'mm';
    followChanges(this, () => [this.sheet]);
  }

  protected override render(): TemplateResult | typeof nothing {
    const here = this.sheet.conflicts.filter((conflict) => this.at.some((place) => isOverlap(conflict.field, place)));
    if (here.length === 0) return nothing;
    return html`<div class="choice-here">${groupByField(here).map((group) => html`<choice-entry .conflicts=${group} .sheet=${this.sheet} .device=${this.sheet.device} .unit=${this.unit}></choice-entry>`)}</div>`;
  }
}
customElements.define('field-choice', FieldChoice);
