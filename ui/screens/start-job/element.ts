import { html, nothing, type TemplateResult } from 'lit';
import { PART_CLASSES, type BenchRecord, type JobDocument, type PartClass } from '../../../catalog-schema/index.ts';
import type { CounterSheet, Desk } from '../../client/index.ts';
import { renderChoices } from '../../elements/choices.ts';
import { PlainElement } from '../../elements/plain-element.ts';
import { sayFault } from '../../say-fault.ts';
import { words } from '../../words.ts';

export const USUAL_VOLTS = [6, 12, 24, 36, 48] as const;

/** A job that has been begun, and the part that was chosen at the counter, which is chosen for the job too. */
export interface JobStarted { readonly jobId: string; readonly chosen: JobDocument['chosen']; readonly step: 'as-found' | 'bench' }

/** Starts a job; from an open counter sheet its record is taken along. */
export class StartJobScreen extends PlainElement {
  static override properties = {
    desk: { attribute: false }, from: { attribute: false },
    volts: { state: true }, partClass: { state: true }, failed: { state: true }, nameFault: { state: true }, busy: { state: true },
  };
  declare desk: Desk;
  /** the counter sheet the job is made of, when there is one */
  declare from: CounterSheet | undefined;
  declare volts: number;
  declare partClass: PartClass | 'unknown';
  declare failed: string;
  declare nameFault: string;
  declare busy: boolean;
  /** one id for all tries of this form, so that a repeated send makes one job */
  #id: string | undefined;

  constructor() {
    super();
    this.volts = 12;
    this.partClass = 'start-relay';
    this.failed = '';
    this.nameFault = '';
    this.busy = false;
  }

  override connectedCallback(): void {
    super.connectedCallback();
    if (this.from === undefined) return;
    this.volts = this.from.record.system.nominalV;
    this.partClass = this.from.record.partClass ?? 'unknown';
  }

  protected override render(): TemplateResult {
    return html`<main id="sheet" tabindex="-1">
      <h1>${words.start.title}</h1>
      ${this.from === undefined ? nothing : html`<p class="quiet">${words.start.fromCounter(this.from.document.title)}</p>`}
      <form class="stack" novalidate data-draft @submit=${(event: SubmitEvent) => { event.preventDefault(); void this.#start(event.target as HTMLFormElement); }}>
        <div class="field"><label for="job-name">${words.start.name}</label>
          <input id="job-name" name="title" maxlength="200" autocomplete="off" aria-invalid=${this.nameFault === '' ? 'false' : 'true'} aria-describedby="job-name-hint">
          <small id="job-name-hint">${this.nameFault === '' ? words.start.nameHint : html`<span class="not">${this.nameFault}</span>`}</small></div>
        <div class="field"><label for="job-machine">${words.start.machine}</label>
          <input id="job-machine" name="machine" maxlength="200" autocomplete="off" aria-describedby="job-machine-hint">
          <small id="job-machine-hint">${words.start.machineHint}</small></div>
        <div class="field"><label for="job-customer">${words.start.customer}</label>
          <input id="job-customer" name="customer" maxlength="200" autocomplete="off"></div>
        ${renderChoices({
          name: 'volts', legend: words.start.volts, value: String(this.volts),
          choices: USUAL_VOLTS.map((volts) => ({ value: String(volts), label: `${volts} V` })),
          onChoose: (value) => { this.volts = Number(value); },
        })}
        ${renderChoices({
          name: 'class', legend: words.start.partClass, value: this.partClass,
          choices: [...PART_CLASSES, 'unknown' as const].map((value) => ({ value, label: words.partClass[value] })),
          onChoose: (value) => { this.partClass = value; },
        })}
        ${this.failed === '' ? nothing : html`<p class="caution" role="alert">${this.failed}</p>`}
        <div><button class="main" type="submit" ?disabled=${this.busy}>${words.start.create}</button></div>
      </form></main>`;
  }

  async #start(form: HTMLFormElement): Promise<void> {
    if (this.busy) return;
    const said = (name: string): string => String(new FormData(form).get(name) ?? '').trim();
    const title = said('title');
    this.nameFault = title === '' ? words.start.nameMissing : '';
    if (title === '') {
      form.querySelector<HTMLInputElement>('#job-name')?.focus();
      return;
    }
    this.busy = true;
    this.failed = '';
    this.#id ??= this.desk.newId();
    const record: BenchRecord = {
      ...this.from?.record,
      ...(this.partClass === 'unknown' ? {} : { partClass: this.partClass }),
      system: { ...this.from?.record.system, nominalV: this.volts },
    };
    try {
      await this.desk.device.submit({
        kind: 'start-job', body: {
          id: this.#id, title, record, at: this.desk.now().toISOString(),
          ...(said('machine') === '' ? {} : { machine: said('machine') }),
          ...(said('customer') === '' ? {} : { customer: said('customer') }),
        },
      });
      this.dispatchEvent(new CustomEvent('job-started', { bubbles: true, detail: {
        jobId: this.#id, chosen: this.from?.document.chosen, step: this.from === undefined ? 'as-found' : 'bench',
      } satisfies JobStarted }));
    } catch (error) {
      this.failed = sayFault(error);
    } finally {
      this.busy = false;
    }
  }
}
customElements.define('start-job-screen', StartJobScreen);
