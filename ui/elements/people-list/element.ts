import { html, nothing, type TemplateResult } from 'lit';
import { repeat } from 'lit/directives/repeat.js';
import type { PersonState } from '../../../catalog-schema/index.ts';
import { ServiceFault, type Desk } from '../../client/index.ts';
import { formatMoment } from '../../format.ts';
import { sayFault } from '../../say-fault.ts';
import { words } from '../../words.ts';
import { PlainElement } from '../plain-element.ts';

/** Who may sign in from the network: added, given another PIN, let in again and taken away on the machine itself. */
export class PeopleList extends PlainElement {
  static override properties = {
    desk: { attribute: false }, people: { state: true }, leaving: { state: true }, said: { state: true }, failed: { state: true },
  };
  declare desk: Desk;
  declare people: readonly PersonState[] | undefined;
  /** the id of whoever is about to be taken away */
  declare leaving: string | undefined;
  declare said: string;
  declare failed: string;

  constructor() {
    super();
    this.leaving = undefined;
    this.said = '';
    this.failed = '';
  }

  override connectedCallback(): void {
    super.connectedCallback();
    void this.#try(async () => { await this.#read(); });
  }

  async #read(): Promise<void> { this.people = await this.desk.access.listPeople(); }

  /** Does something, reads the list anew, and says what came of it. */
  async #try(work: () => Promise<string | void>): Promise<void> {
    this.said = '';
    this.failed = '';
    try {
      const said = await work();
      await this.#read();
      this.said = said ?? '';
    } catch (error) {
      this.failed = error instanceof ServiceFault && error.kind === 'refused' ? error.detail : sayFault(error);
    }
  }

  #add(event: SubmitEvent): void {
    event.preventDefault();
    const form = event.target as HTMLFormElement;
    const given = new FormData(form);
    void this.#try(async () => {
      const { name } = await this.desk.access.addPerson({ name: String(given.get('name')), pin: String(given.get('pin')).trim() });
      form.reset();
      return words.access.people.added(name);
    });
  }

  #resetPin(event: SubmitEvent, { id, name }: PersonState): void {
    event.preventDefault();
    const form = event.target as HTMLFormElement;
    const pin = String(new FormData(form).get('pin')).trim();
    void this.#try(async () => {
      await this.desk.access.resetPin(id, pin);
      form.reset();
      form.closest('details')!.open = false;
      return words.access.people.pinSet(name);
    });
  }

  #remove({ id, name }: PersonState): void {
    this.leaving = undefined;
    void this.#try(async () => {
      await this.desk.access.removePerson(id);
      return words.access.people.removed(name);
    });
  }

  protected override render(): TemplateResult {
    const { people: say } = words.access;
    return html`<section><h2>${say.title}</h2>
      <p class="quiet">${say.lead}</p>
      ${this.people === undefined ? nothing : this.people.length === 0 ? html`<p>${say.none}</p>`
        : html`<ul class="rows">${repeat(this.people, ({ id }) => id, (person) => this.#renderPerson(person))}</ul>`}
      <form class="stack narrow" @submit=${(event: SubmitEvent) => this.#add(event)}>
        <div class="field"><label for="person-name">${say.name}</label>
          <input id="person-name" name="name" autocomplete="off" autocapitalize="words" maxlength="100" required></div>
        ${this.#renderPin('person-pin')}
        <p><button class="main">${say.add}</button></p>
      </form>
      ${this.said === '' ? nothing : html`<p role="status">${this.said}</p>`}
      ${this.failed === '' ? nothing : html`<p class="not" role="alert">${this.failed}</p>`}</section>`;
  }

  #renderPin(id: string): TemplateResult {
    const { people: say } = words.access;
    return html`<div class="field"><label for=${id}>${say.pin}</label>
      <input id=${id} name="pin" type="password" inputmode="numeric" autocomplete="new-password" minlength="6" required aria-describedby="${id}-hint">
      <small id="${id}-hint">${say.pinHint}</small></div>`;
  }

  #renderPerson(person: PersonState): TemplateResult {
    const { people: say } = words.access;
    const { id, name, waitsUntil } = person;
    return html`<li class="person"><p><b>${name}</b>${waitsUntil === undefined ? nothing : html`<br><span class="mark-do">${say.waits(formatMoment(waitsUntil))}</span>`}</p>
      ${this.leaving === id ? html`<div role="alert"><p>${say.removeSure(name)}</p><p class="button-row">
          <button type="button" @click=${() => this.#remove(person)}>${say.removeYes}</button>
          <button type="button" class="main" @click=${() => { this.leaving = undefined; }}>${say.removeNo}</button></p></div>`
        : html`<p class="button-row">${waitsUntil === undefined ? nothing
            : html`<button type="button" @click=${() => { void this.#try(() => this.desk.access.unlockPerson(id)); }}>${say.letIn(name)}</button>`}
          <button type="button" @click=${() => { this.leaving = id; }}>${say.remove(name)}</button></p>
        <details><summary>${say.newPin(name)}</summary><form class="stack narrow" @submit=${(event: SubmitEvent) => this.#resetPin(event, person)}>
          ${this.#renderPin(`pin-${id}`)}<p><button>${say.setPin}</button></p></form></details>`}</li>`;
  }
}
customElements.define('people-list', PeopleList);
