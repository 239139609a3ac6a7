import { html, nothing, type TemplateResult } from 'lit';
import type { Plan } from '../../../catalog-schema/index.ts';
import { formatNumber } from '../../format.ts';
import { words } from '../../words.ts';

/** What the wiring does in every judged position of the switches: the proof that the plan is right, in words. */
export function renderSwitchStates(plan: Plan): TemplateResult | typeof nothing {
  if (plan.states.length === 0) return nothing;
  const w = words.wiring;
  return html`<details><summary>${w.states}</summary><table class="states">
    <thead><tr><th scope="col">${w.start}</th><th scope="col">${w.interlocks}</th><th scope="col">${w.relay}</th><th scope="col">${w.engine}</th><th scope="col">${w.control}</th></tr></thead>
    <tbody>${plan.states.map((state) => html`<tr>
      <td>${state.engineRuns ? w.running : state.startSwitch ? w.held : w.released}</td><td>${state.interlocks ? w.satisfied : w.broken}</td>
      <td>${state.pulledIn ? w.pulledIn : w.out}</td><td>${state.starterLive ? w.cranks : w.doesNotCrank}</td><td>${formatNumber(state.controlA)} A</td></tr>`)}</tbody>
  </table></details>`;
}
