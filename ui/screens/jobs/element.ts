import { html, nothing, type TemplateResult } from 'lit';
import { readWireCode, type JobState } from '../../../catalog-schema/index.ts';
import type { Desk } from '../../client/index.ts';
import '../../elements/job-import/element.ts';
import { PlainElement } from '../../elements/plain-element.ts';
import { groupByField } from '../../elements/say-entry.ts';
import { formatMoment } from '../../format.ts';
import { sayFault } from '../../say-fault.ts';
import { words } from '../../words.ts';
import { isSignedOff } from '../../worker/as-left.ts';
import { reportSteps, STEP_NAMES } from '../step-states.ts';

/** The first screen: every job, the one touched last on top. */
export class JobsScreen extends PlainElement {
  static override properties = { desk: { attribute: false }, jobs: { state: true }, failed: { state: true }, reading: { state: true } };
  declare desk: Desk;
  declare jobs: readonly JobState[] | undefined;
  declare failed: string;
  /** the reader of tags is open */
  declare reading: boolean;
  #abort = new AbortController();

  override connectedCallback(): void {
    super.connectedCallback();
    this.#abort = new AbortController();
    this.failed = '';
    this.reading = false;
    void this.#read();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#abort.abort();
  }

  async #read(): Promise<void> {
    this.failed = '';
    const { signal } = this.#abort;
    try {
      this.jobs = await this.desk.service.listJobs(signal);
    } catch (error) {
      if (signal.aborted) return;
      this.failed = sayFault(error);
    }
  }

  protected override render(): TemplateResult {
    return html`<main id="sheet" tabindex="-1">
      <div class="title-row"><h1>${words.jobs.title}</h1>
        <div class="button-row"><button type="button" aria-expanded=${this.reading ? 'true' : 'false'} @click=${() => { void this.#readTag(); }}>${words.wires.readTag}</button>
          <a class="button main" href="/start">${words.jobs.start}</a></div></div>
      ${this.reading ? html`<code-reader .codes=${this.desk.codes} .understands=${(text: string) => readWireCode(text) !== undefined}
        @code-read=${(event: CustomEvent<{ text: string }>) => this.#openTag(event.detail.text)}></code-reader>` : nothing}
      ${this.failed === '' ? nothing : html`<div class="caution" role="alert"><p>${this.failed}</p>
        <button type="button" @click=${() => { void this.#read(); }}>${words.tryAgain}</button></div>`}
      ${this.jobs === undefined ? (this.failed === '' ? html`<p class="quiet" role="status">${words.loading}</p>` : nothing) : this.#renderList(this.jobs)}
      <job-import .desk=${this.desk} @job-taken=${() => { void this.#read(); }}></job-import>
    </main>`;
  }

  /** The reader is fetched when it is first wanted. */
  async #readTag(): Promise<void> {
    if (!this.reading) await import('../../elements/code-reader/element.ts');
    this.reading = !this.reading;
  }

  #openTag(text: string): void {
    const code = readWireCode(text);
    if (code !== undefined) this.desk.go(`/jobs/${encodeURIComponent(code.jobId)}/as-found/${encodeURIComponent(code.tag)}`);
  }

  #renderList(jobs: readonly JobState[]): TemplateResult {
    if (jobs.length === 0) return html`<h2>${words.jobs.emptyTitle}</h2><p>${words.jobs.empty}</p>`;
    return html`<ul class="rows">${jobs.map((job) => this.#renderJob(job))}</ul>`;
  }

  #renderJob(job: JobState): TemplateResult {
    const { document, record } = job;
    const reports = reportSteps({ document, record, fit: undefined, basis: undefined, identify: undefined, gotPartIds: [] });
    const looks = STEP_NAMES.filter((step) => reports[step].state === 'look');
    const next = STEP_NAMES.find((step) => (step !== 'prove' || reports.prove.state === 'begun') && reports[step].state !== 'done');
    return html`<li><a class="row" href="/jobs/${encodeURIComponent(job.id)}">
      <span class="row-main">${document.title}</span>
      <span class="row-what">${document.machine ?? words.jobs.noMachine}${document.customer === undefined ? nothing : html` · ${document.customer}`}</span>
      <span class="row-state">${job.conflicts.length > 0 ? html`<span class="mark-do">${words.conflicts.waiting(groupByField(job.conflicts).length)}</span>` : looks.length > 0
        ? html`<span class="mark-do">${words.jobs.needsLook(words.list(looks.map((step) => words.steps.names[step])))}</span>`
        : isSignedOff(document) ? words.jobs.signedOff
          : next === undefined ? nothing : words.jobs.next(words.steps.names[next])}</span>
      <small>${words.jobs.changed(formatMoment(job.changedAt))}</small></a></li>`;
  }
}
customElements.define('jobs-screen', JobsScreen);
