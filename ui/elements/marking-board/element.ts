import { html, type PropertyValues, type TemplateResult } from 'lit';
import { photographWords } from '../../words/photograph.ts';
import { PlainElement } from '../plain-element.ts';
import { fitView, isWhole, panView, showSpot, toBoard, toPicture, zoomView, type BoardView, type Size, type Spot } from './board-view.ts';
import { drawBoard, type BoardInk, type BoardLine, type BoardMark } from './draw-board.ts';
import { Gestures } from './gestures.ts';

/** One sigma of a mark, css px, as the board shows the picture: aimed through the magnifier or with a mouse; tapped by a finger. Common practice, no source. */
const AIMED_PX = 1;
const TAPPED_PX = 4;
/** No mark is better than this, px of the picture: its own grid and blur. Common practice, no source. */
const LEAST_NOISE_PX = 0.5;
/** A mark is taken hold of within this, css px; a tap as near as the second puts none beside it. */
const HOLD_PX = 14;
const SAME_PX = 4;
const ZOOM_STEP = 1.6;

/**
 * A picture to make marks on: moved and enlarged with fingers, wheel or keys, marks put by tapping or aimed through a magnifier.
 * Tells of them by `mark-put` {xPx, yPx, noisePx}, for one that was moved `mark-move` {id, xPx, yPx, noisePx}, for one that was tapped `mark-tap` {id}.
 */
