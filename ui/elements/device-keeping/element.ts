import { html, nothing, type TemplateResult } from 'lit';
import type { Desk } from '../../client/index.ts';
import { formatNumber } from '../../format.ts';
import { words } from '../../words.ts';
import { followChanges, PlainElement } from '../plain-element.ts';

/** What is kept on this device, and what the browser promises about it. */
export class DeviceKeeping extends PlainElement {
  static override properties = { desk: { attribute: false } };
  declare desk: Desk;

  constructor() {
    super();
    followChanges(this, () => [this.desk?.device]);
  }

  protected override render(): TemplateResult {
    const { lasting, space, waiting, keepsPage } = this.desk.device;
    const { storage, strip } = words.offline;
    return html`<section aria-labelledby="device-keeping-title"><h2 id="device-keeping-title">${storage.title}</h2>
      <p>${storage.what} ${storage.lasting[lasting]}</p>
      ${keepsPage ? nothing : html`<p class="mark-do">${storage.pageNotKept}</p>`}
      ${space === undefined ? nothing : html`<p class="quiet">${storage.space(formatNumber(space.used / 1e6, 1), formatNumber(space.quota / 1e6, 0))}</p>`}
      <p><a href="/waiting">${waiting.length === 0 ? words.offline.nothing : `${strip.waiting(waiting.length)}: ${strip.show.toLowerCase()}`}</a></p></section>`;
  }
}
customElements.define('device-keeping', DeviceKeeping);
