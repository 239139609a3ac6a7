import { html, nothing, type TemplateResult } from 'lit';
import type { Desk, LengthUnit, Theme } from '../../client/index.ts';
import { renderChoices } from '../../elements/choices.ts';
import '../../elements/device-keeping/element.ts';
import '../../elements/people-list/element.ts';
import '../../elements/who-works/element.ts';
import { followChanges, PlainElement } from '../../elements/plain-element.ts';
import { words } from '../../words.ts';

const UNITS: readonly LengthUnit[] = ['mm', 'inch'];
const THEMES: readonly Theme[] = ['auto', 'light', 'dark', 'daylight'];

/** Unit, ground and name: choices of this device. */
export class SettingsScreen extends PlainElement {
  static override properties = { desk: { attribute: false } };
  declare desk: Desk;

  constructor() {
    super();
    followChanges(this, () => [this.desk?.settings, this.desk?.session]);
  }

  protected override render(): TemplateResult {
    const { settings } = this.desk;
    const { unit, theme, author } = settings.values;
    return html`<main id="sheet" tabindex="-1">
      <h1>${words.settings.title}</h1>
      <p class="quiet">${words.settings.kept}</p>
      <div class="stack">
        ${renderChoices({
          name: 'unit', legend: words.settings.unit, value: unit,
          choices: UNITS.map((value) => ({ value, label: value === 'mm' ? words.settings.mm : words.settings.inch })),
          onChoose: (value) => settings.set({ unit: value }),
        })}
        <p class="quiet">${words.settings.unitHint}</p>
        ${renderChoices({
          name: 'theme', legend: words.settings.theme, value: theme,
          choices: THEMES.map((value) => ({ value, label: words.settings.themes[value] })),
          onChoose: (value) => settings.set({ theme: value }),
        })}
        <p class="quiet">${words.settings.themeHint}</p>
        ${this.desk.session.person !== '' ? nothing : html`<div class="field"><label for="author">${words.settings.author}</label>
          <input id="author" autocomplete="name" maxlength="100" .value=${author} aria-describedby="author-hint"
            @change=${(event: Event) => settings.set({ author: (event.target as HTMLInputElement).value.trim() })}>
          <small id="author-hint">${words.settings.authorHint}</small></div>`}
        <p><a href="/gauge">${words.settings.gauge}</a></p>
      </div>
      <device-keeping .desk=${this.desk}></device-keeping>
      <who-works .desk=${this.desk}></who-works>
      ${this.#renderNetwork()}</main>`;
  }

  /** Other devices and their people: what the machine itself decides. */
  #renderNetwork(): TemplateResult | typeof nothing {
    const { state } = this.desk.session;
    if (state === undefined) return nothing;
    const { connect } = words.access;
    return html`<section><h2>${connect.title}</h2>
        <p>${state.network ? connect.open : connect.closed} <a href="/connect">${connect.link}</a></p></section>
      ${state.here ? html`<people-list .desk=${this.desk}></people-list>` : nothing}`;
  }
}
customElements.define('settings-screen', SettingsScreen);
