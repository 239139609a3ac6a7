import { html, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { isOverlap, readWireCode, type RecordTerminal, type Wire, type WireCode } from '../../../catalog-schema/index.ts';
import { FaceUnderlay } from '../../elements/face-photographs/face-underlay.ts';
import '../../elements/field-choice/element.ts';
import '../../elements/lack-list/element.ts';
import { followChanges, PlainElement } from '../../elements/plain-element.ts';
import '../../elements/terminal-editor/element.ts';
import '../../elements/terminal-picture/index.ts';
import '../../elements/terminal-set-up/element.ts';
import '../../elements/wire-editor/element.ts';
import { renderWireName } from '../../elements/wire-name.ts';
import { formatEnd, formatNumber } from '../../format.ts';
import { words } from '../../words.ts';
import type { WorkView } from '../work-view.ts';
import './as-found.css';
import { drawTerminals } from './draw-terminals.ts';
import { proposeTag } from './next-tag.ts';
import { renderOpenTool, renderTools, type ToolName } from './tool-section.ts';

/** The wires as they were found: the picture of the terminal face, and the wire that is being recorded. */
export class AsFoundScreen extends PlainElement {
  static override properties = {
    view: { attribute: false }, terminalId: { state: true }, tag: { state: true }, tool: { state: true }, pictureHidden: { state: true }, answer: { state: true },
  };
  declare view: WorkView;
  /** the terminal tapped last */
  declare terminalId: string | undefined;
  /** the wire that is open; one not in the record yet is a proposal */
  declare tag: string | undefined;
  /** what is open beside the drawing */
  declare tool: ToolName | undefined;
  declare pictureHidden: boolean;
  /** what was made of the code read last */
  declare answer: string;
  #ledTo: string | undefined;
  /** a tag that was read and that no wire carries yet: the next wire takes it */
  #tied: string | undefined;
  #underlay: FaceUnderlay | undefined;
  #hearScan = (event: Event): void => {
    const code = (event as CustomEvent<WireCode>).detail;
    if (code.jobId !== this.view.sheet.jobId) return;
    event.preventDefault();
    this.#openCode(code);
  };

  constructor() {
    super();
    this.pictureHidden = false;
    this.answer = '';
    followChanges(this, () => [this.#underlay]);
  }

  override connectedCallback(): void {
    super.connectedCallback();
    addEventListener('wire-scan', this.#hearScan);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    removeEventListener('wire-scan', this.#hearScan);
    this.#underlay?.close();
  }

  protected override willUpdate(_changed: PropertyValues): void {
    this.#underlay ??= new FaceUnderlay(this.view.desk.photographs);
  }

  protected override render(): TemplateResult {
    const { sheet, reports, findings } = this.view;
    const terminals = sheet.record.terminals ?? [];
    return html`<div class="title-row"><h1>${words.steps.names['as-found']}</h1>${sheet.jobId === undefined ? nothing
        : html`<a class="touch-link" href="${this.view.base}/bench/photograph">${words.photograph.open}</a>`}</div>
      ${sheet.jobId === undefined ? nothing : html`${renderTools(this.tool, (tool) => { this.tool = tool; this.answer = ''; })}
        ${this.tool === undefined ? nothing : renderOpenTool({
          tool: this.tool, view: this.view, answer: this.answer, read: (text) => this.#read(text), hang: (id) => this.#hang(id), close: () => { this.tool = undefined; },
        })}`}
      ${terminals.length === 0
        ? html`<p>${words.asFound.lead}</p><terminal-set-up .partClass=${sheet.record.partClass} .draw=${(laid: readonly RecordTerminal[]) => drawTerminals(sheet, laid)}></terminal-set-up>`
        : this.#renderWork(terminals)}
      ${terminals.length === 0 ? nothing : html`<lack-list .lacks=${reports['as-found'].lacks} .fit=${findings.fit}></lack-list>`}`;
  }

  #renderWork(terminals: readonly RecordTerminal[]): TemplateResult {
    const { sheet, desk } = this.view;
    const { unit } = desk.settings.values;
    const wires = sheet.record.wires ?? [];
    const open = this.#openWire(terminals, wires);
    const photo = sheet.jobId === undefined ? undefined : this.#underlay!.look(sheet.jobId, sheet.document.photographs ?? {}, terminals);
    return html`<div class="as-found">
      <div class="as-found-picture">
        <terminal-picture mode="one" .terminals=${terminals} .wires=${wires} .units=${unit} .photo=${this.pictureHidden ? undefined : photo}
          .selected=${open === undefined ? [] : [open.on]} .selectedWire=${open?.tag ?? ''}
          @terminal-tap=${(event: CustomEvent<{ id: string }>) => this.#hang(event.detail.id)}
          @wire-tap=${(event: CustomEvent<{ tag: string }>) => this.#openTag(event.detail.tag)}></terminal-picture>
        ${open === undefined ? html`<p class="mark-do">${words.asFound.hang}</p>` : nothing}
        ${photo === undefined ? nothing : html`<p class="beneath">${words.wires.beneath}
          <button type="button" class="plain" aria-pressed=${this.pictureHidden ? 'false' : 'true'} @click=${() => { this.pictureHidden = !this.pictureHidden; }}>${this.pictureHidden ? words.wires.hidden : words.wires.shown}</button></p>`}
      </div>
      <div class="as-found-list">
        ${this.#renderWires(wires)}
        <field-choice .sheet=${sheet} .at=${this.#heldOffTheRecord(wires)} .unit=${unit}></field-choice>
        <details><summary>${words.asFound.editTerminals}</summary>
          <terminal-editor .sheet=${sheet} .record=${sheet.record} .terminalId=${open?.on ?? this.terminalId ?? terminals[0]?.id}></terminal-editor></details>
      </div>
      ${open === undefined ? nothing : html`<div class="as-found-wire">
        <wire-editor .sheet=${sheet} .record=${sheet.record} .tag=${open.tag} .terminalId=${open.on} .unit=${unit} .engine=${desk.engine}></wire-editor>
        ${this.#renderNext(terminals, wires)}</div>`}
    </div>`;
  }

  /** The wire being worked on, by what the record says of it; a proposal keeps the terminal that was tapped. */
  #openWire(terminals: readonly RecordTerminal[], wires: readonly Wire[]): { tag: string; on: string } | undefined {
    if (this.tag === undefined) return undefined;
    const on = wires.find((wire) => wire.tag === this.tag)?.wasOn ?? this.terminalId;
    return on === undefined || !terminals.some((terminal) => terminal.id === on) ? undefined : { tag: this.tag, on };
  }

  #renderWires(wires: readonly Wire[]): TemplateResult {
    const { unit } = this.view.desk.settings.values;
    if (wires.length === 0) return html`<h2>${words.asFound.wires}</h2><p class="quiet">${words.asFound.noWires}</p>`;
    return html`<h2>${words.asFound.wires}</h2><ul class="rows">${wires.map((wire) => html`<li>
      <button type="button" class="wire-row" aria-pressed=${wire.tag === this.tag ? 'true' : 'false'} @click=${() => this.#openTag(wire.tag)}>
        ${renderWireName(wire)}<span>${wire.wasOn} – ${words.wire.leadsTo[wire.leadsTo ?? 'unknown'].name}${wire.traced?.by === undefined ? nothing : html` <span class="quiet">(${words.wires.bys[wire.traced.by]})</span>`}</span>
        ${this.view.sheet.conflicts.some(({ field }) => isOverlap(field, ['record', 'wires', wire.tag])) ? html`<span class="mark-do">${words.conflicts.marked}</span>` : nothing}
        <span class="quiet">${wire.areaMm2 === undefined ? words.wire.sizeNotSaid : `${formatNumber(wire.areaMm2)} mm²`}, ${formatEnd(wire.end, unit)}</span>
      </button></li>`)}</ul>`;
  }

  /** What waits for a choice of wires and terminals that the record does not have: no editor opens for them. */
  #heldOffTheRecord(wires: readonly Wire[]): readonly (readonly string[])[] {
    const { record, conflicts } = this.view.sheet;
    const there = new Set([...wires.map(({ tag }) => `wires ${tag}`), ...(record.terminals ?? []).map(({ id }) => `terminals ${id}`)]);
    return conflicts.map(({ field }) => field).filter(([head, list, name]) => head === 'record' && (list === 'wires' || list === 'terminals') && !there.has(`${list} ${name}`));
  }

  /** The way on without going back up to the drawing: a tap on the next terminal. */
  #renderNext(terminals: readonly RecordTerminal[], wires: readonly Wire[]): TemplateResult | typeof nothing {
    if (!wires.some((wire) => wire.tag === this.tag)) return nothing;
    return html`<div class="next-wire"><p class="field-label">${words.asFound.next}</p>
      <div class="button-row">${terminals.map((terminal) => html`<button type="button" @click=${() => this.#hang(terminal.id)}>${
        words.wiring.terminal(terminal.id, terminal.marking)}</button>`)}</div></div>`;
  }

  /** The wire that the address names, once each time it names another; after the page has gone to the top of the new step. */
  protected override updated(): void {
    const { detail } = this.view;
    if (detail === this.#ledTo) return;
    this.#ledTo = detail;
    if (detail === undefined) return;
    const { jobId, record } = this.view.sheet;
    if ((record.wires ?? []).some(({ tag }) => tag === detail)) requestAnimationFrame(() => this.#openTag(detail));
    // A tag read elsewhere that no wire carries yet.
    else if (jobId !== undefined) requestAnimationFrame(() => this.#openCode({ jobId, tag: detail }));
  }

  #hang(id: string): void {
    this.terminalId = id;
    const tags = (this.view.sheet.record.wires ?? []).map((wire) => wire.tag);
    this.tag = this.#tied !== undefined && !tags.includes(this.#tied) ? this.#tied : proposeTag(tags);
    void this.#showEditor();
  }

  #openTag(tag: string): void {
    this.tag = tag;
    this.terminalId = this.view.sheet.record.wires?.find((wire) => wire.tag === tag)?.wasOn;
    void this.#showEditor();
  }

  #read(text: string): void {
    const code = readWireCode(text);
    if (code !== undefined) this.#openCode(code);
  }

  /** The wire of a code; one of another job leads there. */
  #openCode({ jobId, tag }: WireCode): void {
    const { sheet, desk } = this.view;
    if (jobId !== sheet.jobId) {
      this.answer = words.wires.notThisJob;
      desk.go(`/jobs/${encodeURIComponent(jobId)}/as-found/${encodeURIComponent(tag)}`);
      return;
    }
    // A scanner set to small or capital letters alone types the tag so.
    const wires = sheet.record.wires ?? [];
    const wire = wires.find((entry) => entry.tag === tag) ?? wires.find((entry) => entry.tag.toLowerCase() === tag.toLowerCase());
    if (wire === undefined) {
      this.tool ??= 'readTag';
      this.#tied = tag;
      this.answer = words.wires.noSuchWire(tag);
      return;
    }
    this.answer = words.wires.opened(wire.tag);
    this.#openTag(wire.tag);
  }

  /** Brings the editor under the eyes where it is not beside the drawing. */
  async #showEditor(): Promise<void> {
    await this.updateComplete;
    const title = this.querySelector<HTMLElement>('#wire-editor-title');
    if (title === null) return;
    title.focus({ preventScroll: true });
    // Below the drawing on a telephone: up to where its choices show.
    title.scrollIntoView({ block: title.getBoundingClientRect().bottom > innerHeight * 0.6 ? 'start' : 'nearest' });
  }
}
customElements.define('as-found-screen', AsFoundScreen);
