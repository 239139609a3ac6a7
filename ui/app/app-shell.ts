import { html, nothing, type TemplateResult } from 'lit';
import type { JsonValue } from '../../catalog-schema/index.ts';
import type { CounterSheet, Desk, JobSheet } from '../client/index.ts';
import { followChanges, PlainElement } from '../elements/plain-element.ts';
import '../elements/device-line/element.ts';
import { findPath } from '../elements/part-search/find-path.ts';
import type { JobStarted } from '../screens/start-job/element.ts';
import { sayFault } from '../say-fault.ts';
import { words } from '../words.ts';
import type { AppUpdate } from './app-update.ts';
import { loadScreen } from './load-screen.ts';
import type { OpenSheets } from './open-sheets.ts';
import type { Place } from './router.ts';

/** Where a field for a number stands in the middle of the page, none stands at its top. */
const HAS_OWN_FIELD: ReadonlySet<Place['kind']> = new Set(['find', 'counter', 'shelf']);

/** The frame of the page: the pages at the top, and the screen of the place the address names. */
export class AppShell extends PlainElement {
  static override properties = { desk: { attribute: false }, sheets: { attribute: false }, place: { attribute: false }, appUpdate: { attribute: false }, failed: { state: true }, notLoaded: { state: true } };
  declare desk: Desk;
  declare sheets: OpenSheets;
  declare place: Place;
  declare failed: string;
  declare appUpdate: AppUpdate;
  /** the screen's own script could not be fetched */
  declare notLoaded: boolean;

  /** the place asked for last: a slower one before it is not shown any more */
  #asked: object = {};

  constructor() {
    super();
    this.failed = '';
    this.notLoaded = false;
    followChanges(this, () => [this.sheets, this.appUpdate, this.desk?.session, this.desk?.device]);
  }

  /** Shows another place; the screen's heading takes the focus, except at the first. */
  async show(place: Place): Promise<void> {
    const first = this.place === undefined;
    const before = first ? '' : placeKey(this.place);
    const asked = this.#asked = {};
    // The job is fetched while its screen is.
    const loading = loadScreen(place).then(() => false, () => true);
    this.failed = '';
    if (place.kind === 'job' && before !== placeKey(place)) void this.#openJob(place.id);
    const notLoaded = await loading;
    if (asked !== this.#asked) return;
    this.notLoaded = notLoaded;
    this.place = place;
    await this.updateComplete;
    document.title = this.#title();
    if (first || before === placeKey(place)) return;
    scrollTo(0, 0);
    document.getElementById('sheet')?.focus({ preventScroll: true });
  }

  async #openJob(id: string): Promise<void> {
    try {
      await this.sheets.open(id);
    } catch (error) {
      if (this.sheets.find(id) === undefined) this.failed = sayFault(error);
    }
    this.requestUpdate();
    if (this.place !== undefined) document.title = this.#title();
  }

  protected override render(): TemplateResult {
    if (this.place === undefined) return html``;
    return html`<a class="skip" href="#sheet">${words.skipToContent}</a>
      <header class="top screen-only"><span class="top-name">${words.product}</span>
        ${HAS_OWN_FIELD.has(this.place.kind) ? nothing : html`<form class="top-find" role="search" @submit=${(event: SubmitEvent) => this.#find(event)}>
          <input type="search" name="text" aria-label=${words.find.box} aria-keyshortcuts="Control+K" placeholder=${words.find.box} title=${words.find.boxKey} enterkeyhint="search" autocomplete="off" autocapitalize="characters" spellcheck="false" maxlength="200"><button type="submit">${words.find.act}</button></form>`}
        <nav aria-label=${words.nav.label}>
          ${this.#renderLink('/', words.nav.jobs, this.place.kind === 'jobs' || this.place.kind === 'job' || this.place.kind === 'start-job')}
          ${this.#renderLink('/counter', words.nav.counter, this.place.kind === 'counter' || this.place.kind === 'counter-step')}
          ${this.#renderLink('/plan', words.nav.plan, this.place.kind === 'plan' || this.place.kind === 'reorder')}
          ${this.#renderLink('/shelf', words.nav.shelf, this.place.kind === 'shelf')}
          ${this.#renderLink('/orders', words.nav.orders, this.place.kind === 'orders' || this.place.kind === 'order' || this.place.kind === 'suppliers')}
          ${this.#renderLink('/settings', words.nav.settings, this.place.kind === 'settings')}
        </nav></header>
      <device-line class="screen-only" .desk=${this.desk}></device-line>
      ${this.#renderSignIn()}
      ${this.#renderUpdate()}
      ${this.notLoaded ? html`<main id="sheet" tabindex="-1"><div class="caution" role="alert"><p>${words.offline.notLoaded}</p>
        <button type="button" @click=${() => location.reload()}>${words.offline.reload}</button></div></main>` : this.#renderPlace(this.place)}`;
  }

  #find(event: SubmitEvent): void {
    event.preventDefault();
    const field = (event.target as HTMLFormElement).querySelector('input')!;
    this.desk.go(findPath(field.value));
    field.value = '';
  }

