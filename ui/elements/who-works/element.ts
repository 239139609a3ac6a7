import { html, nothing, type TemplateResult } from 'lit';
import { ServiceFault, type Desk } from '../../client/index.ts';
import { sayFault } from '../../say-fault.ts';
import { words } from '../../words.ts';
import { followChanges, PlainElement } from '../plain-element.ts';

/** Whoever is signed in on this device: signing out, and a PIN of one's own choice. */
export class WhoWorks extends PlainElement {
  static override properties = { desk: { attribute: false }, said: { state: true }, failed: { state: true } };
  declare desk: Desk;
  declare said: string;
  declare failed: string;

  constructor() {
    super();
    this.said = '';
    this.failed = '';
    followChanges(this, () => [this.desk?.session]);
  }

  async #changePin(event: SubmitEvent): Promise<void> {
    event.preventDefault();
    const form = event.target as HTMLFormElement;
    const given = new FormData(form);
    await this.#try(async () => {
      await this.desk.access.changePin({ pin: String(given.get('old-pin')).trim(), newPin: String(given.get('new-pin')).trim() });
      form.reset();
      this.said = words.access.who.pinChanged;
    });
  }

  async #try(work: () => Promise<void>): Promise<void> {
    this.said = '';
    this.failed = '';
    try {
      await work();
    } catch (error) {
      this.failed = error instanceof ServiceFault && error.kind === 'refused' ? error.detail : sayFault(error);
    }
  }

  protected override render(): TemplateResult | typeof nothing {
    const { session } = this.desk;
    const person = session.state?.person ?? null;
    if (person === null) return nothing;
    const { who } = words.access;
    return html`<section><h2>${who.title}</h2>
      <p>${who.signedIn(person.name)}</p>
      <p><button type="button" @click=${() => { void this.#try(() => session.signOut()); }}>${who.signOut}</button></p>
      <p class="quiet">${who.signOutHint}</p>
      <details><summary>${who.changePin}</summary>
        <form class="stack narrow" @submit=${(event: SubmitEvent) => { void this.#changePin(event); }}>
          <input type="text" name="name" autocomplete="username" .value=${person.name} hidden>
          <div class="field"><label for="old-pin">${who.oldPin}</label>
            <input id="old-pin" name="old-pin" type="password" inputmode="numeric" autocomplete="current-password" required></div>
          <div class="field"><label for="new-pin">${who.newPin}</label>
            <input id="new-pin" name="new-pin" type="password" inputmode="numeric" autocomplete="new-password" minlength="6" required aria-describedby="new-pin-hint">
            <small id="new-pin-hint">${who.newPinHint}</small></div>
          <p><button class="main">${who.changePin}</button></p>
        </form></details>
      ${this.said === '' ? nothing : html`<p role="status">${this.said}</p>`}
      ${this.failed === '' ? nothing : html`<p class="not" role="alert">${this.failed}</p>`}</section>`;
  }
}
customElements.define('who-works', WhoWorks);
