import { html, nothing, type TemplateResult } from 'lit';
import type { PurchaseLine, ReceivedLine } from '../../../catalog-schema/index.ts';
import type { Desk } from '../../client/index.ts';
import { orderWords } from '../../words/orders.ts';
import type { OrderWatch } from './order-watch.ts';

/** What came of an order: one touch where all of it is good; else a line at a time. */
export function renderReceive(watch: OrderWatch, desk: Desk): TemplateResult {
  const say = orderWords;
  const order = watch.order!;
  const open = order.lines.filter((line) => line.open > 0);
  const count = open.reduce((sum, line) => sum + line.open, 0);
  const nameOf = ({ partId }: PurchaseLine): string => desk.shop.parts.get(partId)?.title ?? partId;
  return html`<section><h2>${say.receiveTitle}</h2>
    ${count === 0 ? nothing : html`<p><button type="button" class="main" ?disabled=${watch.busy} @click=${() => { void watch.act(say.booked, { kind: 'received', lines: open.map(({ lineId, open: good }) => ({ lineId, good })) }); }}>${say.allCame(count)}</button></p>`}
    <details><summary>${say.inPart}</summary><form class="stack" @submit=${(event: SubmitEvent) => { event.preventDefault(); void book(watch, event.target as HTMLFormElement); }}>
      ${order.lines.map((line) => html`<fieldset class="terminal-figure"><legend>${nameOf(line)} <span class="number">${line.partId}</span></legend>
        <div class="came">
          ${renderCount(line, 'good', say.good, say.goodOf(nameOf(line)))}
          ${renderCount(line, 'damaged', say.damaged, say.damagedOf(nameOf(line)))}
          ${renderCount(line, 'wrong', say.wrong, say.wrongOf(nameOf(line)))}
          <label>${say.bin}<input name="bin-${line.lineId}" maxlength="200" autocomplete="off" autocapitalize="characters" aria-label=${say.binOf(nameOf(line))} placeholder=${say.binHint}></label>
        </div></fieldset>`)}
      <p><button class="main" ?disabled=${watch.busy}>${say.book}</button></p></form></details>
    ${count === 0 ? nothing : html`<details><summary>${say.namedDay}</summary><form class="field-row" @submit=${(event: SubmitEvent) => {
      event.preventDefault();
      const on = String(new FormData(event.target as HTMLFormElement).get('on') ?? '');
      if (on !== '') void watch.act('', { kind: 'promised', on });
    }}><label class="visually-hidden" for="promised-on">${say.namedDay}</label><input id="promised-on" name="on" type="date" required><button ?disabled=${watch.busy}>${say.nameDay}</button></form></details>`}</section>`;
}

function renderCount({ lineId }: PurchaseLine, what: 'good' | 'wrong' | 'damaged', label: string, whole: string): TemplateResult {
  return html`<label>${label}<input name="${what}-${lineId}" type="number" inputmode="numeric" min="0" max="1000000" step="1" aria-label=${whole} placeholder="0"></label>`;
}

async function book(watch: OrderWatch, form: HTMLFormElement): Promise<void> {
  const given = new FormData(form);
  const count = (what: string, lineId: string): number => Number(given.get(`${what}-${lineId}`) ?? 0);
  const lines = watch.order!.lines.flatMap(({ lineId }): ReceivedLine[] => {
    const [good, wrong, damaged] = [count('good', lineId), count('wrong', lineId), count('damaged', lineId)];
    const bin = String(given.get(`bin-${lineId}`) ?? '').trim();
    return good + wrong + damaged === 0 ? [] : [{ lineId, good, ...(wrong > 0 ? { wrong } : {}), ...(damaged > 0 ? { damaged } : {}), ...(bin === '' ? {} : { bin }) }];
  });
  if (lines.length === 0) {
    watch.say(orderWords.nothingCame);
    return;
  }
  if (await watch.act(orderWords.booked, { kind: 'received', lines })) {
    form.reset();
    form.closest('details')!.open = false;
  }
}
