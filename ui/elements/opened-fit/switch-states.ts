import { html, nothing, type TemplateResult } from 'lit';
import type { BenchRecord, Plan } from '../../../catalog-schema/index.ts';
import { sayState, type InterlocksAct } from '../../drawing/index.ts';
import { words } from '../../words.ts';
import '../state-picture/index.ts';

/** What the wiring does in every judged position of the switches: the proof that the plan is right, as small lit circuits with their words. */
export function renderSwitchStates(plan: Plan, record: BenchRecord): TemplateResult | typeof nothing {
  if (plan.states.length === 0) return nothing;
  const interlocks = interlocksOf(record);
  const hasFeed = plan.states.some((state) => state.engineRuns);
  return html`<section class="states"><h3>${words.wiring.states}</h3><p class="quiet">${words.wiring.statesHint}</p>
    <ul class="state-list">${plan.states.map((state) => html`<li><figure>
      <state-picture .state=${state} .interlocks=${interlocks} .hasFeed=${hasFeed}></state-picture>
      <figcaption>${sayState(state, interlocks, hasFeed)}</figcaption></figure></li>`)}</ul></section>`;
}

/** Where the interlocks act: as the record says, else by the wires; the contract takes them to sit ahead of the start-switch wire. */
function interlocksOf({ system, wires = [] }: BenchRecord): InterlocksAct {
  return system.interlocks ?? (wires.some(({ leadsTo }) => leadsTo === 'interlocked-return') ? 'in-return' : 'in-feed');
}
