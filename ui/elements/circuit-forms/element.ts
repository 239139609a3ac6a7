import { html, nothing, type TemplateResult } from 'lit';
import { repeat } from 'lit/directives/repeat.js';
import type { BenchRecord, CircuitElement, IdentifyAnswer, TerminalRole } from '../../../catalog-schema/index.ts';
import { benchWords } from '../../words/bench.ts';
import '../circuit-picture/index.ts';
import { PlainElement } from '../plain-element.ts';

type Circuit = IdentifyAnswer['circuits'][number];
/** Below this a form is said to be out of the question. */
const LEAST_PROBABILITY = 0.005;

/** The circuit forms a part can still have, likeliest first, each drawn small with the role of every terminal; the rest by name. */
export class CircuitForms extends PlainElement {
  static override properties = { circuits: { attribute: false }, record: { attribute: false } };
  declare circuits: readonly Circuit[];
  declare record: BenchRecord;

  protected override render(): TemplateResult {
    const left = this.circuits.filter(({ probability }) => probability >= LEAST_PROBABILITY).toSorted((a, b) => b.probability - a.probability);
    const all = [...new Set([...Object.keys(benchWords.forms), ...this.circuits.map(({ form }) => form)])];
    const gone = all.filter((form) => left.every((circuit) => circuit.form !== form));
    return html`<p class="forms-left" role="status"><b>${benchWords.formsLeft(left.length, all.length)}</b></p>
      <ol class="forms" tabindex="0" aria-label=${benchWords.formsList}>${repeat(left, ({ form }) => form, (circuit) => this.#renderForm(circuit))}</ol>
      ${gone.length === 0 ? nothing : html`<p class="quiet">${benchWords.formsGone(gone.map(sayForm))}</p>`}`;
  }

  #renderForm({ form, probability, circuit, roles }: Circuit): TemplateResult {
    return html`<li class="form"><p><b>${sayForm(form)}</b><br>${benchWords.likelihood(probability)}, ${benchWords.percent(probability)}</p>
      <circuit-picture .terminals=${this.record.terminals ?? []} .circuit=${circuit.map(roundOhms)} .roles=${sayRoles(roles)} .caption=${false}></circuit-picture>
      <ul class="visually-hidden">${groupRoles(roles).map(([role, ids]) => html`<li>${benchWords.roleOf(ids, benchWords.roles[role])}</li>`)}</ul></li>`;
  }
}
customElements.define('circuit-forms', CircuitForms);

/** A common form in words; one the table does not know is said by its name. */
export function sayForm(form: string): string {
  return form in benchWords.forms ? benchWords.forms[form as keyof typeof benchWords.forms] : form;
}

/** An element with its ohms as exact as a bench can tell: three figures. */
function roundOhms(element: CircuitElement): CircuitElement {
  switch (element.kind) {
    case 'coil': return element.ohmAt20C === undefined ? element : { ...element, ohmAt20C: roundFigures(element.ohmAt20C) };
    case 'resistor': return { ...element, ohm: roundFigures(element.ohm) };
    case 'contact': case 'diode': case 'motor': return element;
    default: { const never: never = element; throw new Error(`no ohms for ${JSON.stringify(never)}`); }
  }
}

function roundFigures(value: number): number {
  return Number(value.toPrecision(3));
}

function sayRoles(roles: Circuit['roles']): Record<string, string> {
  return Object.fromEntries(Object.entries(roles).map(([id, role]) => [id, benchWords.roles[role]]));
}

function groupRoles(roles: Circuit['roles']): [TerminalRole, string[]][] {
  const groups = new Map<TerminalRole, string[]>();
  for (const [id, role] of Object.entries(roles)) groups.set(role, [...(groups.get(role) ?? []), id]);
  return [...groups];
}
