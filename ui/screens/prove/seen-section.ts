import { html, nothing, type TemplateResult } from 'lit';
import { FAULT_NAMES, FAULTS, keyOfObservation, sayObservation, sayShare, type Observation, type ProveAnswer } from '../../../catalog-schema/index.ts';
import { words } from '../../words.ts';
import { proveWords } from '../../words/prove.ts';

export interface SeenView {
  readonly seen: Readonly<Record<string, Observation>>;
  /** keys of what carries the proof, or the best explanation; and of what quarrels with it */
  readonly carrying: ReadonlySet<string>;
  readonly quarrelling: ReadonlySet<string>;
  readonly show: (seen: Observation) => void;
  readonly takeAway: (key: string) => void;
}

/** All that was seen and measured, in the order in which it was. */
export function renderSeen({ seen, carrying, quarrelling, show, takeAway }: SeenView): TemplateResult {
  const say = proveWords;
  const entries = Object.entries(seen);
  return html`<section><h2>${say.seen}</h2>
    ${entries.length === 0 ? html`<p class="quiet">${say.nothingSeen}</p>` : html`<ul class="rows crank-seen">${entries.map(([key, entry]) => {
      const { what, showed } = sayObservation(entry);
      return html`<li><span class="crank-what">${what}</span><b>${showed}</b>
        <span>${quarrelling.has(key) ? html`<span class="mark-do">${say.quarrels}</span>` : carrying.has(key) ? html`<span class="quiet">${say.carries}</span>` : nothing}</span>
        <span class="button-row">${entry.kind === 'volts' ? html`<button type="button" class="plain" aria-label=${say.showThis(`${what}, ${showed}`)} @click=${() => show(entry)}>${say.show}</button>` : nothing}
        <button type="button" class="plain" aria-label=${say.remove(`${what}, ${showed}`)} @click=${() => takeAway(key)}>${say.takeAway}</button></span></li>`;
    })}</ul>`}</section>`;
}

/** Every fault with its likelihood in words and by a bar of line; those that were cleared in one line. */
export function renderChances({ faults, cleared, proven }: ProveAnswer, anySeen: boolean): TemplateResult {
  const say = proveWords;
  const order = faults.toSorted((a, b) => b.probability - a.probability || FAULTS.indexOf(a.fault) - FAULTS.indexOf(b.fault));
  const open = order.filter(({ fault }) => !cleared.includes(fault));
  const good = cleared.filter((fault) => fault !== 'none');
  return html`<section><h2>${say.chances}</h2>
    ${anySeen ? nothing : html`<p class="quiet">${say.chancesHint}</p>`}
    <table class="crank-chances"><thead class="visually-hidden"><tr><th>${say.fault}</th><th>${say.share}</th></tr></thead>
      <tbody>${open.map(({ fault, probability }) => html`<tr><th scope="row">${FAULT_NAMES[fault]}</th>
        <td><span class="chance-bar" style=${`inline-size: ${Math.round(probability * 100)}%`}></span>
          <span class="chance-word">${fault === proven ? html`<b>${say.proven}, ${sayShare(probability)}</b>` : sayShare(probability)}</span></td></tr>`)}</tbody></table>
    ${good.length === 0 ? nothing : html`<p class="crank-cleared-list">${say.clearedList(words.list(good.map((fault) => FAULT_NAMES[fault])))}</p>`}</section>`;
}

/** The key of an answer's path `seen[2]`. */
export function keyOfPath(path: string, keys: readonly string[]): string | undefined {
  const found = /^seen\[(\d+)\]/.exec(path);
  return found === null ? undefined : keys[Number(found[1])];
}

/** What was told under the key of an ask. */
export function findSeen(seen: Readonly<Record<string, Observation>>, done: Parameters<typeof keyOfObservation>[0]): Observation | undefined {
  return seen[keyOfObservation(done)];
}
