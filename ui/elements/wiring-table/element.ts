import { html, nothing, type TemplateResult } from 'lit';
import type { BenchRecord, Part, Plan } from '../../../catalog-schema/index.ts';
import type { LengthUnit } from '../../client/index.ts';
import { formatEnd } from '../../format.ts';
import { words } from '../../words.ts';
import { needsNewEnd, sayTerminal } from '../../worker/as-left.ts';
import { PlainElement } from '../plain-element.ts';
import { renderWireName } from '../wire-name.ts';

/** Old and new place of every wire, jumpers to make, wires left off and terminals that stay bare. Prints as it stands. */
export class WiringTable extends PlainElement {
  static override properties = { record: { attribute: false }, plan: { attribute: false }, newPart: { attribute: false }, unit: {} };
  declare record: BenchRecord;
  declare plan: Plan;
  declare newPart: Part;
  declare unit: LengthUnit;

  protected override render(): TemplateResult {
    const { plan } = this;
    return html`<table class="wiring">
      <thead><tr><th scope="col">${words.wiring.wire}</th><th scope="col">${words.wiring.leads}</th><th scope="col">${words.wiring.was}</th>
        <th scope="col">${words.wiring.now}</th><th scope="col">${words.wiring.end}</th></tr></thead>
      <tbody>${(this.record.wires ?? []).map((wire) => {
        const placed = plan.wires.find((entry) => entry.tag === wire.tag);
        const leads = words.wire.leadsTo[wire.leadsTo ?? 'unknown'].name;
        const off = plan.leftOff.includes(wire.tag);
        return html`<tr><th scope="row">${renderWireName(wire)}</th><td data-label=${words.wiring.leads}>${leads}</td><td data-label=${words.wiring.was}>${this.#nameOld(wire.wasOn)}</td>
          <td data-label=${words.wiring.now}>${off ? html`<span class="mark-do">${words.wiring.leftOff}</span>` : placed === undefined ? nothing
            : placed.moved ? html`<span class="mark-do">${this.#nameNew(placed.to)}</span>` : html`${this.#nameNew(placed.to)} <span class="quiet">${words.wiring.stays}</span>`}</td>
          <td data-label=${words.wiring.end}>${placed !== undefined && needsNewEnd(wire, placed, this.newPart) ? html`<span class="mark-do">${words.wire.newEnd}</span>` : formatEnd(wire.end, this.unit)}</td></tr>`;
      })}
      ${plan.jumpers.map((jumper) => html`<tr><th scope="row" colspan="2"><span class="mark-do">${words.wiring.jumper}</span></th>
        <td class="none"></td><td colspan="2"><span class="mark-do">${this.#nameNew(jumper.from)} – ${this.#nameNew(jumper.to)}</span></td></tr>`)}
      ${plan.bareTerminals.length === 0 ? nothing : html`<tr><th scope="row" colspan="2">${words.wiring.bare}</th><td class="none"></td>
        <td colspan="2">${words.list(plan.bareTerminals.map((id) => this.#nameNew(id)))}</td></tr>`}
      </tbody></table>`;
  }

  #nameOld(id: string): string {
    return sayTerminal(id, this.record.terminals ?? []);
  }

  #nameNew(id: string): string {
    return sayTerminal(id, this.newPart.terminals);
  }
}
customElements.define('wiring-table', WiringTable);
