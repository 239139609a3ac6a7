import { html, nothing, type TemplateResult } from 'lit';
import { ServiceFault, type Desk } from '../../client/index.ts';
import { followChanges, PlainElement } from '../../elements/plain-element.ts';
import { sayFault } from '../../say-fault.ts';
import { words } from '../../words.ts';

/** Who are you: a name and a PIN, typed on a telephone with one hand. */
export class SignInScreen extends PlainElement {
  static override properties = { desk: { attribute: false }, busy: { state: true }, failed: { state: true } };
  declare desk: Desk;
  declare busy: boolean;
  declare failed: { readonly field: 'name' | 'pin' | undefined; readonly why: string } | undefined;

  constructor() {
    super();
    this.busy = false;
    this.failed = undefined;
    followChanges(this, () => [this.desk?.session, this.desk?.device]);
  }

  async #signIn(event: SubmitEvent): Promise<void> {
    event.preventDefault();
    const form = event.target as HTMLFormElement;
    const given = new FormData(form);
    const [name, pin] = [String(given.get('name')).trim(), String(given.get('pin')).trim()];
    if (name === '') return this.#fail('name', words.access.nameMissing);
    if (pin === '') return this.#fail('pin', words.access.pinMissing);
    this.busy = true;
    this.failed = undefined;
    try {
      await this.desk.session.signIn(name, pin);
      form.reset();
      this.desk.go('/');
    } catch (error) {
      (form.elements.namedItem('pin') as HTMLInputElement).value = '';
      this.#fail(undefined, error instanceof ServiceFault && error.kind === 'refused' ? error.detail : sayFault(error));
    } finally {
      this.busy = false;
    }
  }

  #fail(field: 'name' | 'pin' | undefined, why: string): void {
    this.failed = { field, why };
    if (field !== undefined) this.querySelector<HTMLInputElement>(`#${field}`)?.focus();
  }

  protected override render(): TemplateResult {
    const { session, device } = this.desk;
    const { state } = session;
    const person = state?.person ?? null;
    return html`<main id="sheet" tabindex="-1">
      <h1>${words.access.title}</h1>
      ${state !== undefined && !state.network && person === null ? html`<p>${words.access.notNeeded} <a href="/">${words.nav.jobs}</a></p>` : html`<p>${words.access.lead}</p>`}
      ${person === null ? nothing : html`<p role="status">${words.access.already(person.name)}</p>`}
      ${person !== null && device.reach === 'signed-out' ? html`<p class="mark-do" role="status">${words.access.another}</p>` : nothing}
      <form class="stack narrow" novalidate @submit=${(event: SubmitEvent) => { void this.#signIn(event); }}>
        ${this.#renderField('name', words.access.name, { autocomplete: 'username', value: session.person })}
        ${this.#renderField('pin', words.access.pin, { autocomplete: 'current-password' })}
        ${this.failed === undefined || this.failed.field !== undefined ? nothing : html`<p class="not" role="alert">${this.failed.why}</p>`}
        <p><button class="main" ?disabled=${this.busy}>${this.busy ? words.access.signingIn : words.access.signIn}</button></p>
      </form>
      <p class="quiet">${words.access.noAccount}</p>
      <p class="quiet">${words.access.onMachine}</p>
      ${session.person === '' ? nothing : html`<p><a href="/">${words.access.meanwhile}</a></p>`}
    </main>`;
  }

  #renderField(id: 'name' | 'pin', label: string, { autocomplete, value }: { autocomplete: AutoFill; value?: string }): TemplateResult {
    const wrong = this.failed?.field === id;
    return html`<div class="field"><label for=${id}>${label}</label>
      <input id=${id} name=${id} type=${id === 'pin' ? 'password' : 'text'} inputmode=${id === 'pin' ? 'numeric' : 'text'} autocomplete=${autocomplete}
        autocapitalize=${id === 'pin' ? 'off' : 'words'} spellcheck="false" maxlength="100" .value=${value ?? ''} required
        aria-invalid=${wrong ? 'true' : 'false'} aria-describedby=${wrong ? `${id}-fault` : nothing}>
      ${wrong ? html`<small id="${id}-fault" class="not" role="alert">${this.failed!.why}</small>` : nothing}</div>`;
  }
}
customElements.define('sign-in-screen', SignInScreen);
