import { html, nothing, type TemplateResult } from 'lit';
import type { Desk, Reach } from '../../client/index.ts';
import { followChanges, PlainElement } from '../../elements/plain-element.ts';
import '../../elements/waiting-line/element.ts';
import { words } from '../../words.ts';

/** Everything on this device that the server does not have: what, since when, and what the server said to it. */
export class WaitingScreen extends PlainElement {
  static override properties = { desk: { attribute: false }, titles: { state: true } };
  declare desk: Desk;
  declare titles: ReadonlyMap<string, string>;

  constructor() {
    super();
    this.titles = new Map();
    followChanges(this, () => [this.desk?.device, this.desk?.shop]);
  }

  override connectedCallback(): void {
    super.connectedCallback();
    void this.#readTitles();
    void this.desk.shop.open().catch(() => {});
  }

  async #readTitles(): Promise<void> {
    const jobs = await this.desk.service.listJobs().catch(() => []);
    this.titles = new Map(jobs.map((job) => [job.id, job.document.title]));
  }

  protected override render(): TemplateResult {
    const { device } = this.desk;
    const { waiting, reach } = device;
    return html`<main id="sheet" tabindex="-1"><h1>${words.offline.title}</h1>
      <p class="quiet">${words.offline.lead}</p>
      ${waiting.length === 0 ? html`<p role="status">${words.offline.nothing}</p>` : html`
        <p role="status" class=${reach === 'reached' ? 'quiet' : 'mark-do'}>${sayReach(reach)}</p>
        <p><button type="button" class="main" @click=${() => device.sendNow()}>${words.offline.sendNow}</button></p>
        <ul class="rows waiting-rows">${waiting.map((item) => html`<li><waiting-line .desk=${this.desk} .item=${item} .of=${this.#nameJob(item.jobId)}></waiting-line>
          ${item.jobId === undefined ? nothing : html`<a href="/jobs/${encodeURIComponent(item.jobId)}">${words.offline.openJob}</a>`}</li>`)}</ul>`}
    </main>`;
  }

  #nameJob(jobId: string | undefined): string {
    return jobId === undefined ? words.offline.noJob : this.titles.get(jobId) ?? jobId;
  }
}
customElements.define('waiting-screen', WaitingScreen);

function sayReach(reach: Reach): string {
  switch (reach) {
    case 'reached': return words.offline.reached;
    case 'unreachable': return words.offline.unreachable;
    case 'signed-out': return words.offline.signedOut;
  }
}
