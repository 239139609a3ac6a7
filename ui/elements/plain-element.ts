import { LitElement, type ReactiveController } from 'lit';

/**
 * An element that renders into the page itself: one style sheet, one set of labels and one print rule serve all screens.
 * Pictures keep a shadow root of their own.
 */
export class PlainElement extends LitElement {
  protected override createRenderRoot(): HTMLElement { return this; }
}

/** Renders the host anew at each 'change' of what `find` names; nothing is followed while the host is off the page. */
export function followChanges(host: LitElement, find: () => readonly (EventTarget | undefined)[]): void {
  host.addController(new Follow(host, find));
}

class Follow implements ReactiveController {
  #host: LitElement;
  #find: () => readonly (EventTarget | undefined)[];
  #followed: EventTarget[] = [];

  constructor(host: LitElement, find: () => readonly (EventTarget | undefined)[]) {
    this.#host = host;
    this.#find = find;
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

  #hear = (): void => { this.#host.requestUpdate(); };
}
