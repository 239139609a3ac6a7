import { html, nothing, type PropertyValues, type TemplateResult } from 'lit';
import type { Reservation } from '../../../catalog-schema/index.ts';
import type { Desk, ShelfBooks } from '../../client/index.ts';
import { sayFault } from '../../say-fault.ts';
import { shelfWords } from '../../words/shelf-screens.ts';
import { followChanges, PlainElement } from '../plain-element.ts';

const { part: say } = shelfWords;
/** A job as this list needs it. */
interface JobTold { readonly title: string; readonly signedOff: boolean }

/**
 * `<shelf-aside>`: units put aside for jobs: of one part; or, without a part, those of jobs that are signed off, whose units have left their bin
 * and not the books. Each is handed out or free again at one touch; nothing is shown where there is none.
 *
 * Properties: `desk` · `books` · `partId`. Event (bubbling): `moves-booked` {waiting}.
 */
export class ShelfAside extends PlainElement {
  static override properties = { desk: { attribute: false }, books: { attribute: false }, partId: {}, entries: { state: true }, jobs: { state: true }, failed: { state: true } };
  declare desk: Desk;
  declare books: ShelfBooks;
  declare partId: string | undefined;
  declare entries: readonly Reservation[];
  declare jobs: ReadonlyMap<string, JobTold>;
  declare failed: string;
  #busy = false;

  constructor() {
    super();
    this.entries = [];
    this.jobs = new Map();
    this.failed = '';
    followChanges(this, () => [this.desk?.shop]);
  }

  override connectedCallback(): void {
    super.connectedCallback();
    void this.#read();
  }

  protected override willUpdate(changed: PropertyValues): void {
    if (changed.has('partId') && this.hasUpdated) void this.#read();
  }

  protected override render(): TemplateResult | typeof nothing {
    const { partId, jobs } = this;
    const shown = this.entries.filter((entry) => entry.jobId !== undefined && (partId === undefined ? jobs.get(entry.jobId)?.signedOff === true : entry.partId === partId));
    if (shown.length === 0 && this.failed === '') return nothing;
    return html`<section aria-labelledby="shelf-aside"><h2 id="shelf-aside">${partId === undefined ? say.asideDone : say.aside}</h2>
      ${partId === undefined ? html`<p class="quiet">${say.asideDoneHint}</p>` : nothing}
      ${this.failed === '' ? nothing : html`<p class="caution" role="alert">${this.failed}</p>`}
      <ul class="rows">${shown.map((entry) => html`<li class="row row-held"><span><a class="row-main" href="/jobs/${encodeURIComponent(entry.jobId!)}">${jobs.get(entry.jobId!)?.title ?? entry.jobId}</a>
          ${partId === undefined ? html`<br>${this.desk.shop.parts.get(entry.partId)?.title ?? entry.partId}` : nothing}</span><span>${say.asideFor(entry.qty, entry.bin)}</span>
        <span class="button-row"><button type="button" @click=${() => { void this.#settle(entry, true); }}>${say.handOut}</button>
          <button type="button" class="plain" @click=${() => { void this.#settle(entry, false); }}>${say.free}</button></span></li>`)}</ul></section>`;
  }

  async #read(): Promise<void> {
    const { service, shop } = this.desk;
    const [entries, jobs] = await Promise.all([service.listReservations().catch(() => []), service.listJobs().catch(() => [])]);
    this.entries = entries;
    this.jobs = new Map(jobs.map(({ id, document }) => [id, { title: document.title, signedOff: document.signedOff !== undefined }]));
    void shop.open().then(() => shop.parts.fetch(entries.map(({ partId }) => partId))).catch(() => {});
  }

  /** What was put aside goes out of its bins with its job, or is free again. */
  async #settle({ id, partId, bin, qty, bins = [{ bin, qty }] }: Reservation, out: boolean): Promise<void> {
    if (this.#busy) return;
    this.#busy = true;
    this.failed = '';
    try {
      const went = await this.books.book(bins.flatMap((one) => [
        { kind: 'release' as const, partId, ...one, reservationId: id }, ...(out ? [{ kind: 'out' as const, partId, ...one, reservationId: id }] : [])]));
      this.entries = this.entries.filter((entry) => entry.id !== id);
      this.dispatchEvent(new CustomEvent('moves-booked', { detail: { waiting: went === 'waiting' }, bubbles: true }));
    } catch (error) {
      this.failed = sayFault(error);
    } finally {
      this.#busy = false;
    }
  }
}
customElements.define('shelf-aside', ShelfAside);
