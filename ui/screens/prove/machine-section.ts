import { html, type TemplateResult } from 'lit';
import { CRANK_INSTRUMENTS, type CrankInstrument, type JobProof, type Measured } from '../../../catalog-schema/index.ts';
import type { ChangeResult, FieldChange } from '../../client/index.ts';
import { proveWords } from '../../words/prove.ts';

export interface MachineView {
  readonly prove: JobProof;
  readonly instruments: readonly CrankInstrument[];
  readonly change: (changes: readonly FieldChange[]) => ChangeResult;
  readonly setInstruments: (instruments: readonly CrankInstrument[]) => void;
  readonly assumptions: readonly string[];
  readonly cautions: readonly string[];
}

/** Facts of the battery, what there is to measure with, and what the answer took to be so. */
export function renderMachine({ prove, instruments, change, setInstruments, assumptions, cautions }: MachineView): TemplateResult {
  const say = proveWords;
  const commit = (key: 'batteryCcaA' | 'ambientC') => (value: Measured | 'open' | undefined): ChangeResult =>
    change([{ field: ['prove', 'system', key], value: typeof value === 'number' ? value : null }]);
  return html`<details class="crank-machine"><summary>${say.machine}</summary>
    <div class="figures">
      <quantity-field .label=${say.cca} .hint=${say.ccaHint} .dimension=${'current'} .value=${prove.system?.batteryCcaA} .commit=${commit('batteryCcaA')}></quantity-field>
      <quantity-field .label=${say.ambient} .hint=${say.ambientHint} .dimension=${'temperature'} .value=${prove.system?.ambientC} .commit=${commit('ambientC')}></quantity-field>
    </div>
    <fieldset class="choices"><legend>${say.instruments}</legend>
      ${CRANK_INSTRUMENTS.map((name) => html`<label class="touch crank-instrument"><input type="checkbox" .checked=${instruments.includes(name)}
        @change=${(event: Event) => setInstruments(CRANK_INSTRUMENTS.filter((each) => (each === name ? (event.target as HTMLInputElement).checked : instruments.includes(each))))}>
        ${say.instrument[name]}</label>`)}
      <p class="quiet">${say.instrumentsHint}</p></fieldset>
    ${cautions.length === 0 ? '' : html`${cautions.map((line) => html`<p class="caution">${line}</p>`)}`}
    ${assumptions.length === 0 ? '' : html`<h3>${say.assumptions}</h3><ul class="quiet">${assumptions.map((line) => html`<li>${line}</li>`)}</ul>`}
  </details>`;
}
