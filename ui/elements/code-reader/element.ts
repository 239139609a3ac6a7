import { html, nothing, type TemplateResult } from 'lit';
import { codesWords } from '../../words/codes.ts';
import type { CodeClient } from '../../worker/index.ts';
import '../file-button.css';
import { PlainElement } from '../plain-element.ts';
import './code-reader.css';

/** Pause between two looks at the camera, ms: the reader has its own thread, the telephone its battery. */
const LOOK_MS = 120;
let readers = 0;

type CameraState = 'off' | 'starting' | 'looking';
/** Why there is no camera: none on this page's address, none in this device, not allowed, or held by another program. */
type CameraFault = 'insecure' | 'none' | 'barred' | 'busy';

/**
 * `<code-reader>`: a code by camera, from a picture, or typed by a scanner with a keyboard's plug.
 *
 * Properties: `codes` the reader of the desk · `understands` (text) => boolean: others are passed over and said to be strange
 * · `answer` what the page makes of the last text, in words · `goesOn` the camera looks on after a code; the same one counts again once it was out of view. Event (bubbling): `code-read` {text}.
 */
export class CodeReader extends PlainElement {
  static override properties = {
    codes: { attribute: false }, goesOn: { attribute: false }, understands: { attribute: false }, answer: {}, camera: { state: true }, fault: { state: true }, said: { state: true }, typed: { state: true },
  };
  declare codes: CodeClient;
  declare understands: ((text: string) => boolean) | undefined;
  declare goesOn: boolean;
  declare answer: string;
  declare camera: CameraState;
  declare fault: CameraFault | undefined;
  declare said: string;
  declare typed: string;
  #stream: MediaStream | undefined;
  #timer: ReturnType<typeof setTimeout> | undefined;
  /** A page that nobody sees does not look. */
  #hidden = (): void => { if (document.visibilityState === 'hidden') this.#stop(); };
  #id = `code-typed-${readers += 1}`;

  constructor() {
    super();
    this.answer = '';
    this.goesOn = false;
    this.camera = 'off';
    this.said = '';
    this.typed = '';
  }

  override connectedCallback(): void {
    super.connectedCallback();
    document.addEventListener('visibilitychange', this.#hidden);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    document.removeEventListener('visibilitychange', this.#hidden);
    this.#stop();
  }

  protected override render(): TemplateResult {
    const said = this.said === '' ? this.answer : this.said;
    return html`<div class="code-reader stack">
      <div class="button-row">
        ${this.camera === 'off' ? html`<button type="button" class="main" @click=${() => { void this.#start(); }}>${codesWords.camera}</button>`
          : html`<button type="button" @click=${() => this.#stop()}>${codesWords.stopCamera}</button>`}
        <label class="button file-button">${codesWords.picture}<input type="file" accept="image/*" @change=${(event: Event) => { void this.#readFile(event.target as HTMLInputElement); }}></label>
      </div>
      ${this.camera === 'off' ? nothing : html`<div class="code-camera"><video playsinline muted autoplay aria-label=${codesWords.cameraView}></video>
        <p role="status">${this.camera === 'starting' ? codesWords.starting : codesWords.looking}</p></div>`}
      ${this.fault === undefined ? nothing : html`<p class="caution" role="alert">${codesWords.faults[this.fault]}</p>`}
      <form class="field" @submit=${(event: Event) => { event.preventDefault(); this.#type(); }}>
        <label for=${this.#id}>${codesWords.typed}</label>
        <span class="field-row"><input id=${this.#id} .value=${this.typed} autocomplete="off" autocapitalize="characters" spellcheck="false" maxlength="2000" aria-describedby="${this.#id}-hint"
          @input=${(event: Event) => { this.typed = (event.target as HTMLInputElement).value; }}><button>${codesWords.open}</button></span>
        <small id="${this.#id}-hint">${codesWords.typedHint}</small></form>
      <p class=${said === '' ? 'quiet' : 'mark-do'} role="status" aria-live="polite">${said}</p>
    </div>`;
  }

  async #start(): Promise<void> {
    this.fault = undefined;
    this.said = '';
    // Browsers give a camera only to pages that were served securely.
    if (navigator.mediaDevices?.getUserMedia === undefined) {
      this.fault = 'insecure';
      return;
    }
    this.camera = 'starting';
    try {
      const stream = await navigator.mediaDevices.getUserMedia({ audio: false, video: { facingMode: 'environment', width: { ideal: 1_920 }, height: { ideal: 1_080 } } });
      if (!this.isConnected || (this.camera as CameraState) === 'off') {
        for (const track of stream.getTracks()) track.stop();
        return;
      }
      this.#stream = stream;
      await this.updateComplete;
      const video = this.querySelector('video')!;
      video.srcObject = stream;
      await video.play();
      this.camera = 'looking';
      void this.#look(video);
    } catch (error) {
      this.#stop();
      this.fault = nameFault(error);
    }
  }

  #stop(): void {
    clearTimeout(this.#timer);
    for (const track of this.#stream?.getTracks() ?? []) track.stop();
    this.#stream = undefined;
    this.camera = 'off';
  }

  /** One frame after the other, each when the one before has been answered. */
  async #look(video: HTMLVideoElement, before: readonly string[] = []): Promise<void> {
    const stream = this.#stream;
    try {
      const texts = video.videoWidth === 0 ? [] : await this.codes.read(await createImageBitmap(video));
      if (this.#stream !== stream || stream === undefined) return;
      if (this.goesOn) {
        const fresh = texts.filter((text) => !before.includes(text));
        if (fresh.length > 0) this.#take(fresh);
        before = texts;
      } else if (texts.length > 0 && this.#take(texts)) {
        this.#stop();
        return;
      }
    } catch (error) {
      this.said = codesWords.failed(error instanceof Error ? error.message : String(error));
      this.#stop();
      return;
    }
    this.#timer = setTimeout(() => { void this.#look(video, before); }, LOOK_MS);
  }

  async #readFile(field: HTMLInputElement): Promise<void> {
    const [file] = field.files ?? [];
    // The same file may be chosen again.
    field.value = '';
    if (file === undefined) return;
    this.said = codesWords.reading;
    try {
      const texts = await this.codes.read(file);
      if (texts.length === 0) this.said = codesWords.noneFound;
      else this.#take(texts);
    } catch {
      this.said = codesWords.noPicture;
    }
  }

  #type(): void {
    const text = this.typed.trim();
    if (text === '') return;
    this.typed = '';
    this.#take([text]);
  }

  /** The first text that means something here; whether there was one. */
  #take(texts: readonly string[]): boolean {
    const text = this.understands === undefined ? texts[0] : texts.find(this.understands);
    if (text === undefined) {
      this.said = codesWords.strange(texts[0]!.slice(0, 60));
      return false;
    }
    this.said = '';
    this.dispatchEvent(new CustomEvent('code-read', { detail: { text }, bubbles: true }));
    return true;
  }
}
customElements.define('code-reader', CodeReader);

function nameFault(error: unknown): CameraFault {
  switch (error instanceof DOMException ? error.name : '') {
    case 'NotAllowedError': case 'SecurityError': return 'barred';
    case 'NotFoundError': case 'OverconstrainedError': return 'none';
    default: return 'busy';
  }
}
