import { html, nothing, type TemplateResult } from 'lit';
import type { OrderPlanAnswer, OtherPlan, PlanWant, ShopPlan } from '../../../catalog-schema/index.ts';
import { renderChoice } from '../../elements/order-choice.ts';
import { formatArrival, formatMoney } from '../../format.ts';
import { words } from '../../words.ts';
import { planWords } from '../../words/plan.ts';

export type PlanChoice = 'least' | OtherPlan['which'];

/** What the view is made from. */
export interface PlanView {
  readonly plan: ShopPlan;
  readonly busy: boolean;
  readonly topUps: ReadonlySet<string>;
  readonly titleOf: (partId: string) => string;
  /** where a part lies on the shelf: 'C4', or several */
  readonly binsOf: (partId: string) => string;
  readonly toggleTopUp: (supplierId: string) => void;
  readonly take: (which: PlanChoice) => void;
}

const say = planWords;

export function renderPlan(view: PlanView): TemplateResult {
  const { plan: { answer }, busy, take } = view;
  const fromShelf = answer.fills.filter(({ from }) => from === 'shelf');
  return html`${renderTotal(view)}
    ${renderBeside(view)}
    ${fromShelf.length === 0 ? nothing : html`<section><h2>${say.fromShelf}</h2><ul class="rows">${fromShelf.map((fill) => renderFill(view, fill))}</ul></section>`}
    ${answer.orders.map((order) => renderOrder(view, order))}
    ${answer.unmet.length === 0 ? nothing : html`<section><h2>${say.unmet}</h2><ul class="rows">${answer.unmet.map(({ needId, why }) => html`<li class="row"><span class="row-main">${renderWant(view, needId)}</span><span class="caution">${why}</span></li>`)}</ul></section>`}
    ${renderTopUps(view)}
    <p><button type="button" class="main" ?disabled=${busy || answer.fills.length === 0} @click=${() => take('least')}>${busy ? say.taking : say.takeLeast}</button></p>`;
}

function renderTotal({ plan: { answer, currency } }: PlanView): TemplateResult {
  const money = (amount: number): string => formatMoney(amount, currency);
  return html`<p class="plan-total"><span>${say.total}</span> <strong>${money(answer.total)}</strong></p>
    <p>${answer.bound >= answer.total || answer.status === 'optimal' ? say.proven : say.notProven(money(answer.total - answer.bound))}</p>`;
}

function renderOrder(view: PlanView, order: OrderPlanAnswer['orders'][number]): TemplateResult {
  const { plan: { answer, currency }, titleOf } = view;
  const money = (amount: number): string => formatMoney(amount, currency);
  return html`<section><h2>${say.order(order.supplierId)}</h2>
    <p class="quiet">${order.freight === 0 ? say.freeFreight(money(order.goods)) : say.orderSum(money(order.goods), money(order.freight))}</p>
    <ul class="rows">${order.lines.map((line) => {
      const fills = answer.fills.filter(({ from, partId }) => from === order.supplierId && partId === line.partId);
      const beyond = line.qty - fills.reduce((sum, { qty }) => sum + qty, 0);
      return html`<li class="plan-line"><p class="row-main">${say.line(line.qty, titleOf(line.partId), money(line.unitPrice))} <span class="number">${line.partId}</span></p>
        <ul class="plan-fills">${fills.map((fill) => renderFill(view, fill))}</ul>
        ${beyond > 0 ? html`<p class="mark-do">${say.beyond(beyond)}</p>` : nothing}</li>`;
    })}</ul></section>`;
}