export class MarkingBoard extends PlainElement {
  static override properties = { picture: { attribute: false }, marks: { attribute: false }, lines: { attribute: false }, label: {}, halfway: { type: Boolean }, view: { state: true } };
  declare picture: ImageBitmap | undefined;
  declare marks: readonly BoardMark[];
  declare lines: readonly BoardLine[];
  declare label: string;
  /** something is half marked: the next mark belongs to it, so that none is taken hold of meanwhile */
  declare halfway: boolean;
  declare view: BoardView | undefined;
  #board: Size = { width: 0, height: 0 };
  #aim: Spot | undefined;
  #held: { id: string; off: Spot } | undefined;
  #cross: Spot | undefined;
  #frame = 0;
  #sizes = new ResizeObserver(() => this.#measureBoard());
  #theme = new MutationObserver(() => this.#redraw());
  #dark = matchMedia('(prefers-color-scheme: dark)');
  #redrawn = (): void => this.#redraw();
  #gestures = new Gestures({
    aimsAt: (at) => this.#markAt(at, HOLD_PX) !== undefined || this.#isWhole(),
    aim: (at) => this.#aimAt(at),
    put: (at, sure) => this.#put(at, sure),
    callOff: () => this.#letGo(),
    pan: (by) => this.#look(panView(this.view!, by, this.#size(), this.#board)),
    zoom: (factor, about) => this.#look(zoomView(this.view!, factor, about, this.#size(), this.#board)),
  }, (work, ms) => {
    const timer = setTimeout(work, ms);
    return () => clearTimeout(timer);
  });
  #fine = false;

  constructor() {
    super();
    this.marks = [];
    this.lines = [];
    this.label = '';
    this.halfway = false;
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.#theme.observe(document.documentElement, { attributeFilter: ['data-theme'] });
    this.#dark.addEventListener('change', this.#redrawn);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#sizes.disconnect();
    this.#theme.disconnect();
    this.#dark.removeEventListener('change', this.#redrawn);
  }

  protected override firstUpdated(): void {
    this.#sizes.observe(this.#canvas());
    void document.fonts.ready.then(() => this.#redraw());
  }

  protected override updated(changed: PropertyValues): void {
    if (changed.has('picture')) {
      this.#cross = undefined;
      this.#letGo();
      this.view = undefined;
      this.#measureBoard();
    }
    this.#redraw();
  }

  protected override render(): TemplateResult {
    return html`<canvas tabindex="0" role="application" aria-roledescription=${photographWords.board} aria-label=${this.label} aria-describedby="board-keys"
        @pointerdown=${(event: PointerEvent) => this.#down(event)} @pointermove=${(event: PointerEvent) => this.#gestures.move(event.pointerId, placeOf(event))}
        @pointerup=${(event: PointerEvent) => this.#gestures.up(event.pointerId, placeOf(event))} @pointercancel=${(event: PointerEvent) => this.#gestures.cancel(event.pointerId)}
        @contextmenu=${(event: Event) => event.preventDefault()} @wheel=${(event: WheelEvent) => this.#wheel(event)}
        @keydown=${(event: KeyboardEvent) => this.#key(event)} @blur=${() => { this.#cross = undefined; this.#redraw(); }}></canvas>
      <p id="board-keys" class="visually-hidden">${photographWords.boardKeys}</p>
      <div class="board-zoom"><button type="button" @click=${() => this.#zoom(ZOOM_STEP)}>${photographWords.larger}</button>
        <button type="button" @click=${() => this.#zoom(1 / ZOOM_STEP)} ?disabled=${this.#isWhole()}>${photographWords.smaller}</button>
        <button type="button" @click=${() => this.#look(fitView(this.#size(), this.#board))} ?disabled=${this.#isWhole()}>${photographWords.whole}</button></div>`;
  }

  /** Brings a place of the picture into view. */
  show(spot: Spot): void {
    if (this.view !== undefined) this.#look(showSpot(this.view, spot, this.#size(), this.#board));
  }

  #canvas(): HTMLCanvasElement { return this.querySelector('canvas')!; }
  #size(): Size { return this.picture ?? { width: 1, height: 1 }; }
  #isWhole(): boolean { return this.view === undefined || isWhole(this.view, this.#size(), this.#board); }

  #measureBoard(): void {
    const { clientWidth: width, clientHeight: height } = this.#canvas();
    if (width === 0 || height === 0) return;
    const whole = this.#isWhole();
    const middle = this.view && toPicture(this.view, { x: this.#board.width / 2, y: this.#board.height / 2 });
    this.#board = { width, height };
    const fitted = fitView(this.#size(), this.#board);
    this.view = whole || !this.view || !middle ? fitted
      : panView({ scale: Math.max(fitted.scale, this.view.scale), left: middle.x - width / 2 / this.view.scale, top: middle.y - height / 2 / this.view.scale }, { x: 0, y: 0 }, this.#size(), this.#board);
    this.#redraw();
  }

  #look(view: BoardView): void {
    this.view = view;
    this.#redraw();
  }

  /** About the mark made last where it is in view, else about the middle. */
  #zoom(factor: number): void {
    if (this.view === undefined) return;
    const last = this.#cross ?? this.marks.at(-1);
    const at = last && toBoard(this.view, last);
    const seen = at && at.x >= 0 && at.y >= 0 && at.x <= this.#board.width && at.y <= this.#board.height;
    this.#look(zoomView(this.view, factor, seen ? at : { x: this.#board.width / 2, y: this.#board.height / 2 }, this.#size(), this.#board));
  }

  #down(event: PointerEvent): void {
    if (event.button !== 0 || this.view === undefined || this.picture === undefined) return;
    this.#fine = event.pointerType !== 'touch';
    (event.target as Element).setPointerCapture(event.pointerId);
    this.#gestures.down(event.pointerId, placeOf(event));
  }

  #markAt(at: Spot, within: number): BoardMark | undefined {
    const near = this.marks.map((mark) => ({ mark, spot: toBoard(this.view!, mark) }))
      .map(({ mark, spot }) => ({ mark, apart: Math.hypot(spot.x - at.x, spot.y - at.y) })).toSorted((a, b) => a.apart - b.apart)[0];
    return near && near.apart <= within ? near.mark : undefined;
  }

  /** A mark taken hold of keeps its distance from the finger, so that it does not jump. */
  #aimAt(at: Spot): void {
    const view = this.view!;
    if (this.#aim === undefined) {
      const mark = this.halfway ? undefined : this.#markAt(at, HOLD_PX);
      const spot = mark && toBoard(view, mark);
      this.#held = mark && spot ? { id: mark.id, off: { x: spot.x - at.x, y: spot.y - at.y } } : undefined;
    }
    const { off } = this.#held ?? { off: { x: 0, y: 0 } };
    this.#aim = this.#inside(toPicture(view, { x: at.x + off.x, y: at.y + off.y }));
    this.#redraw();
  }

  #put(at: Spot, sure: boolean): void {
    const aimed = this.#aim ?? toPicture(this.view!, at);
    const held = this.#held;
    this.#letGo();
    // A tap on a mark only chooses it: the magnifier is what moves it.
    const tapped = sure ? undefined : this.#markAt(at, SAME_PX);
    if (tapped !== undefined) {
      this.dispatchEvent(new CustomEvent('mark-tap', { detail: { id: tapped.id }, bubbles: true }));
      return;
    }
    const noise = sure || this.#fine ? AIMED_PX : TAPPED_PX;
    this.#say(held?.id, this.#inside(aimed), noise);
  }

  #say(id: string | undefined, { x, y }: Spot, cssPx: number): void {
    const round = (value: number) => Math.round(value * 100) / 100;
    const mark = { xPx: round(x), yPx: round(y), noisePx: Math.max(LEAST_NOISE_PX, round(cssPx / this.view!.scale)) };
    this.dispatchEvent(new CustomEvent(id === undefined ? 'mark-put' : 'mark-move', { detail: id === undefined ? mark : { id, ...mark }, bubbles: true }));
  }

  #letGo(): void {
    this.#aim = undefined;
    this.#held = undefined;
    this.#redraw();
  }

  #inside({ x, y }: Spot): Spot {
    const { width, height } = this.#size();
    return { x: Math.min(Math.max(0, x), width), y: Math.min(Math.max(0, y), height) };
  }

  /** Only with the control key, as a pinch on a touch pad gives it: the plain wheel moves the page. */
  #wheel(event: WheelEvent): void {
    if (!event.ctrlKey || this.view === undefined) return;
    event.preventDefault();
    this.#look(zoomView(this.view, Math.exp(-event.deltaY / 200), placeOf(event), this.#size(), this.#board));
  }

  #key(event: KeyboardEvent): void {
    if (this.view === undefined || this.picture === undefined || event.ctrlKey || event.metaKey || event.altKey) return;
    const way = ({ ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] } as const)[event.key as 'ArrowLeft'];
    const cross = this.#cross ?? toPicture(this.view, { x: this.#board.width / 2, y: this.#board.height / 2 });
    if (way !== undefined) {
      const step = (event.shiftKey ? 16 : 1) / this.view.scale;
      this.#cross = this.#inside({ x: cross.x + way[0] * step, y: cross.y + way[1] * step });
      this.show(this.#cross);
    } else if (event.key === 'Enter' || event.key === ' ') this.#say(undefined, cross, AIMED_PX);
    else if (event.key === '+') this.#zoom(ZOOM_STEP);
    else if (event.key === '-') this.#zoom(1 / ZOOM_STEP);
    else if (event.key === '0') this.#look(fitView(this.#size(), this.#board));
    else return;
    event.preventDefault();
    this.#redraw();
  }

  #redraw(): void {
    cancelAnimationFrame(this.#frame);
    this.#frame = requestAnimationFrame(() => this.#draw());
  }

  #draw(): void {
    const canvas = this.querySelector('canvas');
    const context = canvas?.getContext('2d');
    // A picture that was closed meanwhile has no width.
    if (!canvas || !context || this.view === undefined || this.picture === undefined || this.picture.width === 0) return;
    const dots = devicePixelRatio;
    const [width, height] = [Math.round(this.#board.width * dots), Math.round(this.#board.height * dots)];
    if (canvas.width !== width || canvas.height !== height) [canvas.width, canvas.height] = [width, height];
    context.setTransform(dots, 0, 0, dots, 0, 0);
    drawBoard(context, { picture: this.picture, view: this.view, board: this.#board, marks: this.marks, lines: this.lines, aim: this.#aim, cross: this.#cross }, readInk(this));
  }
}
customElements.define('marking-board', MarkingBoard);

function placeOf(event: MouseEvent): Spot {
  return { x: event.offsetX, y: event.offsetY };
}

function readInk(element: Element): BoardInk {
  const style = getComputedStyle(element);
  const of = (name: string) => style.getPropertyValue(name).trim();
  return { paper: of('--paper'), ink: of('--ink'), do: of('--do'), not: of('--not'), ground: of('--paper-2'), font: style.fontFamily };
}
