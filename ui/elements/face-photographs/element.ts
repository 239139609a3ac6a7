import { html, nothing, type PropertyValues, type TemplateResult } from 'lit';
import type { InputFault, JobPhotograph, JsonValue, PhotographMark } from '../../../catalog-schema/index.ts';
import type { Desk, FieldChange, WorkSheet } from '../../client/index.ts';
import { formatMoment } from '../../format.ts';
import { sayFault } from '../../say-fault.ts';
import { markId, terminalKey } from '../../screens/photograph/mark-changes.ts';
import '../../screens/photograph/photograph.css';
import { renderRefusal, renderSent, renderTakeButtons } from '../../screens/photograph/take-section.ts';
import { words } from '../../words.ts';
import { photographWords } from '../../words/photograph.ts';
import { renderChoices } from '../choices.ts';
import '../marking-board/element.ts';
import { followChanges, PlainElement } from '../plain-element.ts';
import { findPin, pinsOf } from './place-photograph.ts';

/** Longest side of the picture that is shown, px; the original is kept beside it where it is wanted. */
const SHOWN_SIDE_PX = 2_048;
/** A tap this near a pin means it, as a part of the picture's longer side. */
const NEAR_PIN = 0.07;

/**
 * `<face-photographs>`: pictures of the terminal face, taken or chosen, with a pin on each terminal; from a pin a wire is hung.
 *
 * Properties: `desk` · `sheet` of a job · `revision` anything that changes when the sheet does. Event (bubbling): `pin-hang` {id}.
 */
export class FacePhotographs extends PlainElement {
  static override properties = {
    desk: { attribute: false }, sheet: { attribute: false }, revision: { attribute: false }, chosen: { state: true }, hanging: { state: true }, pinFor: { state: true },
    keepOriginal: { state: true }, busy: { state: true }, faults: { state: true }, failed: { state: true }, said: { state: true }, picture: { state: true },
  };
  declare desk: Desk;
  declare sheet: WorkSheet;
  declare revision: unknown;
  declare chosen: string | undefined;
  /** a tap hangs a wire; else it puts a pin */
  declare hanging: boolean;
  declare pinFor: string | undefined;
  declare keepOriginal: boolean;
  declare busy: boolean;
  declare faults: readonly InputFault[];
  declare failed: string;
  declare said: string;
  declare picture: ImageBitmap | undefined;
  #opened = '';

  constructor() {
    super();
    this.hanging = false;
    this.keepOriginal = false;
    this.busy = false;
    this.faults = [];
    this.failed = '';
    this.said = '';
    followChanges(this, () => [this.desk?.photographs]);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    void this.#putAway();
    this.#opened = '';
  }