function renderFill(view: PlanView, fill: OrderPlanAnswer['fills'][number]): TemplateResult {
  const { plan: { answer, wants, today }, titleOf, binsOf } = view;
  const want = wants.find(({ id }) => id === fill.needId);
  const choice = answer.choices?.find(({ needId }) => needId === fill.needId);
  return html`<li class="plan-fill"><span>${renderWant(view, fill.needId)}</span>
    <span>${fill.from === 'shelf' ? say.fill(fill.qty, titleOf(fill.partId)) : `${fill.qty}`}${fill.from === 'shelf' ? (binsOf(fill.partId) === '' ? nothing : html`, ${say.bin(binsOf(fill.partId))}`) : html`, ${say.arrives(formatArrival(fill.arrives, today))}`}${fill.daysLate > 0 ? html`, <span class="mark-do">${say.late(fill.daysLate)}</span>` : nothing}</span>
    ${want?.evidence === undefined ? nothing : html`<small class=${want.evidence.proven === null ? 'quiet' : ''}>${want.evidence.words}</small>`}
    ${choice === undefined ? nothing : html`<details><summary>${say.why}</summary>${renderChoice(view, choice)}</details>`}</li>`;
}

function renderWant({ plan: { wants } }: PlanView, needId: string): TemplateResult {
  const want: PlanWant | undefined = wants.find(({ id }) => id === needId);
  return want?.jobId === undefined ? html`${say.forShelf}` : html`<a href="/jobs/${want.jobId}/get">${want.title}</a>`;
}

function renderTopUps({ plan: { topUps, currency }, topUps: chosen, titleOf, toggleTopUp, busy }: PlanView): TemplateResult | typeof nothing {
  if (topUps.length === 0) return nothing;
  const money = (amount: number): string => formatMoney(amount, currency);
  return html`<section><h2>${say.topUps}</h2>${topUps.map((top) => html`<p><label class="plan-check"><input type="checkbox" .checked=${chosen.has(top.supplierId)} ?disabled=${busy} @change=${() => toggleTopUp(top.supplierId)}>
    ${say.topUp(top.supplierId, words.list(top.add.map(({ qty, partId }) => say.fill(qty, titleOf(partId)))), money(top.freight), money(top.holding), money(top.saves))}</label></p>`)}</section>`;
}

function renderBeside(view: PlanView): TemplateResult | typeof nothing {
  const { plan: { answer }, busy, take } = view;
  if (answer.others === undefined) return nothing;
  const rows: readonly { which: PlanChoice; plan: OrderPlanAnswer | null; more: number | null; proven: boolean; why: string }[] = [
    { which: 'least', plan: answer, more: 0, proven: answer.bound >= answer.total, why: '' }, ...answer.others,
  ];
  return html`<section><h2 id="plan-beside">${say.beside}</h2><ul class="plan-beside">${rows.map(({ which, plan, more, proven, why }) => html`<li class="plan-other">
    <strong>${say.names[which]}</strong>
    ${plan === null || more === null ? html`<span class="quiet">${say.none(why)}</span>` : which !== 'least' && isSamePlan(plan, answer) ? html`<span class="quiet">${say.samePlan}</span>` : html`<dl>
      ${renderFigure(say.columns.total, formatMoney(plan.total, view.plan.currency))}
      ${renderFigure(say.columns.against, more === 0 ? say.same : say.more(formatMoney(more, view.plan.currency)))}
      ${renderFigure(say.columns.orders, String(plan.orders.length))}
      ${renderFigure(say.columns.last, formatArrival(plan.fills.map(({ arrives }) => arrives).toSorted().at(-1) ?? view.plan.today, view.plan.today))}
      ${renderFigure(say.columns.late, say.lateDays(plan.fills.reduce((most, { daysLate }) => Math.max(most, daysLate), 0)))}</dl>
      ${proven ? nothing : html`<small class="quiet">${say.notProvenShort}</small>`}
      ${which === 'least' ? nothing : html`<button type="button" ?disabled=${busy} aria-label=${`${say.take}: ${say.names[which]}`} @click=${() => take(which)}>${say.take}</button>`}`}</li>`)}</ul></section>`;
}

function isSamePlan(plan: OrderPlanAnswer, least: OrderPlanAnswer): boolean {
  return JSON.stringify([plan.orders, plan.fills]) === JSON.stringify([least.orders, least.fills]);
}

function renderFigure(name: string, value: string): TemplateResult {
  return html`<div><dt>${name}</dt><dd>${value}</dd></div>`;
}
