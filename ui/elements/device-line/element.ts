import { html, nothing, type TemplateResult } from 'lit';
import type { Desk } from '../../client/index.ts';
import { formatMoment } from '../../format.ts';
import { words } from '../../words.ts';
import { followChanges, PlainElement } from '../plain-element.ts';

/** What of this device a person has to know on every page: that something waits or was refused, or that it cannot keep what is entered. Silent while all is well. */
export class DeviceLine extends PlainElement {
  static override properties = { desk: { attribute: false } };
  declare desk: Desk;

  constructor() {
    super();
    followChanges(this, () => [this.desk?.device]);
  }

  protected override render(): TemplateResult {
    const { trouble, evicted } = this.desk.device;
    const said = this.#sayWaiting();
    return html`<div class="device-line" role="status">${said === '' ? nothing
        : html`<a href="/waiting" aria-label="${words.offline.strip.show}: ${said}"><span class="mark-do">${said}</span></a>`}</div>
      ${trouble === undefined ? nothing : html`<div class="caution device-trouble" role="alert"><p>${words.offline.troubles[trouble]}</p>
        ${trouble === 'outdated' || trouble === 'too-new' ? html`<button type="button" @click=${() => location.reload()}>${words.offline.reload}</button>` : nothing}</div>`}
      ${evicted === undefined ? nothing : html`<div class="caution device-trouble" role="alert">
        <p>${words.offline.evicted(evicted.waiting, evicted.since === undefined ? '' : formatMoment(evicted.since))}</p>
        <button type="button" @click=${() => this.desk.device.forgetEviction()}>${words.offline.evictedRead}</button></div>`}`;
  }

  /** What is on its way while the server answers is nobody's business. */
  #sayWaiting(): string {
    const { waiting, reach } = this.desk.device;
    const { strip } = words.offline;
    const refused = waiting.filter(({ answer }) => answer !== undefined && answer.kind !== 'failed').length;
    const stuck = waiting.length - refused;
    return [
      ...(stuck > 0 && reach !== 'reached' ? [`${strip.waiting(stuck)}: ${reach === 'unreachable' ? strip.unreachable : strip.signedOut}`] : []),
      ...(refused > 0 ? [strip.refused(refused)] : []),
    ].join('; ');
  }
}
customElements.define('device-line', DeviceLine);
