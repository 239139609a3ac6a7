import { html, nothing, type TemplateResult } from 'lit';
import type { PurchaseLine, ServedJob } from '../../../catalog-schema/index.ts';
import type { Desk } from '../../client/index.ts';
import { formatMoney } from '../../format.ts';
import { orderWords } from '../../words/orders.ts';
import type { OrderWatch } from './order-watch.ts';
import { sayArrival } from './say-arrival.ts';

/** The lines of an order: what each costs, what came of it, the jobs it serves and whether their fault is proven. */
export function renderLines(watch: OrderWatch, desk: Desk): TemplateResult {
  const order = watch.order!;
  const canChange = order.state === 'draft' || order.state === 'approved';
  return html`<section><h2>${orderWords.lines}</h2><ul class="rows">${order.lines.map((line) => html`<li class="order-line">${renderLine(watch, desk, line, canChange)}</li>`)}</ul></section>`;
}

function renderLine(watch: OrderWatch, desk: Desk, line: PurchaseLine, canChange: boolean): TemplateResult {
  const say = orderWords;
  const { currency } = watch.order!;
  const title = desk.shop.parts.get(line.partId)?.title ?? line.partId;
  const today = desk.now().toISOString().slice(0, 10);
  const came = line.good + line.wrong + line.damaged > 0;
  const when = line.arrives === null ? '' : sayArrival(line.arrives, today, line.promised);
  const spare = line.qty - line.serves.reduce((sum, { qty }) => sum + qty, 0);
  return html`<p><b>${title}</b> <span class="number">${line.partId}</span><br>${say.line(line.qty, formatMoney(line.unitPrice, currency), formatMoney(line.goods, currency))}${
    line.coreCharge === null ? nothing : html`<br>${say.core(formatMoney(line.coreCharge, currency))}`}${
    came ? html`<br>${say.came(line.good, line.over, line.wrong, line.damaged)}` : nothing}${
    line.open === 0 ? nothing : html`<br><span class=${came ? 'mark-do' : ''}>${came ? say.backOrder(line.open, when) : when}</span>`}</p>
    ${line.serves.length === 0 ? nothing : html`<ul class="serves">${line.serves.map((serve) => html`<li>${renderServe(serve, came)}</li>`)}${spare > 0 ? html`<li>${say.forShelf(spare)}</li>` : nothing}</ul>`}
    ${canChange ? renderQuantity(watch, line, title) : nothing}`;
}

function renderServe({ jobId, title, qty, got, by, evidence }: ServedJob, showsState: boolean): TemplateResult {
  const say = orderWords;
  if (jobId === null) return html`${say.forShelf(qty)}`;
  return html`${say.forJob(qty)} <a href="/jobs/${jobId}/prove">${title ?? jobId}</a>${showsState || got > 0 ? html`, ${say.got(got, qty)}` : nothing}${by === null ? nothing : html`, ${say.wantedBy(by)}`}
    ${evidence === null ? nothing : html`<br><span class=${evidence.orderable ? '' : 'mark-do'}>${evidence.words}</span>${evidence.settles === null ? nothing : html`<br><span>${say.settles(evidence.settles)}</span>`}`}`;
}

function renderQuantity(watch: OrderWatch, line: PurchaseLine, title: string): TemplateResult {
  const say = orderWords;
  const id = `qty-${line.lineId}`;
  return html`<form class="field-row" @submit=${(event: SubmitEvent) => {
    event.preventDefault();
    const qty = Number(new FormData(event.target as HTMLFormElement).get('qty'));
    if (qty !== line.qty) void watch.act('', { kind: 'changed', lines: [{ lineId: line.lineId, qty }] });
  }}><label class="visually-hidden" for=${id}>${say.qtyOf(title)}</label>
    <input id=${id} class="short" name="qty" type="number" inputmode="numeric" min="1" max="1000000" step="1" required .value=${String(line.qty)}>
    <button ?disabled=${watch.busy}>${say.setQty}</button>
    <button type="button" class="plain" ?disabled=${watch.busy} @click=${() => { void watch.act('', { kind: 'changed', lines: [{ lineId: line.lineId, qty: 0 }] }); }}>${say.removeLine}</button></form>`;
}
