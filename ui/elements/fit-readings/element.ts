import { html, nothing, type TemplateResult } from 'lit';
import { CRITERIA, type BenchRecord, type Criterion, type FitAnswer, type FitReading } from '../../../catalog-schema/index.ts';
import { formatMoney } from '../../format.ts';
import { words } from '../../words.ts';
import { fitsWords } from '../../words/fits.ts';
import { PlainElement } from '../plain-element.ts';
import { placeOfReading } from '../reading-place.ts';

/** Readings shown at once; the others wait behind a word. */
const FIRST = 3;

const NAMES = new RegExp(`(?<![\\w-])(?:${[...CRITERIA].toSorted((a, b) => b.length - a.length).join('|')})(?![\\w-])`, 'g');

/** What to measure next and what it would save, best first; one tap leads to the place where it is entered. Shows nothing when nothing is open. */
export class FitReadings extends PlainElement {
  static override properties = { answer: { attribute: false }, record: { attribute: false }, base: {} };
  declare answer: FitAnswer;
  declare record: BenchRecord;
  declare base: string;

  protected override render(): TemplateResult | typeof nothing {
    const { measureNext } = this.answer;
    if (measureNext.length === 0) return nothing;
    const rest = measureNext.slice(FIRST);
    return html`<section class="fit-readings" aria-labelledby="fit-readings"><h2 id="fit-readings">${fitsWords.measureNext}</h2>
      <ul class="rows">${measureNext.slice(0, FIRST).map((reading) => this.#renderReading(reading))}</ul>
      ${rest.length === 0 ? nothing : html`<details><summary>${fitsWords.moreReadings(rest.length)}</summary>
        <ul class="rows">${rest.map((reading) => this.#renderReading(reading))}</ul></details>`}</section>`;
  }

  #renderReading(reading: FitReading): TemplateResult {
    const place = placeOfReading(reading, this.record);
    const { worthUnit } = this.answer;
    const said = html`<span class="row-main">${reading.what[0]!.toUpperCase()}${reading.what.slice(1)}</span>
      <span class="row-what quiet">${sayCriteria(reading.why)}</span>
      <span class="row-state">${worthUnit === 'bit' ? fitsWords.tells(reading.worth) : fitsWords.saves(formatMoney(reading.worth, worthUnit))}</span>`;
    return html`<li>${place === undefined ? html`<div class="row reading-row">${said}</div>`
      : html`<a class="row reading-row" href="${this.base}/${place.step}${place.place === '' ? '' : `/${encodeURIComponent(place.place)}`}">${said}</a>`}</li>`;
  }
}
customElements.define('fit-readings', FitReadings);

/** The engine's sentence with the contract's names of checks put in the words that stand beside each check. */
function sayCriteria(why: string): string {
  const said = why.replace(NAMES, (name) => words.criteria[name as Criterion].toLowerCase());
  return said === '' ? said : said[0]!.toUpperCase() + said.slice(1);
}
