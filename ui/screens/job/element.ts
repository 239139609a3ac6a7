import { html, nothing, type PropertyValues, type TemplateResult } from 'lit';
import type { Desk, WorkSheet } from '../../client/index.ts';
import { followChanges, PlainElement } from '../../elements/plain-element.ts';
import '../../elements/choice-list/element.ts';
import '../../elements/send-line/element.ts';
import '../../elements/step-strip/element.ts';
import { words } from '../../words.ts';
import { reportSteps, STEP_NAMES, type StepName } from '../step-states.ts';
import type { WorkView } from '../work-view.ts';
import { BasisWatch } from './basis-watch.ts';
import { FindingsWatch, NO_FINDINGS } from './findings-watch.ts';
import { HoldingsWatch } from './holdings-watch.ts';
import { NO_PROOF, ProofWatch } from './proof-watch.ts';
import { loadStep, renderStep } from './render-step.ts';

/** One job, or one counter sheet: its head, the strip of steps, and the step that is open. */
export class JobScreen extends PlainElement {
  static override properties = {
    desk: { attribute: false }, sheet: { attribute: false }, base: {}, step: {}, detail: {}, loaded: { state: true }, notLoaded: { state: true },
  };
  declare desk: Desk;
  declare sheet: WorkSheet;
  declare base: string;
  declare step: StepName;
  declare detail: string | undefined;
  /** the step whose screen has been fetched, with its detail */
  declare loaded: string;
  declare notLoaded: boolean;
  #findings: FindingsWatch | undefined;
  #basis: BasisWatch | undefined;
  #holdings: HoldingsWatch | undefined;
  #proof: ProofWatch | undefined;

  constructor() {
    super();
    this.loaded = '';
    this.notLoaded = false;
    followChanges(this, () => [this.sheet, this.desk?.shop, this.desk?.settings, this.desk?.device, this.#findings, this.#basis, this.#holdings, this.#proof]);
  }

  protected override willUpdate(changed: PropertyValues): void {
    if (changed.has('sheet')) {
      this.#findings = new FindingsWatch(this.desk);
      this.#basis = new BasisWatch(this.desk);
      this.#holdings = new HoldingsWatch(this.desk, this.sheet.jobId);
      this.#proof = new ProofWatch(this.desk);
      void this.#holdings.read();
    }
    if (changed.has('step') || changed.has('detail')) void this.#load();
    this.#holdings?.look(this.desk.device.waiting);
    // The chosen part first: one fit is quicker than the list of all.
    this.#basis?.look(this.sheet);
    // On its own step nobody waits behind the list of parts.
    if (this.sheet.jobId !== undefined) this.#proof?.look(this.sheet, this.step === 'prove');
    this.#findings?.look(this.sheet);
  }

  protected override render(): TemplateResult {
    const view = this.#view();
    const { document } = this.sheet;
    return html`<header class="job-head">
        <div><p class="job-title">${document.title}</p>
        <p class="quiet">${[document.machine, document.customer].filter((entry) => entry !== undefined && entry !== '').join(' · ')}</p></div>
        <send-line .sheet=${this.sheet}></send-line>
      </header>
      <step-strip .sheet=${this.sheet} .reports=${view.reports} .base=${this.base} .current=${this.step}></step-strip>
      <choice-list class="screen-only" .sheet=${this.sheet} .unit=${this.desk.settings.values.unit}></choice-list>
      <main id="sheet" tabindex="-1">
        ${view.findings.failed === '' ? nothing
          : html`<div class="caution" role="alert"><p>${view.findings.failed}</p>
          <button type="button" @click=${() => this.#findings?.askAgain(this.sheet)}>${words.tryAgain}</button></div>`}
        ${this.#renderLoaded(view)}
      </main>`;
  }

  /** The step's screen once it is here; what was shown before does not stay under another step's name. */
  #renderLoaded(view: WorkView): TemplateResult {
    if (this.loaded === this.#key) return renderStep(view);
    return this.notLoaded ? html`<div class="caution" role="alert"><p>${words.offline.notLoaded}</p>
      <button type="button" @click=${() => location.reload()}>${words.offline.reload}</button></div>` : html`<p role="status">${words.loading}</p>`;
  }

  get #key(): string { return `${this.step} ${this.detail === 'photograph' ? this.detail : ''}`; }

  async #load(): Promise<void> {
    const key = this.#key;
    this.notLoaded = false;
    try {
      await loadStep(this.step, this.detail);
      if (key !== this.#key) return;
      this.loaded = key;
      // The next step is then there before it is asked for.
      await this.updateComplete;
      for (const step of STEP_NAMES) await loadStep(step, undefined);
    } catch {
      if (key === this.#key && this.loaded !== key) this.notLoaded = true;
    }
  }

  #view(): WorkView {
    const { sheet } = this;
    const findings = this.#findings?.findings ?? NO_FINDINGS;
    const holdings = this.#holdings?.holdings ?? { reservations: [], orderLines: [], failed: '' };
    const proof = this.#proof?.proof ?? NO_PROOF;
    const gotPartIds = [...holdings.reservations, ...holdings.orderLines].map((entry) => entry.partId);
    return {
      desk: this.desk, sheet, findings, holdings, proof, takeShares: (shares) => this.#proof?.takeShares(shares), basis: this.#basis?.basis, basisFailed: this.#basis?.failed ?? '', base: this.base, step: this.step, detail: this.detail,
      reports: reportSteps({ document: sheet.document, record: sheet.record, proof: proof.current ? proof.answer : undefined, fit: findings.fit, basis: this.#basis?.basis, identify: findings.identify, gotPartIds }),
      reloadHoldings: async (ownId?: string) => {
        if (ownId !== undefined) this.#holdings?.own(ownId);
        await this.#holdings?.read();
      },
    };
  }
}
customElements.define('job-screen', JobScreen);
