import { LitElement, type ReactiveController } from 'lit';

/**
 * An element that renders into the page itself: one style sheet, one set of labels and one print rule serve all screens.
 * Pictures keep a shadow root of their own.
 */
export class PlainElement extends LitElement {
  protected override createRenderRoot(): HTMLElement { return this; }
}

/** Renders its host anew at each 'change' of what it follows; follows nothing while the host is off the page. */
export class Follow implements ReactiveController {
  #host: LitElement;
  #find: () => readonly (EventTarget | undefined)[];
  #followed: EventTarget[] = [];
  #onChange: () => void;

  constructor(host: LitElement, find: () => readonly (EventTarget | undefined)[], onChange: () => void = () => {}) {
    this.#host = host;
    this.#find = find;
    this.#onChange = onChange;
    host.addController(this);
  }

  hostConnected(): void { this.hostUpdate(); }

  hostUpdate(): void {
    const now = this.#find().filter((target): target is EventTarget => target !== undefined);
    if (now.length === this.#followed.length && now.every((target, index) => target === this.#followed[index])) return;
    this.hostDisconnected();
    for (const target of now) target.addEventListener('change', this.#hear);
    this.#followed = now;
  }

  hostDisconnected(): void {
    for (const target of this.#followed) target.removeEventListener('change', this.#hear);
    this.#followed = [];
  }

  #hear = (): void => {
    this.#onChange();
    this.#host.requestUpdate();
  };
}
