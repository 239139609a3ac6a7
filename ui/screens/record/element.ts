import { html, nothing, type TemplateResult } from 'lit';
import '../../elements/entry-field/element.ts';
import '../../elements/field-choice/element.ts';
import '../../elements/job-carried/element.ts';
import '../../elements/outcome-entry/element.ts';
import { PlainElement } from '../../elements/plain-element.ts';
import { formatMoment, formatNumber } from '../../format.ts';
import { words } from '../../words.ts';
import { isSignedOff, judgeStep, makeChecklist, sayStep, stateOfSignOff, type AsLeftStep } from '../../worker/as-left.ts';
import type { WorkView } from '../work-view.ts';
import { listMeasured } from './measured-lines.ts';

/** A plain page for the customer, from what is in the job and nothing else. */
export class RecordScreen extends PlainElement {
  static override properties = { view: { attribute: false } };
  declare view: WorkView;

  protected override render(): TemplateResult {
    const { sheet, desk } = this.view;
    const { document, record } = sheet;
    const { unit } = desk.settings.values;
    const measured = listMeasured(record, unit);
    return html`<div class="title-row"><h1>${words.record.title}</h1>
        <button type="button" class="screen-only" @click=${() => print()}>${words.record.print}</button></div>
      <p><b>${document.title}</b></p>
      <p>${[document.machine, document.customer].filter((entry) => entry !== undefined).join(' · ')}</p>
      <field-choice class="screen-only" .sheet=${sheet} .at=${[['title'], ['machine'], ['customer'], ['notes'], ['proved'], ['minutes'], ['signedOff']]} .unit=${unit}></field-choice>
      <details class="screen-only"><summary>${words.record.change}</summary><div class="figures">
        ${(['title', 'machine', 'customer'] as const).map((key) => html`<entry-field .label=${words.record.fields[key]} .value=${document[key] ?? ''}
          .commit=${(text: string) => (key === 'title' && text === '' ? { ok: false, why: words.start.nameMissing }
            : sheet.change([{ field: [key], value: text === '' ? null : text }]))}></entry-field>`)}</div></details>
      <section><h2>${words.record.found}</h2>
        <p>${document.proved === undefined ? words.record.notProved : document.proved.words}</p></section>
      <section><h2>${words.record.measured}</h2>
        ${measured.length === 0 ? html`<p>${words.record.nothingMeasured}</p>`
          : html`<table><tbody>${measured.map((line) => html`<tr><th scope="row">${line.what}</th><td>${line.figure}</td></tr>`)}</tbody></table>`}</section>
      ${this.#renderReplaced()}
      <section><h2>${words.record.released}</h2><p>${this.#sayReleased()}</p></section>
      ${this.#renderOutcome()}
      ${this.#renderExport()}`;
  }

  /** The whole job as one file, for another shop. */
  #renderExport(): TemplateResult | typeof nothing {
    const { sheet, desk } = this.view;
    if (sheet.jobId === undefined) return nothing;
    const say = words.jobFile;
    const { waiting } = sheet.sendState;
    return html`<section class="screen-only"><h2>${say.exportTitle}</h2>
      <p class="quiet">${say.exportHint}</p>
      ${waiting === 0 ? nothing : html`<p class="mark-do" role="status">${say.exportWaits(waiting)}</p>`}
      ${desk.device.reach === 'unreachable' ? html`<p class="mark-do" role="status">${say.exportUnreached}</p>` : nothing}
      <p><a class="button" href=${desk.jobFiles.addressOf(sheet.jobId)} download>${say.export}</a></p>
      <job-carried .desk=${desk} .jobId=${sheet.jobId}></job-carried></section>`;
  }

  #sayReleased(): string {
    const { document } = this.view.sheet;
    const { signedOff } = document;
    if (signedOff === undefined) return words.record.notReleased;
    const when = formatMoment(signedOff.at);
    return stateOfSignOff(document) === 'stands' ? words.asLeft.signedBy(signedOff.by, when) : words.asLeft.lapsed(signedOff.by, when);
  }

  /** What became of a part can be told once it has been fitted. */
  #renderOutcome(): TemplateResult | typeof nothing {
    const { sheet, desk } = this.view;
    const { chosen } = sheet.document;
    if (chosen === undefined || sheet.jobId === undefined) return nothing;
    if (!isSignedOff(sheet.document)) return html`<p class="quiet screen-only">${words.outcomes.notFitted}</p>`;
    return html`<outcome-entry .desk=${desk} .jobId=${sheet.jobId} .partId=${chosen.partId}></outcome-entry>`;
  }

  #renderReplaced(): TemplateResult {
    const { sheet, desk, basis } = this.view;
    const { document, record } = sheet;
    const { chosen } = document;
    const part = chosen === undefined ? undefined : desk.shop.parts.get(chosen.partId);
    const { steps } = makeChecklist({ document, record, part, basis });
    const shown = steps.filter((step) => SHOWN.has(step.kind) && judgeStep(step, document.asLeft).mark !== 'open');
    return html`<section><h2>${words.record.replaced}</h2>
        <p>${chosen === undefined ? words.record.nothingReplaced : (!isSignedOff(document) ? words.record.toBeFitted : words.record.fitted)(
          part?.title ?? chosen.title ?? chosen.partId, chosen.partId)}</p></section>
      <section><h2>${words.record.proofs}</h2>${shown.length === 0 ? html`<p>${words.record.noProofs}</p>`
        : html`<table><tbody>${shown.map((step) => html`<tr><th scope="row">${sayStep(step, { record, part: part!, unit: desk.settings.values.unit })}</th>
          <td>${this.#sayResult(step)}</td></tr>`)}</tbody></table>`}</section>`;
  }

  #sayResult(step: AsLeftStep): TemplateResult | string {
    const tick = this.view.sheet.document.asLeft?.[step.id];
    const good = judgeStep(step, this.view.sheet.document.asLeft).mark === 'done';
    const verdict = good ? words.record.good : words.record.bad;
    return step.kind === 'reading' && tick?.reading !== undefined ? html`${formatNumber(tick.reading, 3)} ${step.yardstick.unit}, ${verdict}` : html`${verdict}${nothing}`;
  }
}
customElements.define('record-screen', RecordScreen);

/** Steps that show something; what was merely done is not a customer's business. */
const SHOWN: ReadonlySet<AsLeftStep['kind']> = new Set<AsLeftStep['kind']>(['studs-open', 'reading', 'cranks', 'running', 'interlock']);
