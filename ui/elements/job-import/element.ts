import { html, nothing, type TemplateResult } from 'lit';
import type { JobImport as Taken } from '../../../catalog-schema/index.ts';
import { ServiceFault, type Desk } from '../../client/index.ts';
import { sayFault } from '../../say-fault.ts';
import { jobFileWords } from '../../words/job-file.ts';
import { PlainElement } from '../plain-element.ts';

/** Lines of faults shown; a spoiled file may have a thousand. */
const MOST_LINES = 20;

/** Takes job files in: chosen, or dropped anywhere on the page. Tells by an event 'job-taken' that there is news in the list. */
export class JobImport extends PlainElement {
  static override properties = { desk: { attribute: false }, over: { state: true }, busy: { state: true }, taken: { state: true }, failed: { state: true } };
  declare desk: Desk;
  /** something is held over the page to be dropped */
  declare over: boolean;
  /** the name of the file on its way */
  declare busy: string;
  declare taken: Taken | undefined;
  declare failed: { readonly name: string; readonly lines: readonly string[] } | undefined;
  #ended = new AbortController();

  constructor() {
    super();
    this.over = false;
    this.busy = '';
    this.taken = undefined;
    this.failed = undefined;
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.#ended = new AbortController();
    const { signal } = this.#ended;
    // Without these the browser would leave the page for the file.
    addEventListener('dragover', (event) => {
      if (!holdsFile(event)) return;
      event.preventDefault();
      this.over = true;
    }, { signal });
    addEventListener('dragleave', (event) => { if (event.relatedTarget === null) this.over = false; }, { signal });
    addEventListener('drop', (event) => {
      if (!holdsFile(event)) return;
      event.preventDefault();
      this.over = false;
      void this.#takeAll([...event.dataTransfer!.files]);
    }, { signal });
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#ended.abort();
  }

  async #takeAll(files: readonly File[]): Promise<void> {
    if (this.busy !== '') return;
    this.taken = undefined;
    this.failed = undefined;
    for (const file of files) {
      this.busy = file.name;
      try {
        this.taken = await this.desk.jobFiles.take(file);
        this.dispatchEvent(new CustomEvent('job-taken', { bubbles: true }));
      } catch (error) {
        const lines = error instanceof ServiceFault && error.kind === 'refused' ? error.detail.split('\n') : [sayFault(error)];
        this.failed = { name: file.name, lines };
        break;
      }
    }
    this.busy = '';
  }

  protected override render(): TemplateResult {
    const say = jobFileWords;
    return html`<section class=${this.over ? 'drop-zone over' : 'drop-zone'}><h2>${say.importTitle}</h2>
      <p class="button-row"><input id="job-file" class="visually-hidden" type="file" accept=".json,application/json" multiple ?disabled=${this.busy !== ''}
          @change=${(event: Event) => {
            const input = event.target as HTMLInputElement;
            void this.#takeAll([...input.files ?? []]).then(() => { input.value = ''; });
          }}>
        <label class="button" for="job-file">${say.choose}</label>
        <span>${this.over ? say.dropHere : say.drop}</span></p>
      <div role="status">${this.busy === '' ? nothing : html`<p>${say.taking(this.busy)}</p>`}${this.taken === undefined ? nothing : this.#renderTaken(this.taken)}</div>
      ${this.failed === undefined ? nothing : this.#renderFailed(this.failed)}</section>`;
  }

  #renderTaken({ created, editsAdded, photographsAdded, job }: Taken): TemplateResult {
    const say = jobFileWords;
    const { title } = job.document;
    return html`<p>${created ? say.new(title, photographsAdded) : editsAdded > 0 ? say.added(title, editsAdded) : say.nothingNew(title)}
        ${job.conflicts.length === 0 ? nothing : html`<span class="mark-do">${say.twoValues(job.conflicts.length)}</span>`}</p>
      <p><a href="/jobs/${encodeURIComponent(job.id)}">${say.openJob}</a></p>`;
  }

  #renderFailed({ name, lines }: { readonly name: string; readonly lines: readonly string[] }): TemplateResult {
    const say = jobFileWords;
    return html`<div class="caution" role="alert"><p>${say.refused(name)}</p>
      <ul>${lines.slice(0, MOST_LINES).map((line) => html`<li>${line}</li>`)}${lines.length > MOST_LINES ? html`<li>${say.more(lines.length - MOST_LINES)}</li>` : nothing}</ul></div>`;
  }
}
customElements.define('job-import', JobImport);

function holdsFile(event: DragEvent): boolean {
  return event.dataTransfer?.types.includes('Files') === true;
}