  protected override willUpdate(_changed: PropertyValues): void {
    const open = this.#open();
    if ((open?.hash ?? '') !== this.#opened) void this.#show(open);
  }

  protected override render(): TemplateResult {
    const open = this.#open();
    return html`<div class="stack">
      <p>${words.wires.photosLead}</p>
      ${renderTakeButtons((file) => { void this.#take(file); }, this.busy)}
      <label class="check"><input type="checkbox" .checked=${this.keepOriginal} @change=${(event: Event) => { this.keepOriginal = (event.target as HTMLInputElement).checked; }}>
        <span>${words.wires.keepOriginal}<small>${words.wires.keepOriginalHint}</small></span></label>
      ${renderRefusal(this.faults)}
      ${this.busy ? html`<p role="status">${photographWords.preparing}</p>` : nothing}
      ${this.failed === '' ? nothing : html`<p class="not" role="alert">${this.failed}</p>`}
      ${open === undefined ? nothing : this.#renderOpen(open.hash, open.photograph)}
    </div>`;
  }

  #renderOpen(hash: string, photograph: JobPhotograph): TemplateResult {
    const terminals = this.sheet.record.terminals ?? [];
    const pins = pinsOf(photograph, terminals);
    const next = this.#nextPin(photograph);
    return html`${renderSent(this.desk.photographs.stateOf(hash))}
      ${terminals.length === 0 ? nothing : html`<div class="photo-tools">${renderChoices({
        name: 'pin-mode', legend: words.wires.boardMode, value: this.hanging ? 'hang' : 'pin',
        choices: (['pin', 'hang'] as const).map((value) => ({ value, label: words.wires.boardModes[value] })), onChoose: (mode) => { this.hanging = mode === 'hang'; this.said = ''; },
      })}
      ${this.hanging ? nothing : renderChoices({
        name: 'pin-for', legend: words.wires.pinFor, value: next,
        choices: terminals.map(({ id, marking }) => ({ value: id, label: words.wiring.terminal(id, marking) })), onChoose: (id) => { this.pinFor = id; },
      })}</div>
      <p class="mark-do" role="status">${this.said !== '' ? this.said : this.hanging ? words.wires.hangOn : next === undefined ? words.wires.allPinned : words.wires.pinsOn(next)}</p>`}
      ${this.picture === undefined ? html`<p role="status">${photographWords.opening}</p>` : html`<marking-board .picture=${this.picture} .label=${photographWords.boardLabel(photograph.name)}
        .marks=${pins.map(({ id, xPx, yPx }) => ({ id: markId('things', terminalKey(id), 0), x: xPx, y: yPx, label: id }))} .lines=${[]}
        @mark-put=${(event: CustomEvent<PhotographMark>) => this.#put(hash, photograph, event.detail)}
        @mark-move=${(event: CustomEvent<PhotographMark & { id: string }>) => this.#move(hash, photograph, event.detail)}
        @mark-tap=${(event: CustomEvent<{ id: string }>) => this.#tap(photograph, event.detail.id)}></marking-board>`}
      <div><p class="field-label">${words.wires.pins}</p>${pins.length === 0 ? html`<p class="quiet">${words.wires.noPins}</p>` : html`<ul class="rows photo-rows">${pins.map(({ id }) => html`<li>
        <button type="button" @click=${() => this.#hang(id)}>${words.wires.hangAt(id)}</button>
        <button type="button" class="plain" aria-label=${words.wires.removePin(id)} @click=${() => this.#change([{ field: ['photographs', hash, 'things', terminalKey(id)], value: null }])}>${words.wires.remove}</button></li>`)}</ul>`}</div>
      ${this.#renderAll(hash)}`;
  }

  #renderAll(open: string): TemplateResult {
    return html`<div><p class="field-label">${photographWords.pictures}</p><ul class="rows photo-rows">${Object.entries(this.sheet.document.photographs ?? {}).map(([hash, photograph]) => html`<li>
      <span><b>${photograph.name}</b> <span class="quiet">${formatMoment(photograph.at)}, ${photographWords.size(photograph.widthPx, photograph.heightPx)}${photograph.original === undefined ? '' : `, ${words.wires.originalKept}`}</span></span>
      ${hash === open ? html`<button type="button" class="plain" aria-label=${words.wires.removePhotograph(photograph.name)} @click=${() => this.#change([{ field: ['photographs', hash], value: null }])}>${words.wires.remove}</button>`
        : html`<button type="button" class="plain" aria-label="${photographWords.show}: ${photograph.name}" @click=${() => { this.chosen = hash; }}>${photographWords.show}</button>`}</li>`)}</ul></div>`;
  }

  #open(): { hash: string; photograph: JobPhotograph } | undefined {
    const all = this.sheet.document.photographs ?? {};
    const hash = this.chosen !== undefined && all[this.chosen] !== undefined ? this.chosen : Object.entries(all).toSorted(([, a], [, b]) => (a.at < b.at ? 1 : -1))[0]?.[0];
    return hash === undefined ? undefined : { hash, photograph: all[hash]! };
  }

  /** The terminal whose pin comes next: the one asked for, else the first without one. */
  #nextPin(photograph: JobPhotograph): string | undefined {
    const terminals = this.sheet.record.terminals ?? [];
    if (this.pinFor !== undefined && terminals.some(({ id }) => id === this.pinFor)) return this.pinFor;
    return terminals.find(({ id }) => photograph.things?.[terminalKey(id)] === undefined)?.id;
  }

  async #show(open: { hash: string; photograph: JobPhotograph } | undefined): Promise<void> {
    this.#opened = open?.hash ?? '';
    void this.#putAway();
    if (open === undefined) return;
    try {
      const blob = await this.desk.photographs.find(this.sheet.jobId!, open.hash);
      const picture = await this.desk.pictures.open(blob, open.photograph.widthPx, open.photograph.heightPx);
      if (this.#opened === open.hash) this.picture = picture;
      else picture.close();
    } catch (error) {
      if (this.#opened === open.hash) this.failed = `${photographWords.notHere} ${sayFault(error)}`;
    }
  }

  /** The board draws a last time in the frame that is on its way: the picture goes after it. */
  async #putAway(): Promise<void> {
    const { picture } = this;
    this.picture = undefined;
    await this.updateComplete;
    requestAnimationFrame(() => picture?.close());
  }

  async #take(file: File): Promise<void> {
    this.busy = true;
    Object.assign(this, { faults: [], failed: '', said: '' });
    try {
      const shown = await this.desk.pictures.prepare(file, SHOWN_SIDE_PX);
      const original = this.keepOriginal ? await this.desk.pictures.prepare(file, Number.POSITIVE_INFINITY) : undefined;
      const refused = [shown, original].find((prepared) => prepared !== undefined && !prepared.ok);
      if (!shown.ok || refused) {
        this.faults = refused && !refused.ok ? refused.faults : [];
        return;
      }
      const { hash, picture, widthPx, heightPx } = shown;
      const kept = original?.ok && original.hash !== hash ? original : undefined;
      if (this.sheet.document.photographs?.[hash] === undefined) {
        this.#change([{ field: ['photographs', hash], value: {
          name: file.name.slice(0, 200), at: this.desk.now().toISOString(), widthPx, heightPx, ...(kept === undefined ? {} : { original: kept.hash }),
        } }]);
      }
      Object.assign(this, { chosen: hash, hanging: false, pinFor: undefined });
      await this.desk.photographs.keep(this.sheet.jobId!, hash, picture);
      if (kept !== undefined) await this.desk.photographs.keep(this.sheet.jobId!, kept.hash, kept.picture);
    } catch (error) {
      this.failed = sayFault(error);
    } finally {
      this.busy = false;
    }
  }

  #put(hash: string, photograph: JobPhotograph, mark: PhotographMark): void {
    this.said = '';
    if (this.hanging) {
      const pin = findPin(pinsOf(photograph, this.sheet.record.terminals ?? []), mark, NEAR_PIN * Math.max(photograph.widthPx, photograph.heightPx));
      if (pin === undefined) this.said = words.wires.nearNoPin;
      else this.#hang(pin.id);
      return;
    }
    const id = this.#nextPin(photograph);
    if (id === undefined) return;
    this.pinFor = undefined;
    this.#change([{ field: ['photographs', hash, 'things', terminalKey(id)], value: { what: 'terminal', terminal: id, by: 'middle', marks: [mark] } as unknown as JsonValue }]);
  }

  #move(hash: string, photograph: JobPhotograph, { id, ...mark }: PhotographMark & { id: string }): void {
    const [, key] = JSON.parse(id) as [string, string, number];
    const thing = photograph.things?.[key];
    // A pin of several marks is the middle of a measurement: it is moved where it was measured.
    if (thing === undefined || thing.marks.length > 1) return;
    this.#change([{ field: ['photographs', hash, 'things', key, 'marks'], value: [mark] as unknown as JsonValue }]);
  }

  #tap(photograph: JobPhotograph, id: string): void {
    const [, key] = JSON.parse(id) as [string, string, number];
    const terminal = photograph.things?.[key]?.terminal;
    if (terminal === undefined) return;
    if (this.hanging) this.#hang(terminal);
    else this.pinFor = terminal;
  }

  #hang(id: string): void { this.dispatchEvent(new CustomEvent('pin-hang', { detail: { id }, bubbles: true })); }

  #change(changes: readonly FieldChange[]): void {
    const result = this.sheet.change(changes);
    this.failed = result.ok ? '' : result.why;
  }
}
customElements.define('face-photographs', FacePhotographs);
