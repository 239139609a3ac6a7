import { html, nothing, type TemplateResult } from 'lit';
import type { CarriedWithJob } from '../../../catalog-schema/index.ts';
import type { Desk } from '../../client/index.ts';
import { formatMoment } from '../../format.ts';
import { jobFileWords } from '../../words/job-file.ts';
import { followChanges, PlainElement } from '../plain-element.ts';

/** What came with a job from another shop, as notes; silent where nothing did, and where the server is not reached. */
export class JobCarried extends PlainElement {
  static override properties = { desk: { attribute: false }, jobId: { attribute: false }, carried: { state: true } };
  declare desk: Desk;
  declare jobId: string;
  declare carried: CarriedWithJob | undefined;

  constructor() {
    super();
    followChanges(this, () => [this.desk?.shop]);
  }

  override connectedCallback(): void {
    super.connectedCallback();
    void this.#read();
  }

  async #read(): Promise<void> {
    try {
      this.carried = await this.desk.jobFiles.readCarried(this.jobId);
    } catch { /* notes of another shop are worth no fault here */ }
  }

  protected override render(): TemplateResult | typeof nothing {
    if (this.carried === undefined) return nothing;
    const say = jobFileWords;
    const { part, reservations, orderLines, outcomes } = this.carried;
    const titleOf = (partId: string): string => (part?.id === partId ? part.title : this.desk.shop.parts.get(partId)?.title ?? partId);
    const lines = [
      ...(part === undefined ? [] : [say.carriedPart(part.title)]),
      ...reservations.map(({ qty, partId, bin }) => say.carriedAside(qty, titleOf(partId), bin)),
      ...orderLines.map(({ qty, partId, supplierId, arrives }) => say.carriedOrdered(qty, titleOf(partId), supplierId, arrives)),
      ...outcomes.map(({ partId, result, at }) => (result === 'held' ? say.carriedHeld : say.carriedCameBack)(titleOf(partId), formatMoment(at))),
    ];
    if (lines.length === 0) return nothing;
    return html`<h3>${say.carriedTitle}</h3><p class="quiet">${say.carriedLead}</p><ul>${lines.map((line) => html`<li>${line}</li>`)}</ul>`;
  }
}
customElements.define('job-carried', JobCarried);
