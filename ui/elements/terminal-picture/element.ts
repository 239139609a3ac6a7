import { LitElement, type PropertyValues, type TemplateResult } from 'lit';
import type { RecordTerminal, Terminal, Wire } from '../../../catalog-schema/index.ts';
import { type FaceLook, type FaceMark, WidthWatcher, drawingStyle, faceTerminals, layFaceSheet } from '../../drawing/index.ts';
import { viewTerminalPicture, type FacePhoto } from './view.ts';

/**
 * `<terminal-picture>`: the terminal face of a part, to scale, with the wires that hang on it.
 *
 * Properties (set them with `.name=${…}`):
 * - `terminals`  RecordTerminal[] of a bench record or Terminal[] of a part
 * - `wires`      Wire[]; each is drawn on the terminal its `wasOn` names, others are left out
 * - `units`      'mm' | 'inch'
 * - `mode`       'one': a tap names a terminal · 'pair': the second tap names a pair, 'case' is a place too · 'still': a picture, no taps
 * - `selected`   ids of chosen terminals (ringed); in 'pair' mode the first tap is kept by the element itself
 * - `selectedWire`  tag of the chosen wire
 * - `marks`      {terminal, kind: 'do' | 'not'}[]: pencil rings
 * - `only`       {terminals, wires} | undefined: all else is drawn faint (one step of As left)
 * - `photo`      FacePhoto | undefined: a picture that lies beneath, by an affine map from its px to the face's millimetres
 * - `caption`    false to leave out the line about the scale
 *
 * Events (bubbling, composed): `terminal-tap` {id}; `pair-tap` {between: [id, id]}; `wire-tap` {tag}.
 * Keyboard: Tab and the arrow keys go from terminal to terminal, Enter or space taps.
 */
export class TerminalPicture extends LitElement {
  static override properties = {
    terminals: { attribute: false }, wires: { attribute: false }, units: {}, mode: {}, selected: { attribute: false },
    selectedWire: { attribute: false }, marks: { attribute: false }, only: { attribute: false }, photo: { attribute: false },
    caption: { attribute: false }, firstOfPair: { state: true },
  };
  static override styles = drawingStyle;

  declare terminals: readonly (RecordTerminal | Terminal)[];
  declare wires: readonly Wire[];
  declare units: 'mm' | 'inch';
  declare mode: 'one' | 'pair' | 'still';
  declare selected: readonly string[];
  declare selectedWire: string;
  declare marks: readonly FaceMark[];
  declare only: FaceLook['only'];
  declare photo: FacePhoto | undefined;
  declare caption: boolean;
  declare firstOfPair: string | null;

  #width = new WidthWatcher(this, 760);

  constructor() {
    super();
    this.terminals = [];
    this.wires = [];
    this.units = 'mm';
    this.mode = 'one';
    this.selected = [];
    this.selectedWire = '';
    this.marks = [];
    this.only = undefined;
    this.photo = undefined;
    this.caption = true;
    this.firstOfPair = null;
  }

  override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('mode')) this.firstOfPair = null;
  }

  override render(): TemplateResult {
    const terminals = faceTerminals(this.terminals, this.units);
    const sheet = layFaceSheet({ terminals, wires: this.wires, widthPx: this.#width.px });
    const chosen = this.firstOfPair === null ? this.selected : [...this.selected, this.firstOfPair];
    return viewTerminalPicture({
      sheet, terminals, look: { marks: this.marks, ...(this.only === undefined ? {} : { only: this.only }) },
      selected: chosen, selectedWire: this.selectedWire, live: this.mode !== 'still', withCase: this.mode === 'pair', caption: this.caption,
      ...(this.photo === undefined ? {} : { photo: this.photo }),
      onTap: (id) => this.#tap(id), onKey: (event, id) => this.#key(event, id), onWire: (tag) => this.#say('wire-tap', { tag }),
    });
  }

  #tap(id: string): void {
    if (this.mode !== 'pair') { this.#say('terminal-tap', { id }); return; }
    const first = this.firstOfPair;
    if (first === null) { this.firstOfPair = id; this.#say('terminal-tap', { id }); return; }
    this.firstOfPair = null;
    if (first !== id) this.#say('pair-tap', { between: [first, id] });
  }

  #key(event: KeyboardEvent, id: string): void {
    if (event.key === 'Enter' || event.key === ' ') { event.preventDefault(); this.#tap(id); return; }
    const way = ({ ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] } as const)[event.key as 'ArrowLeft'];
    if (way === undefined) return;
    event.preventDefault();
    this.#nearest(event.currentTarget as Element, way)?.focus();
  }

  /** The nearest terminal in a direction: the way along it counts once, the way across it twice. */
  #nearest(from: Element, [dx, dy]: readonly [number, number]): SVGElement | undefined {
    const middleOf = (element: Element): [number, number] => {
      const box = (element.querySelector('.hit') ?? element).getBoundingClientRect();
      return [box.left + box.width / 2, box.top + box.height / 2];
    };
    const [x, y] = middleOf(from);
    let best: { element: SVGElement; cost: number } | undefined;
    for (const element of this.renderRoot.querySelectorAll<SVGElement>('[data-terminal]')) {
      if (element === from) continue;
      const [ex, ey] = middleOf(element);
      const along = (ex - x) * dx + (ey - y) * dy;
      if (along < 4) continue;
      const cost = along + 2 * Math.abs((ex - x) * dy) + 2 * Math.abs((ey - y) * dx);
      if (best === undefined || cost < best.cost) best = { element, cost };
    }
    return best?.element;
  }

  #say(name: 'terminal-tap' | 'pair-tap' | 'wire-tap', detail: Readonly<Record<string, unknown>>): void {
    this.dispatchEvent(new CustomEvent(name, { detail, bubbles: true, composed: true }));
  }
}

customElements.define('terminal-picture', TerminalPicture);

declare global {
  interface HTMLElementTagNameMap { 'terminal-picture': TerminalPicture }
}
