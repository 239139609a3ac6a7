import { html, nothing, type TemplateResult } from 'lit';
import type { OhmReading } from '../../../catalog-schema/index.ts';
import { formatMeasured } from '../../format.ts';
import { words } from '../../words.ts';
import { benchWords } from '../../words/bench.ts';
import type { ReadingSetUp } from '../measure-target.ts';
import { samePair, setUpOf, type KeyedReading, type PairRow } from '../ohm-readings/readings.ts';
import { PlainElement } from '../plain-element.ts';

/**
 * Every pair of places with what was read at rest and held in. A gap opens the reading that would fill it, a reading opens itself;
 * what cannot be true is marked at each reading it names, with the reason under the row.
 */
export class OhmTable extends PlainElement {
  static override properties = {
    rows: { attribute: false }, clashes: { attribute: false }, chosen: { attribute: false }, asked: { attribute: false }, open: { attribute: false },
  };
  declare rows: readonly PairRow[];
  /** what stands against a reading, by its key */
  declare clashes: ReadonlyMap<string, readonly string[]>;
  declare chosen: ReadingSetUp | undefined;
  /** the reading to take next */
  declare asked: ReadingSetUp | undefined;
  declare open: (setUp: ReadingSetUp) => void;

  protected override render(): TemplateResult {
    return html`<table class="ohm-table"><caption class="visually-hidden">${benchWords.ohmTable}</caption>
      <thead><tr><th scope="col">${benchWords.pair}</th><th scope="col">${benchWords.atRest}</th><th scope="col">${benchWords.pulledIn}</th></tr></thead>
      ${this.rows.map((row) => this.#renderRow(row))}</table>`;
  }

  #renderRow(row: PairRow): TemplateResult {
    const [a, b] = row.between.map(sayNode) as [string, string];
    const chosen = this.chosen !== undefined && samePair(this.chosen.between, row.between);
    const reasons = [...new Set(row.readings.flatMap(({ key }) => this.clashes.get(key) ?? []))];
    return html`<tbody class=${chosen ? 'row-chosen' : ''}><tr><th scope="row">${a} – ${b}</th>
      <td>${this.#renderCell(row, false)}</td><td>${this.#renderCell(row, true)}</td></tr>
      ${reasons.map((why) => html`<tr><td colspan="3"><p class="clash-why"><span class="not">${benchWords.clash}</span> ${why}</p></td></tr>`)}</tbody>`;
  }

  #renderCell(row: PairRow, pulledIn: boolean): TemplateResult {
    const here = row.readings.filter(({ reading }) => (reading.pulledIn ?? false) === pulledIn);
    const next = this.asked !== undefined && this.asked.pulledIn === pulledIn && samePair(this.asked.between, row.between) ? this.asked : undefined;
    const [a, b] = row.between.map(sayNode) as [string, string];
    return html`${here.map((entry) => this.#renderReading(entry))}
      ${next === undefined && here.length > 0 ? nothing : html`<button type="button" class="gap" aria-label=${`${benchWords.notRead(a, b, pulledIn)}${next === undefined ? '' : `, ${benchWords.nextReading}`}`}
        @click=${() => this.open(next ?? { between: row.between, by: 'meter', plusOn: undefined, pulledIn })}>${next === undefined ? '·' : html`<span class="do">${benchWords.nextReading}</span>`}</button>`}`;
  }

  #renderReading({ key, reading }: KeyedReading): TemplateResult {
    const [a, b] = reading.between.map(sayNode) as [string, string];
    const how = benchWords.takenBy(reading.by ?? 'meter', reading.plusOn === undefined ? undefined : sayNode(reading.plusOn));
    const shown = sayOhm(reading);
    const clash = this.clashes.has(key);
    return html`<button type="button" class=${clash ? 'read clash' : 'read'} @click=${() => this.open(setUpOf(reading))}>
      <span class="visually-hidden">${benchWords.ohmsBetween(a, b)}:</span>
      <span class="number">${shown}</span>${how === '' ? nothing : html` <small>${how}</small>`}
      ${clash ? html`<span class="visually-hidden">, ${benchWords.clashing}</span>` : nothing}</button>`;
  }
}
customElements.define('ohm-table', OhmTable);

function sayNode(node: string): string {
  return node === 'case' ? words.node.case : node;
}

function sayOhm({ ohm }: OhmReading): string {
  return ohm === 'open' ? words.field.open : formatMeasured(ohm, 'Ω');
}
