import { html, nothing, type PropertyValues, type TemplateResult } from 'lit';
import type { InputFault, JobPhotograph, PhotographMark } from '../../../catalog-schema/index.ts';
import type { ChangeResult, FieldChange } from '../../client/index.ts';
import '../../elements/marking-board/element.ts';
import { followChanges, PlainElement } from '../../elements/plain-element.ts';
import { sayFault } from '../../say-fault.ts';
import { words } from '../../words.ts';
import { photographWords } from '../../words/photograph.ts';
import type { WorkView } from '../work-view.ts';
import { linesOf, marksOf } from './board-marks.ts';
import { moveMark, putMark, removeEntry, terminalKey, LEAST_MARKS, type Tool } from './mark-changes.ts';
import { MeasureWatch } from './measure-watch.ts';
import { renderCard, renderMeasured } from './measured-section.ts';
import './photograph.css';
import { renderIntoRecord, renderTaken } from './record-section.ts';
import { renderLead, renderPictures, renderRefusal, renderSent, renderTakeButtons } from './take-section.ts';
import { canEnd, isHalfway, makeTool, renderToolSection, sayGuide } from './tool-section.ts';

/** Millimetres from a picture of the part beside a card: take it, mark the card, mark what is to be measured, put it into the record. */
export class PhotographScreen extends PlainElement {
  static override properties = {
    view: { attribute: false }, chosen: { state: true }, tool: { state: true }, openKey: { state: true }, busy: { state: true }, faults: { state: true }, failed: { state: true },
  };
  declare view: WorkView;
  /** the picture asked for; the one taken last, where none was */
  declare chosen: string | undefined;
  declare tool: Tool;
  /** the thing that is being marked */
  declare openKey: string | undefined;
  declare busy: boolean;
  declare faults: readonly InputFault[];
  declare failed: string;
  #watch: MeasureWatch | undefined;
  /** whether the card was measured when last looked at */
  #hadCard = false;

