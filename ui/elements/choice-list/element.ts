import { html, nothing, type TemplateResult } from 'lit';
import type { JobConflict } from '../../../catalog-schema/index.ts';
import type { LengthUnit, RefusedAct, WorkSheet } from '../../client/index.ts';
import { words } from '../../words.ts';
import '../choice-entry/element.ts';
import { followChanges, PlainElement } from '../plain-element.ts';
import { groupByField, sayEntry, sayField } from '../say-entry.ts';
import '../third-answer/element.ts';

/** All of a job that waits for a person: fields with two answers, and what the server did not take. Nothing where all is well. */
export class ChoiceList extends PlainElement {
  static override properties = { sheet: { attribute: false }, unit: {}, failed: { state: true } };
  declare sheet: WorkSheet;
  declare unit: LengthUnit;
  declare failed: string;

  constructor() {
    super();
    this.failed = '';
    followChanges(this, () => [this.sheet]);
  }

  protected override render(): TemplateResult {
    const { conflicts, refused } = this.sheet;
    return html`${conflicts.length === 0 ? nothing : this.#renderConflicts(conflicts)}${refused.length === 0 ? nothing : this.#renderRefused(refused)}`;
  }

  #renderConflicts(conflicts: readonly JobConflict[]): TemplateResult {
    const groups = groupByField(conflicts);
    const acts = new Map<string, JobConflict[]>();
    for (const conflict of conflicts) if (conflict.act !== undefined) acts.set(conflict.act, [...acts.get(conflict.act) ?? [], conflict]);
    const together = [...acts.values()].filter((act) => act.length > 1);
    return html`<details class="choice-list"><summary>${words.conflicts.waiting(groups.length)}</summary>
      <p>${words.conflicts.lead}</p>
      ${together.map((act) => html`<div class="choice-together"><p>${words.conflicts.together(act.length)} ${act.map((each) => sayField(each.field, each.held.value)).join('; ')}.</p>
        <div class="button-row"><button type="button" @click=${() => this.#settle(act, 'standing')}>${words.conflicts.keepAll}</button>
          <button type="button" @click=${() => this.#settle(act, 'held')}>${words.conflicts.takeAll(act.length)}</button></div></div>`)}
      ${this.failed === '' ? nothing : html`<p class="not" role="alert">${words.conflicts.cannotTake} ${this.failed}</p>`}
      <ul class="choices-open">${groups.map((group) => html`<li><choice-entry .conflicts=${group} .sheet=${this.sheet} .device=${this.sheet.device} .unit=${this.unit}></choice-entry></li>`)}</ul></details>`;
  }

  #renderRefused(refused: readonly RefusedAct[]): TemplateResult {
    return html`<details class="choice-list" open><summary>${words.conflicts.refusedTitle(refused.length)}</summary>
      <p>${words.conflicts.refusedLead}</p>
      <ul class="choices-open">${refused.map((act) => html`<li><div class="answers" role="group" aria-label=${act.changes.map(({ field, value }) => sayField(field, value)).join('; ')}>
        <dl class="facts">${act.changes.map(({ field, value }) => html`<div><dt>${sayField(field, value)}</dt>
          <dd>${value === null ? html`<i>${words.conflicts.nothing}</i>` : sayEntry(field, value, this.unit)}</dd></div>`)}</dl>
        <p>${words.conflicts.serverSaid} <span class="not">${act.words === '' ? words.faults.refused : act.words}</span></p>
        <div class="button-row"><button type="button" @click=${() => this.#sendAgain(act)}>${words.conflicts.sendAgain}</button>
          <button type="button" @click=${() => this.sheet.dropRefused(act.actId)}>${words.conflicts.letGo}</button></div>
        ${this.#renderMending(act)}</div></li>`)}</ul></details>`;
  }

  /** One value that was refused can be put right on the spot. */
  #renderMending({ actId, changes }: RefusedAct): TemplateResult | typeof nothing {
    const [first] = changes;
    if (first === undefined || changes.length > 1) return nothing;
    return html`<third-answer .field=${first.field} .values=${[first.value]} .unit=${this.unit}
      .commit=${(value: string | number) => this.sheet.mendRefused(actId, [{ ...first, value }])}></third-answer>`;
  }

  #settle(act: readonly JobConflict[], side: 'standing' | 'held'): void {
    const result = this.sheet.settle(act.map((conflict) => ({ editId: conflict.editId, value: conflict[side].value })));
    this.failed = result.ok ? '' : result.why;
  }

  #sendAgain({ actId }: RefusedAct): void {
    const result = this.sheet.mendRefused(actId);
    this.failed = result.ok ? '' : result.why;
  }
}
customElements.define('choice-list', ChoiceList);
