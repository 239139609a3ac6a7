import { html, nothing, type TemplateResult } from 'lit';
import { evidenceOf } from '../../../catalog-schema/index.ts';
import type { WorkView } from '../../screens/work-view.ts';
import { evidenceWords } from '../../words/evidence.ts';
import { PlainElement } from '../plain-element.ts';

/** Whether the evidence pays for a part, and what would settle it. Shows nothing at the counter, where no machine stands. */
export class EvidenceLine extends PlainElement {
  static override properties = { view: { attribute: false }, partId: {} };
  declare view: WorkView;
  declare partId: string;

  protected override render(): TemplateResult | typeof nothing {
    const { sheet, desk, proof, base } = this.view;
    if (sheet.jobId === undefined) return nothing;
    const say = evidenceWords;
    const { orderable, words: said, settles } = evidenceOf(sheet.document, proof.current ? proof.answer : undefined, desk.shop.parts.get(this.partId)?.partClass);
    return html`<div class="evidence-line" data-proven=${orderable ? 'true' : 'false'}>
      <p>${orderable ? said : html`<b>${said}</b>`}</p>
      ${settles === null ? nothing : html`<p class="quiet">${say.settle} ${settles}. <a class="touch-link" href="${base}/prove">${say.toProve}</a></p>`}</div>`;
  }
}
customElements.define('evidence-line', EvidenceLine);
