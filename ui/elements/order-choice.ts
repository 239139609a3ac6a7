import { html, nothing, type TemplateResult } from 'lit';
import type { OrderChoice, ShopPlan } from '../../catalog-schema/index.ts';
import { formatArrival, formatMoney } from '../format.ts';
import { planWords as say } from '../words/plan.ts';

/** What the sentences are said about, and how parts are named. */
export interface ChoiceView { readonly plan: Pick<ShopPlan, 'currency' | 'today'>; readonly titleOf: (partId: string) => string }

/** The sentences of one choice of a plan. */
export function renderChoice({ plan: { currency, today }, titleOf }: ChoiceView, { instead, later, sooner, compared }: OrderChoice): TemplateResult {
  const money = (amount: number): string => formatMoney(amount, currency);
  const more = (amount: number): string | undefined => (amount === 0 ? undefined : money(amount));
  const day = (arrives: string): string => formatArrival(arrives, today);
  return html`<ul class="plan-why">
    <li>${instead === null ? say.nothingElse : say.instead(titleOf(instead.partId), instead.from === 'shelf' ? say.theShelf : instead.from, day(instead.arrives), more(instead.more))}</li>
    ${later === null ? nothing : html`<li>${say.later(later.days, day(later.arrives), money(later.saves))}</li>`}
    ${sooner === null ? nothing : html`<li>${say.sooner(sooner.days, day(sooner.arrives), more(sooner.more))}</li>`}
  </ul><p class="quiet">${compared === 'all-needs' ? say.comparedAll : say.comparedOne}</p>`;
}
