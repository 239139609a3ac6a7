import { html, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { CAME_BACK_REASONS, type CameBackReason, type OutcomeReport, type PartOutcome } from '../../../catalog-schema/index.ts';
import type { Desk, WaitingItem } from '../../client/index.ts';
import { formatMoment } from '../../format.ts';
import { sayFault } from '../../say-fault.ts';
import { words } from '../../words.ts';
import { outcomeWords } from '../../words/outcomes.ts';
import { renderChoices } from '../choices.ts';
import { followChanges, PlainElement } from '../plain-element.ts';
import '../waiting-line/element.ts';

/**
 * What became of the part fitted on a job: one tap for a part that held, a reason for one that came back. What is told is kept by the server
 * for ever; while it cannot be reached the report waits on this device, and counts once however often it is sent.
 */
export class OutcomeEntry extends PlainElement {
  static override properties = {
    desk: { attribute: false }, jobId: {}, partId: {}, told: { state: true }, why: { state: true }, text: { state: true }, asking: { state: true }, failed: { state: true }, kept: { state: true },
    busy: { state: true },
  };
  declare desk: Desk;
  declare jobId: string;
  declare partId: string;
  /** what was told of this part on this job, oldest first; undefined until it has been read */
  declare told: readonly PartOutcome[] | undefined;
  declare asking: boolean;
  declare why: CameBackReason | undefined;
  declare text: string;
  declare failed: string;
  /** what came of the last report, in words */
  declare kept: string;
  declare busy: boolean;
  #read = '';
  /** reports that waited when last looked at */
  #waited = 0;
  /** the report on its way, with the id under which a repeat changes nothing */
  #report: OutcomeReport | undefined;

  constructor() {
    super();
    this.asking = false;
    this.text = '';
    this.failed = '';
    this.kept = '';
    this.busy = false;
    followChanges(this, () => [this.desk?.device]);
  }

  protected override updated(changed: PropertyValues<this>): void {
    const waits = this.#waiting.length;
    // One that waited has been told: it stands among the others now.
    if (waits < this.#waited) void this.#load();
    this.#waited = waits;
    const key = `${this.jobId} ${this.partId}`;
    if (key === this.#read || !(changed.has('jobId') || changed.has('partId'))) return;
    this.#read = key;
    this.told = undefined;
    this.kept = '';
    this.#letGo();
    void this.#load();
  }

  protected override render(): TemplateResult {
    const told = this.told ?? [];
    return html`<section class="outcome screen-only" aria-labelledby="outcome-title"><h2 id="outcome-title">${outcomeWords.title}</h2><p class="quiet">${outcomeWords.lead}</p>
      ${told.length === 0 ? nothing : html`<ul class="told">${told.map((each) => html`<li>${sayOutcome(each)}${each.words === undefined ? nothing : html`<br><span class="quiet">${each.words}</span>`}</li>`)}</ul>
        ${told.length < 2 ? nothing : html`<p class="quiet">${outcomeWords.last}</p>`}`}
      ${this.failed === '' ? nothing : html`<div class="caution" role="alert"><p>${this.failed}</p>
        ${this.#report === undefined ? nothing : html`<button type="button" ?disabled=${this.busy} @click=${() => this.#send()}>${words.tryAgain}</button>`}</div>`}
      ${this.asking ? this.#renderWhy() : html`<p class="button-row">
        <button type="button" ?disabled=${this.busy} @click=${() => this.#tell({ result: 'held' })}>${outcomeWords.held}</button>
        <button type="button" ?disabled=${this.busy} @click=${() => this.#askWhy()}>${outcomeWords.cameBack}</button></p>`}
      <p role="status">${this.kept}</p>
      ${this.#waiting.map((item) => html`<waiting-line .desk=${this.desk} .item=${item}></waiting-line>`)}</section>`;
  }

  /** Reports on this part that this device has not sent yet, or that the server said no to. */
  get #waiting(): WaitingItem[] {
    return this.desk.device.waiting.filter(({ errand }) => errand?.kind === 'outcome' && errand.body.jobId === this.jobId && errand.body.partId === this.partId);
  }

  #renderWhy(): TemplateResult {
    return html`<div class="stack outcome-why" data-draft>${renderChoices<CameBackReason>({
        name: 'came-back', legend: outcomeWords.why, value: this.why, onChoose: (why) => { this.why = why; },
        choices: CAME_BACK_REASONS.map((value) => ({
          value, label: outcomeWords.reasons[value], ...(value === 'fault-elsewhere' ? { hint: outcomeWords.notCounted } : {}),
        })),
      })}
      <div class="field"><label for="outcome-words">${outcomeWords.words}</label>
        <textarea id="outcome-words" rows="2" maxlength="2000" aria-describedby="outcome-hint" .value=${this.text}
          @input=${(event: Event) => { this.text = (event.target as HTMLTextAreaElement).value; }}></textarea><small id="outcome-hint">${outcomeWords.wordsHint}</small></div>
      <p class="button-row"><button type="button" class="main" ?disabled=${this.why === undefined || this.busy} @click=${() => this.#tell({
        result: 'came-back', reason: this.why!, ...(this.text.trim() === '' ? {} : { words: this.text.trim() }),
      })}>${outcomeWords.save}</button>
        <button type="button" @click=${() => this.#letGo()}>${outcomeWords.notYet}</button></p></div>`;
  }

  async #askWhy(): Promise<void> {
    this.asking = true;
    this.kept = '';
    await this.updateComplete;
    this.querySelector<HTMLElement>('.outcome-why input')?.focus();
  }

  #tell(said: Pick<OutcomeReport, 'result' | 'reason' | 'words'>): void {
    const { author } = this.desk.settings.values;
    this.#report = {
      id: this.desk.newId(), jobId: this.jobId, partId: this.partId, ...said, at: this.desk.now().toISOString(), ...(author === '' ? {} : { by: author }),
    };
    void this.#send();
  }

  async #send(): Promise<void> {
    const report = this.#report;
    if (report === undefined) return;
    this.busy = true;
    this.failed = '';
    try {
      const how = await this.desk.device.submit({ kind: 'outcome', body: report });
      this.#report = undefined;
      if (how === 'sent') this.told = [...(this.told ?? []).filter(({ id }) => id !== report.id), report];
      this.kept = how === 'sent' ? outcomeWords.kept : words.offline.kept.outcome;
      this.#letGo();
      await this.desk.shop.refreshHistory();
    } catch (error) {
      this.failed = sayFault(error);
    }
    this.busy = false;
  }

  async #load(): Promise<void> {
    const { partId, jobId } = this;
    try {
      const told = (await this.desk.service.listOutcomes(jobId)).filter((each) => each.partId === partId);
      if (partId === this.partId && jobId === this.jobId) this.told = told;
    } catch (error) {
      this.failed = `${outcomeWords.notRead} ${sayFault(error)}`;
    }
  }

  #letGo(): void {
    this.asking = false;
    this.why = undefined;
    this.text = '';
  }
}
customElements.define('outcome-entry', OutcomeEntry);

function sayOutcome({ result, reason, at, by }: PartOutcome): string {
  return outcomeWords.said(outcomeWords.results[result], reason === undefined ? '' : outcomeWords.reasons[reason], formatMoment(at), by ?? '');
}
