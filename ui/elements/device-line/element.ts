import { html, nothing, type TemplateResult } from 'lit';
import type { Desk, StoreTrouble } from '../../client/index.ts';
import { formatMoment } from '../../format.ts';
import { words } from '../../words.ts';
import { followChanges, PlainElement } from '../plain-element.ts';
import './device-line.css';

/** What of this device a person has to know on every page: that something waits or was refused, or that it cannot keep what is entered. Silent while all is well. */
export class DeviceLine extends PlainElement {
  static override properties = { desk: { attribute: false } };
  declare desk: Desk;

  #shown: StoreTrouble | undefined;

  constructor() {
    super();
    followChanges(this, () => [this.desk?.device]);
  }

  /** What comes up in the middle of work is put before the person once, wherever on the page they are; then it stands at its top. */
  protected override updated(): void {
    const { trouble } = this.desk.device;
    if (trouble === this.#shown) return;
    this.#shown = trouble;
    const dialog = this.querySelector('dialog');
    if (trouble === 'full' || trouble === 'outdated') dialog?.showModal();
    else dialog?.close();
  }

  protected override render(): TemplateResult {
    const { trouble, evicted } = this.desk.device;
    const said = this.#sayWaiting();
    return html`<div class="device-line" role="status">${said === '' ? nothing
        : html`<a href="/waiting" aria-label="${words.offline.strip.show}: ${said}"><span class="mark-do">${said}</span></a>`}</div>
      ${trouble === undefined ? nothing : html`<div class="caution device-trouble" role="alert"><p>${words.offline.troubles[trouble]}</p>${this.#renderReload(trouble)}</div>`}
      <dialog class="device-dialog" aria-labelledby="device-dialog-words"><p id="device-dialog-words">${trouble === undefined ? '' : words.offline.troubles[trouble]}</p>
        <p class="button-row"><button type="button" class="main" @click=${() => this.querySelector('dialog')?.close()}>${words.offline.evictedRead}</button>
          ${this.#renderReload(trouble)}</p></dialog>
      ${evicted === undefined ? nothing : html`<div class="caution device-trouble" role="alert">
        <p>${words.offline.evicted(evicted.waiting, evicted.since === undefined ? '' : formatMoment(evicted.since))}</p>
        <button type="button" @click=${() => this.desk.device.forgetEviction()}>${words.offline.evictedRead}</button></div>`}`;
  }

  #renderReload(trouble: StoreTrouble | undefined): TemplateResult | typeof nothing {
    return trouble !== 'outdated' && trouble !== 'too-new' ? nothing : html`<button type="button" @click=${() => location.reload()}>${words.offline.reload}</button>`;
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