  constructor() {
    super();
    this.tool = { kind: 'edges' };
    this.busy = false;
    this.faults = [];
    this.failed = '';
    followChanges(this, () => [this.#watch, this.view?.desk.photographs]);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#watch?.close();
  }

  protected override willUpdate(_changed: PropertyValues): void {
    this.#watch ??= new MeasureWatch(this.view.desk);
    const open = this.#open();
    if (open !== undefined) this.#watch.look(this.view.sheet.jobId!, open.hash, open.photograph);
    else if (this.#watch.picture !== undefined) this.#watch.close();
    // The card once found, the next mark is a hole; once lost, an edge.
    const hasCard = this.#watch.measured?.card?.ok === true;
    if (hasCard && !this.#hadCard && this.tool.kind === 'edges') this.tool = makeTool('hole', this.view.sheet.record, open!.photograph);
    this.#hadCard = hasCard;
  }

  protected override render(): TemplateResult {
    const { base } = this.view;
    const open = this.#open();
    return html`<div class="title-row"><h1>${words.photograph.title}</h1><a class="touch-link" href="${base}/bench">${photographWords.toBench}</a></div>
      ${renderRefusal(this.faults)}
      ${this.busy ? html`<p role="status">${photographWords.preparing}</p>` : nothing}
      ${open === undefined ? html`${renderLead()}${renderTakeButtons((file) => { void this.#take(file); }, this.busy)}` : this.#renderWork(open.hash, open.photograph)}`;
  }

  #renderWork(hash: string, photograph: JobPhotograph): TemplateResult {
    const { sheet, desk, base } = this.view;
    const { unit } = desk.settings.values;
    const { picture, measured, failed } = this.#watch!;
    const guide = sayGuide(this.tool, photograph, measured, this.openKey);
    return html`<div class="photo">
      <div class="photo-picture">
        ${renderSent(desk.photographs.stateOf(hash))}
        ${failed === '' ? nothing : html`<div class="caution" role="alert"><p>${picture === undefined ? `${photographWords.notHere} ` : ''}${failed}</p>
          <button type="button" @click=${() => { this.#watch!.close(); this.requestUpdate(); }}>${words.tryAgain}</button></div>`}
        ${picture === undefined ? html`<p role="status">${failed === '' ? photographWords.opening : ''}</p>` : html`<marking-board .picture=${picture} .label=${photographWords.boardLabel(photograph.name)}
          .halfway=${isHalfway(this.tool, photograph, this.openKey)} .marks=${marksOf(photograph)} .lines=${linesOf(photograph, measured, unit)}
          @mark-put=${(event: CustomEvent<PhotographMark>) => this.#put(hash, photograph, event.detail)}
          @mark-move=${(event: CustomEvent<PhotographMark & { id: string }>) => this.#move(hash, photograph, event.detail)}></marking-board>
        <p class="quiet photo-hint">${photographWords.holdHint}</p>`}
      </div>
      <div class="photo-side">
        ${renderToolSection({ tool: this.tool, record: sheet.record, photograph, choose: (tool) => { this.tool = tool; this.openKey = undefined; } })}
        <section>${renderCard({
          photograph, measured, removeEdge: (key) => { this.tool = { kind: 'edges' }; this.#change(removeEntry(hash, 'edges', key)); },
          setLong: (key) => this.#change([{ field: ['photographs', hash, 'longEdge'], value: key }]),
        })}</section>
        <section>${renderMeasured({ photograph, measured, unit, remove: (key) => this.#change(removeEntry(hash, 'things', key)) })}</section>
        <section>${renderTaken({ photograph, unit, set: (path, value) => sheet.change([{ field: ['photographs', hash, ...path], value }]) })}</section>
        <section>${renderIntoRecord({ record: sheet.record, photograph, measured, unit, base, failed: this.failed, put: (changes) => this.#change(changes) })}</section>
        ${(measured?.assumptions ?? []).length === 0 ? nothing : html`<details class="assumptions"><summary>${words.photograph.assumptions}</summary>
          <ul>${measured!.assumptions.map((line) => html`<li>${line}</li>`)}</ul></details>`}
        <section>${renderPictures({
          photographs: sheet.document.photographs ?? {}, open: hash, busy: this.busy, take: (file) => { void this.#take(file); },
          show: (other) => this.#show(other), remove: () => this.#change([{ field: ['photographs', hash], value: null }]),
        })}</section>
      </div>
      <div class="photo-guide"><p role="status" aria-live="polite"><b>${guide}</b></p>
        <div class="button-row">
          ${canEnd(this.tool, photograph, this.openKey) ? html`<button type="button" class="main" @click=${() => this.#endThing(photograph)}>${photographWords.next[this.tool.kind as 'hole']}</button>` : nothing}
          <button type="button" ?disabled=${!sheet.canUndo} @click=${() => sheet.undo()}>${photographWords.takeBack}</button></div></div>
    </div>`;
  }

  /** The picture that is open: the one asked for while it is there, else the one taken last. */
  #open(): { hash: string; photograph: JobPhotograph } | undefined {
    const all = this.view.sheet.document.photographs ?? {};
    const hash = this.chosen !== undefined && all[this.chosen] !== undefined ? this.chosen
      : Object.entries(all).toSorted(([, a], [, b]) => (a.at < b.at ? 1 : -1))[0]?.[0];
    return hash === undefined ? undefined : { hash, photograph: all[hash]! };
  }

  #show(hash: string): void {
    this.chosen = hash;
    this.tool = { kind: 'edges' };
    this.openKey = undefined;
    this.#hadCard = false;
    this.failed = '';
  }

  async #take(file: File): Promise<void> {
    const { desk, sheet } = this.view;
    this.busy = true;
    this.faults = [];
    try {
      const prepared = await desk.pictures.prepare(file);
      if (!prepared.ok) {
        this.faults = prepared.faults;
        return;
      }
      const { hash, picture, widthPx, heightPx } = prepared;
      // Where it cannot be kept it still serves in this page, and what is wrong is said.
      const unkept = await desk.photographs.keep(sheet.jobId!, hash, picture).then(() => '', sayFault);
      if (sheet.document.photographs?.[hash] === undefined) {
        this.#change([{ field: ['photographs', hash], value: { name: file.name.slice(0, 200), at: desk.now().toISOString(), widthPx, heightPx } }]);
      }
      this.#show(hash);
      this.failed = unkept;
    } catch (error) {
      this.failed = error instanceof Error ? error.message : String(error);
    } finally {
      this.busy = false;
    }
  }

  #put(hash: string, photograph: JobPhotograph, mark: PhotographMark): void {
    const missed = Object.entries(this.#watch?.measured?.edges ?? {}).filter(([, edge]) => !edge.ok).map(([key]) => key);
    if (this.tool.kind === 'terminal' && this.tool.id === '') return;
    const { changes, key } = putMark({
      hash, photograph, tool: this.tool, mark, openKey: this.openKey, missed, newKey: () => this.#newKey(),
    });
    this.openKey = key;
    if (changes.length === 0 || !this.#change(changes).ok) return;
    this.#goOn(key);
  }

  /** A name of this device's making; with a letter in front, since keys that are whole numbers would come before all others. */
  #newKey(): string { return `m${this.view.desk.newId().slice(0, 8)}`; }

  /** After a terminal is marked, the next one that is not. */
  #goOn(key: string | undefined): void {
    const { tool } = this;
    const photograph = this.#open()?.photograph;
    if (tool.kind !== 'terminal' || tool.by === 'rim' || photograph === undefined || key !== terminalKey(tool.id)) return;
    if ((photograph.things?.[key]?.marks.length ?? 0) >= LEAST_MARKS[tool.by]) this.#endThing(photograph);
  }

  #endThing(photograph: JobPhotograph): void {
    this.openKey = undefined;
    if (this.tool.kind === 'terminal') this.tool = makeTool('terminal', this.view.sheet.record, photograph, this.tool.by);
  }

  #move(hash: string, photograph: JobPhotograph, { id, ...mark }: PhotographMark & { id: string }): void {
    this.#change(moveMark(hash, photograph, id, mark));
  }

  #change(changes: readonly FieldChange[]): ChangeResult {
    if (changes.length === 0) return { ok: true };
    const result = this.view.sheet.change(changes);
    this.failed = result.ok ? '' : result.why;
    return result;
  }
}
customElements.define('photograph-screen', PhotographScreen);