  /** A newer version is offered, and taken when nothing would be lost with this page. */
  #renderUpdate(): TemplateResult | typeof nothing {
    const update = this.appUpdate;
    if (!update.ready) return nothing;
    return html`<div class="device-line screen-only" role="status"><span>${words.offline.update.ready}</span>
      ${update.waitsFor === undefined ? html`<button type="button" @click=${() => update.take()}>${words.offline.update.take}</button>`
        : html`<span class="quiet">${words.offline.update.waitsFor[update.waitsFor]}</span>`}</div>`;
  }

  /** Somebody has to sign in before anything is fetched or sent; what is kept here can be worked on meanwhile. */
  #renderSignIn(): TemplateResult | typeof nothing {
    const { session, device } = this.desk;
    const ofAnother = !session.needsSignIn && device.reach === 'signed-out';
    if (this.place.kind === 'sign-in' || (!session.needsSignIn && !ofAnother)) return nothing;
    return html`<div class="device-line screen-only" role="status"><a href="/sign-in"><span class="mark-do">${ofAnother ? words.access.ofAnother : words.access.signedOut}</span></a></div>`;
  }

  #renderLink(path: string, word: string, here: boolean): TemplateResult {
    return html`<a href=${path} aria-current=${here ? 'page' : 'false'}>${word}</a>`;
  }

  #renderPlace(place: Place): TemplateResult {
    const { desk } = this;
    switch (place.kind) {
      case 'jobs': return html`<jobs-screen .desk=${desk}></jobs-screen>`;
      case 'start-job': return html`<start-job-screen .desk=${desk} .from=${this.sheets.counter}
        @job-started=${(event: CustomEvent<JobStarted>) => { void this.#takeOver(event.detail); }}></start-job-screen>`;
      case 'shelf': return html`<shelf-screen .desk=${desk} .view=${place.view} .detail=${place.detail}></shelf-screen>`;
      case 'orders': return html`<orders-screen .desk=${desk}></orders-screen>`;
      case 'order': return html`<order-screen .desk=${desk} .orderId=${place.id}></order-screen>`;
      case 'suppliers': return html`<suppliers-screen .desk=${desk} .supplierId=${place.id}></suppliers-screen>`;
      case 'find': return html`<find-screen .desk=${desk} .text=${place.text}></find-screen>`;
      case 'plan': return html`<plan-screen .desk=${desk}></plan-screen>`;
      case 'reorder': return html`<reorder-screen .desk=${desk}></reorder-screen>`;
      case 'settings': return html`<settings-screen .desk=${desk}></settings-screen>`;
      case 'sign-in': return html`<sign-in-screen .desk=${desk}></sign-in-screen>`;
      case 'gauge': return html`<gauge-screen></gauge-screen>`;
      case 'waiting': return html`<waiting-screen .desk=${desk}></waiting-screen>`;
      case 'counter': return this.#renderCounter(desk);
      case 'counter-step': return this.sheets.counter === undefined ? this.#renderCounter(desk)
        : this.#renderSheet(this.sheets.counter, '/counter', place);
      case 'job': {
        const sheet = this.sheets.find(place.id);
        if (sheet !== undefined) return this.#renderSheet(sheet, `/jobs/${encodeURIComponent(place.id)}`, place);
        return html`<main id="sheet" tabindex="-1">${this.failed === '' ? html`<p role="status">${words.loading}</p>`
          : html`<div class="caution" role="alert"><p>${this.failed}</p>
            <button type="button" @click=${() => { this.failed = ''; void this.#openJob(place.id); }}>${words.tryAgain}</button></div>`}</main>`;
      }
      case 'nowhere': return html`<main id="sheet" tabindex="-1"><h1>${words.faults['not-found']}</h1>
        <p><a href="/">${words.nav.jobs}</a></p></main>`;
    }
  }

  #renderCounter(desk: Desk): TemplateResult {
    return html`<counter-screen .desk=${desk} .open=${this.sheets.counter}
      .openSheet=${(tree: Parameters<OpenSheets['openCounter']>[0]) => { void this.sheets.openCounter(tree).then(() => desk.go('/counter/bench')); }}
      .throwAway=${() => { this.sheets.closeCounter(); this.requestUpdate(); }}></counter-screen>`;
  }

  /** A job that was begun here is opened; what was chosen at the counter is chosen for it too. */
  async #takeOver({ jobId, chosen, step }: JobStarted): Promise<void> {
    const sheet = await this.sheets.open(jobId).catch(() => undefined);
    if (chosen !== undefined) sheet?.change([{ field: ['chosen'], value: structuredClone(chosen) as JsonValue }]);
    this.sheets.closeCounter();
    this.desk.go(`/jobs/${encodeURIComponent(jobId)}/${step}`);
  }

  #renderSheet(sheet: JobSheet | CounterSheet, base: string, place: Extract<Place, { kind: 'job' | 'counter-step' }>): TemplateResult {
    return html`<job-screen .desk=${this.desk} .sheet=${sheet} .base=${base}
      .step=${place.step ?? 'as-found'} .detail=${place.detail}></job-screen>${nothing}`;
  }

  #title(): string {
    const { place } = this;
    switch (place.kind) {
      case 'jobs': return `${words.jobs.title} · ${words.product}`;
      case 'start-job': return `${words.start.title} · ${words.product}`;
      case 'counter': return `${words.counter.title} · ${words.product}`;
      case 'counter-step': return `${words.steps.names[place.step]} · ${words.counter.title} · ${words.product}`;
      case 'shelf': return `${sayShelf(place)} · ${words.product}`;
      case 'orders': case 'order': return `${words.orders.title} · ${words.product}`;
      case 'suppliers': return `${words.orders.suppliersTitle} · ${words.product}`;
      case 'find': return `${words.find.title} · ${words.product}`;
      case 'plan': return `${words.nav.planTitle} · ${words.product}`;
      case 'reorder': return `${words.nav.reorderTitle} · ${words.product}`;
      case 'settings': return `${words.settings.title} · ${words.product}`;
      case 'sign-in': return `${words.access.title} · ${words.product}`;
      case 'gauge': return `${words.gauge.title} · ${words.product}`;
      case 'waiting': return `${words.offline.title} · ${words.product}`;
      case 'job': {
        const job = this.sheets.find(place.id)?.document.title;
        const step = place.step === 'bench' && place.detail === 'photograph' ? words.photograph.title : words.steps.names[place.step ?? 'as-found'];
        return [step, ...(job === undefined ? [] : [job]), words.product].join(' · ');
      }
      case 'nowhere': return words.product;
    }
  }
}
customElements.define('app-shell', AppShell);

/** What of the shelf is open, for the window's title. */
function sayShelf({ view, detail = '' }: Extract<Place, { kind: 'shelf' }>): string {
  switch (view) {
    case 'list': return words.shelf.title;
    case 'part': return `${detail} · ${words.shelf.title}`;
    case 'bin': return `${words.shelf.bin(detail)} · ${words.shelf.title}`;
    case 'count': return words.shelf.countingTitle;
    case 'labels': return words.shelf.labelsTitle;
  }
}

/** Places with one key are one sheet: going between them moves neither focus nor scroll. */
function placeKey(place: Place): string {
  switch (place.kind) {
    case 'job': return `job ${place.id} ${place.step ?? 'as-found'} ${place.detail ?? ''}`;
    case 'counter-step': return `counter ${place.step} ${place.detail ?? ''}`;
    case 'find': return 'find';
    case 'shelf': return `shelf ${place.view} ${place.detail ?? ''}`;
    case 'order': return `order ${place.id}`;
    case 'suppliers': return `suppliers ${place.id ?? ''}`;
    case 'jobs': case 'start-job': case 'orders': case 'counter': case 'plan': case 'reorder': case 'settings': case 'sign-in': case 'gauge': case 'waiting': case 'nowhere': return place.kind;
  }
}
