import { html, nothing, type TemplateResult } from 'lit';
import { CAME_BACK_REASONS, RETURN_REASONS, type CameBackReason, type PurchaseLine, type ReturnReason } from '../../../catalog-schema/index.ts';
import type { Desk } from '../../client/index.ts';
import { formatMoment, formatMoney } from '../../format.ts';
import { outcomeWords } from '../../words/outcomes.ts';
import { orderWords } from '../../words/orders.ts';
import type { OrderWatch } from './order-watch.ts';

/** What went back to the supplier, with the credit for each, and the way to send more back. */
export function renderReturns(watch: OrderWatch, desk: Desk): TemplateResult | typeof nothing {
  const say = orderWords;
  const order = watch.order!;
  const nameOf = (partId: string): string => desk.shop.parts.get(partId)?.title ?? partId;
  const able = order.lines.filter((line) => reasonsFor(line).length > 0);
  if (able.length === 0 && order.returns.length === 0) return nothing;
  return html`${order.returns.length === 0 ? nothing : html`<section><h2>${say.returns}</h2><ul class="rows">${order.returns.map((each) => html`<li class="order-line">
      <p><b>${say.returned(each.qty, nameOf(each.partId), say.reasons[each.reason])}</b><br><small>${say.by('', formatMoment(each.at), each.by ?? '').replace(/^, /, '')}</small>${each.words === null ? nothing : html`<br>${each.words}`}</p>
      ${each.credited === null ? html`<p class="mark-do">${say.awaited(formatMoney(each.credit, order.currency))}</p>
        <details><summary>${say.creditCame}</summary><form class="field-row" @submit=${(event: SubmitEvent) => {
          event.preventDefault();
          void watch.act('', { kind: 'credited', returnId: each.id, amount: Number(new FormData(event.target as HTMLFormElement).get('amount')) });
        }}><label class="visually-hidden" for="credit-${each.id}">${say.creditAmount(order.currency)}</label>
          <input id="credit-${each.id}" name="amount" type="number" inputmode="decimal" min="0" step="any" required .value=${String(each.credit)}><button ?disabled=${watch.busy}>${say.creditCame}</button></form></details>`
        : html`<p>${say.credited(formatMoney(each.credited, order.currency))}</p>`}</li>`)}</ul></section>`}
    ${able.length === 0 ? nothing : html`<section><h2>${say.returnTitle}</h2>${able.map((line) => html`<details><summary>${say.returnOf(nameOf(line.partId))}</summary>${renderForm(watch, line)}</details>`)}</section>`}`;
}

/** Why units of a line may go back, as things stand. */
function reasonsFor({ back }: PurchaseLine): ReturnReason[] {
  return RETURN_REASONS.filter((reason) => {
    switch (reason) {
      case 'wrong-fit': case 'not-needed': return back.good > 0;
      case 'damaged': return back.damaged + back.good > 0;
      case 'wrong-part': return back.wrong + back.good > 0;
      case 'core': return back.cores > 0;
    }
  });
}

function renderForm(watch: OrderWatch, line: PurchaseLine): TemplateResult {
  const say = orderWords;
  const jobs = line.serves.filter(({ jobId }) => jobId !== null);
  const at = (name: string): string => `${name}-${line.lineId}`;
  return html`<form class="stack narrow" data-draft @submit=${(event: SubmitEvent) => { event.preventDefault(); void sendBack(watch, line, event.target as HTMLFormElement); }}>
    <div class="field"><label for=${at('reason')}>${say.reason}</label><select id=${at('reason')} name="reason" @change=${(event: Event) => {
      const select = event.target as HTMLSelectElement;
      select.form!.toggleAttribute('data-fit', select.value === 'wrong-fit');
    }}>${reasonsFor(line).toReversed().map((reason) => html`<option value=${reason}>${say.reasons[reason]}</option>`)}</select></div>
    <div class="field"><label for=${at('qty')}>${say.howMany}</label><input id=${at('qty')} name="qty" type="number" inputmode="numeric" min="1" max="1000000" step="1" required value="1"></div>
    <div class="only-fit stack">${jobs.length === 0 ? html`<p class="mark-do">${say.noJob}</p>` : html`
      <div class="field"><label for=${at('job')}>${say.whichJob}</label><select id=${at('job')} name="job">${jobs.map(({ jobId, title }) => html`<option value=${jobId!}>${title ?? jobId}</option>`)}</select></div>
      <div class="field"><label for=${at('why')}>${say.why}</label><select id=${at('why')} name="why">${CAME_BACK_REASONS.filter((why) => why !== 'fault-elsewhere').map((why) => html`<option value=${why}>${outcomeWords.reasons[why]}</option>`)}</select></div>`}</div>
    <div class="field"><label for=${at('words')}>${say.words}</label><input id=${at('words')} name="words" maxlength="2000" aria-describedby=${at('hint')}><small id=${at('hint')}>${say.wordsHint}</small></div>
    <p><button class="main" ?disabled=${watch.busy}>${say.sendBack}</button></p></form>`;
}

async function sendBack(watch: OrderWatch, { lineId }: PurchaseLine, form: HTMLFormElement): Promise<void> {
  const given = new FormData(form);
  const reason = String(given.get('reason')) as ReturnReason;
  const text = String(given.get('words') ?? '').trim();
  const jobId = String(given.get('job') ?? '');
  const fit = reason === 'wrong-fit' && jobId !== '' ? { jobId, why: String(given.get('why')) as CameBackReason } : {};
  const taken = await watch.act('', { kind: 'returned', lineId, qty: Number(given.get('qty')), reason, ...fit, ...(text === '' ? {} : { words: text }) });
  if (!taken) return;
  form.reset();
  form.closest('details')!.open = false;
}
