import { html, nothing, type TemplateResult } from 'lit';
import type { CustomerRecord } from '../../../catalog-schema/index.ts';
import '../../elements/entry-field/element.ts';
import '../../elements/field-choice/element.ts';
import '../../elements/job-carried/element.ts';
import '../../elements/outcome-entry/element.ts';
import { PlainElement } from '../../elements/plain-element.ts';
import { formatMoment } from '../../format.ts';
import { words } from '../../words.ts';
import { jobFileWords } from '../../words/job-file.ts';
import { outcomeWords } from '../../words/outcomes.ts';
import { isSignedOff } from '../../worker/as-left.ts';
import { listSections, RECORD_WORDS, writeRecord } from '../../worker/record.ts';
import type { WorkView } from '../work-view.ts';
import './record.css';

/** A plain page for the customer, from what is in the job and nothing else; on paper one sheet. */
export class RecordScreen extends PlainElement {
  static override properties = { view: { attribute: false } };
  declare view: WorkView;

  protected override render(): TemplateResult {
    const { sheet, desk, basis, proof } = this.view;
    const { document, record } = sheet;
    const { unit } = desk.settings.values;
    const written = writeRecord({
      document, record, basis, unit, conflicts: sheet.conflicts.length, part: document.chosen === undefined ? undefined : desk.shop.parts.get(document.chosen.partId),
      proof: proof.current && proof.answer !== undefined && proof.keys.length > 0 ? { answer: proof.answer, keys: proof.keys } : undefined,
    });
    const waits = Object.keys(document.prove?.seen ?? {}).length > 0 && !proof.current && proof.failed === '';
    return html`<div class="title-row"><h1>${RECORD_WORDS.title}</h1>
        <button type="button" class="screen-only" @click=${() => print()}>${words.record.print}</button></div>
      <p class="record-head"><b>${written.title}</b><br>${[written.machine, written.customer].filter((entry) => entry !== null).join(' · ')}</p>
      <field-choice class="screen-only" .sheet=${sheet} .at=${[['title'], ['machine'], ['customer'], ['notes'], ['proved'], ['minutes'], ['signedOff']]} .unit=${unit}></field-choice>
      <details class="screen-only"><summary>${words.record.change}</summary><div class="figures">
        ${(['title', 'machine', 'customer'] as const).map((key) => html`<entry-field .label=${words.record.fields[key]} .value=${document[key] ?? ''}
          .commit=${(text: string) => (key === 'title' && text === '' ? { ok: false, why: words.start.nameMissing }
            : sheet.change([{ field: [key], value: text === '' ? null : text }]))}></entry-field>`)}</div></details>
      <div class="customer-record">${waits ? html`<p role="status">${words.record.working}</p>` : this.#renderRecord(written)}</div>
      ${this.#renderOutcome()}
      ${this.#renderExport()}`;
  }

  #renderRecord(record: CustomerRecord): TemplateResult {
    const { proven, settles } = record.found;
    return html`${listSections(record, formatMoment).map(({ name, title, lines, table }) => html`<section data-section=${name}><h2>${title}</h2>
      ${lines.map((line, index) => html`<p class=${name === 'found' && proven && index === 0 ? 'record-verdict' : ''}>${line}</p>`)}
      ${name !== 'found' || settles === null ? nothing : html`<p class="screen-only"><a href="${this.view.base}/prove">${words.record.toProve}</a></p>`}
      ${table.length === 0 ? nothing : html`<table><tbody>${table.map(({ what, showed }) => html`<tr><th scope="row">${what}</th><td>${showed}</td></tr>`)}</tbody></table>`}</section>`)}`;
  }

  /** The whole job as one file, for another shop. */
  #renderExport(): TemplateResult | typeof nothing {
    const { sheet, desk } = this.view;
    if (sheet.jobId === undefined) return nothing;
    const say = jobFileWords;
    const { waiting } = sheet.sendState;
    return html`<section class="screen-only"><h2>${say.exportTitle}</h2>
      <p class="quiet">${say.exportHint}</p>
      ${waiting === 0 ? nothing : html`<p class="mark-do" role="status">${say.exportWaits(waiting)}</p>`}
      ${desk.device.reach === 'unreachable' ? html`<p class="mark-do" role="status">${say.exportUnreached}</p>` : nothing}
      <p><a class="button" href=${desk.jobFiles.addressOf(sheet.jobId)} download>${say.export}</a></p>
      <job-carried .desk=${desk} .jobId=${sheet.jobId}></job-carried></section>`;
  }

  /** What became of a part can be told once it has been fitted. */
  #renderOutcome(): TemplateResult | typeof nothing {
    const { sheet, desk } = this.view;
    const { chosen } = sheet.document;
    if (chosen === undefined || sheet.jobId === undefined) return nothing;
    if (!isSignedOff(sheet.document)) return html`<p class="quiet screen-only">${outcomeWords.notFitted}</p>`;
    return html`<outcome-entry .desk=${desk} .jobId=${sheet.jobId} .partId=${chosen.partId}></outcome-entry>`;
  }
}
customElements.define('record-screen', RecordScreen);
