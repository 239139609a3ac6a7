import { html, nothing, type TemplateResult } from 'lit';
import { BRIDGED_WORDS, BY_HAND_WORDS, CRANK_WORDS, FAULT_NAMES, sayShare, type CrankAsk, type Measured, type Observation, type ProveAnswer } from '../../../catalog-schema/index.ts';
import type { ChangeResult } from '../../client/index.ts';
import '../../elements/quantity-field/element.ts';
import { proveWords } from '../../words/prove.ts';
import { sayOtherTest } from './say-seen.ts';

type NextTest = ProveAnswer['nextTest'][number];

export interface TestView {
  /** what is to be done; undefined where no test is left */
  readonly ask: CrankAsk | undefined;
  /** what the engine says of this test; undefined where it proposes others */
  readonly test: NextTest | undefined;
  /** chosen by the person, not proposed */
  readonly own: boolean;
  /** what it showed, where it was done already */
  readonly showed: Observation | undefined;
  readonly load: { readonly ratioOfCca: number; readonly seconds: number };
  readonly tell: (seen: Observation) => ChangeResult;
  readonly setLoad: (load: { ratioOfCca: number; seconds: number }) => void;
  readonly goBack: () => void;
}

/** The test to do: how, what each result would mean, its cautions beside it, and the place for what it showed. */
export function renderTest(view: TestView): TemplateResult {
  const { ask, test, own, goBack } = view;
  const say = proveWords;
  if (ask === undefined) return html`<section class="crank-test"><h2>${say.next}</h2><p>${say.noNext}</p></section>`;
  const cautions = test?.cautions ?? say.cautions[ask.kind] ?? [];
  return html`<section class="crank-test" aria-labelledby="crank-test-title">
    <p class="quiet">${own ? say.chosenTest : say.next}</p>
    <h2 id="crank-test-title" tabindex="-1">${test?.test ?? sayOtherTest(ask)}</h2>
    ${test === undefined || test.how.length === 0 ? nothing : html`<ol class="crank-how">${test.how.map((line) => html`<li>${line}</li>`)}</ol>`}
    ${cautions.map((line) => html`<p class="caution">${line}</p>`)}
    ${renderEntry(view, ask)}
    ${test === undefined ? nothing : html`<p class="quiet">${say.tells}: ${test.why}${test.practice === null ? nothing : ` ${say.practice(test.practice)}`}</p>`}
    ${test === undefined || test.outcomes.length === 0 ? nothing : renderOutcomes(test)}
    ${own ? html`<p><button type="button" class="plain" @click=${goBack}>${say.backToNext}</button></p>` : nothing}
  </section>`;
}

function renderOutcomes({ outcomes }: NextTest): TemplateResult {
  const say = proveWords;
  // Beside the drawing there is room for it at once.
  return html`<details class="crank-means" ?open=${matchMedia('(min-width: 60rem)').matches}><summary>${say.means}</summary><dl class="facts">${outcomes.map(({ reads, chance, leaves }) => html`<div>
    <dt>${say.mean(reads, sayShare(chance))}</dt>
    <dd>${say.leaves(leaves.map(({ fault, probability }) => `${FAULT_NAMES[fault]} ${sayShare(probability)}`))}</dd></div>`)}</dl></details>`;
}

/** The place for the answer: a number where it is a number, words to touch where it is seen. */
function renderEntry(view: TestView, ask: CrankAsk): TemplateResult | typeof nothing {
  const { showed, tell } = view;
  const say = proveWords;
  switch (ask.kind) {
    case 'volts': return renderReading({
      label: say.shows, hint: say.volts.hint, dimension: 'voltage', value: showed?.kind === 'volts' ? showed.volts : undefined, commit: (volts) => tell({ ...ask, volts }),
    });
    case 'amps': return renderReading({ label: say.amps, hint: say.ampsHint, dimension: 'current', value: showed?.kind === 'amps' ? showed.amps : undefined, commit: (amps) => tell({ ...ask, amps }) });
    case 'battery-load': return html`<div class="figures">${renderLoad(view)}${renderReading({
      label: say.load, hint: say.loadHint, dimension: 'voltage', value: showed?.kind === 'battery-load' ? showed.volts : undefined, commit: (volts) => tell({ kind: 'battery-load', ...view.load, volts }),
    })}</div>`;
    case 'turn-by-hand': return renderWords(say.handLegend, BY_HAND_WORDS, showed?.kind === 'turn-by-hand' ? showed.seen : undefined, (seen) => tell({ kind: 'turn-by-hand', seen }));
    case 'bridge-studs': return renderWords(say.bridgeLegend, BRIDGED_WORDS, showed?.kind === 'bridge-studs' ? showed.seen : undefined, (seen) => tell({ kind: 'bridge-studs', seen }));
    case 'crank': case 'sound': return ask.startSwitch ? html`<p class="mark-do">${say.tapAbove}</p>`
      : renderWords(say.crankOffLegend, CRANK_WORDS, showed?.kind === 'crank' ? showed.seen : undefined, (seen) => tell({ kind: 'crank', startSwitch: false, seen }));
  }
}

function renderReading(given: { label: string; hint: string; dimension: 'voltage' | 'current'; value: Measured | undefined; commit: (value: Measured) => ChangeResult }): TemplateResult {
  return html`<quantity-field class="crank-reading" .label=${given.label} .hint=${given.hint} .dimension=${given.dimension} .value=${given.value}
    .commit=${(value: Measured | 'open' | undefined) => (value === undefined || value === 'open' ? { ok: true } : given.commit(value))}></quantity-field>`;
}

function renderLoad({ load, setLoad }: TestView): TemplateResult {
  const say = proveWords;
  const take = (key: 'ratioOfCca' | 'seconds') => (value: Measured | 'open' | undefined): ChangeResult => {
    if (typeof value === 'number' && value > 0) setLoad({ ...load, [key]: value });
    return { ok: true };
  };
  return html`<quantity-field .label=${say.loadRatio} .dimension=${'number'} .value=${load.ratioOfCca} .commit=${take('ratioOfCca')}></quantity-field>
    <quantity-field .label=${say.loadSeconds} .dimension=${'number'} .value=${load.seconds} .commit=${take('seconds')}></quantity-field>`;
}

function renderWords<T extends string>(legend: string, table: Readonly<Record<T, string>>, value: T | undefined, choose: (value: T) => void): TemplateResult {
  return html`<fieldset class="choices"><legend>${legend}</legend><div class="choice-row">${(Object.keys(table) as T[]).map((each) => html`<button type="button"
    aria-pressed=${each === value ? 'true' : 'false'} @click=${() => choose(each)}>${table[each]}</button>`)}</div></fieldset>`;
}
