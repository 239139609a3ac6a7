import { html, nothing, type TemplateResult } from 'lit';
import { keyOfObservation, type CrankAsk, type ProveAnswer } from '../../../catalog-schema/index.ts';
import { proveWords } from '../../words/prove.ts';
import { sayOtherTest } from './say-seen.ts';

/** Half of its cold-cranking current for 15 s: the customary load test (battery industry; the case may say otherwise). */
export const LOAD = { ratioOfCca: 0.5, seconds: 15 };
/** Tests that may be chosen whatever the engine proposes. */
const ALWAYS: readonly CrankAsk[] = [
  { kind: 'amps', startSwitch: true }, { kind: 'battery-load', ...LOAD }, { kind: 'turn-by-hand' }, { kind: 'crank', startSwitch: false }, { kind: 'bridge-studs' },
];
/** So many of those that tell most are listed. */
const LISTED = 6;

export interface OtherTestsView {
  /** what the engine proposes, best first */
  readonly tests: ProveAnswer['nextTest'];
  /** the test that is open */
  readonly shown: CrankAsk | undefined;
  readonly chosen: CrankAsk | undefined;
  readonly choose: (ask: CrankAsk) => void;
}

/** Readings that would tell most after the proposed one, then what takes another instrument or no meter at all. */
export function renderOtherTests({ tests, shown, chosen, choose }: OtherTestsView): TemplateResult {
  const say = proveWords;
  const isShown = (ask: CrankAsk): boolean => shown !== undefined && keyOfObservation(ask) === keyOfObservation(shown);
  const readings = tests.filter(({ ask }) => ask.kind === 'volts' && !isShown(ask)).slice(0, LISTED);
  return html`<section><h2>${say.other}</h2>
    ${readings.length === 0 ? nothing : html`<ul class="rows crank-others">${readings.map(({ ask, test }) => html`<li><button type="button" class="plain" @click=${() => choose(ask)}>${test}</button></li>`)}</ul>`}
    <p class="button-row">${ALWAYS.map((ask) => html`<button type="button" aria-pressed=${chosen !== undefined && keyOfObservation(ask) === keyOfObservation(chosen) ? 'true' : 'false'}
      @click=${() => choose(ask)}>${sayOtherTest(ask)}</button>`)}</p></section>`;
}
