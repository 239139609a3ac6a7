import type { ReactiveController, ReactiveControllerHost } from 'lit';

/** Tells a drawing how wide it is, in whole CSS pixels, and draws it anew when that changes. `most` caps the width. */
export class WidthWatcher implements ReactiveController {
  px = 360;
  #host: ReactiveControllerHost & Element;
  #most: number;
  #observer: ResizeObserver | undefined;

  constructor(host: ReactiveControllerHost & Element, most: number) {
    this.#host = host;
    this.#most = most;
    host.addController(this);
  }

  hostConnected(): void {
    this.#observer = new ResizeObserver(([entry]) => { if (entry) this.#take(entry.contentRect.width); });
    this.#observer.observe(this.#host);
    this.#take(this.#host.clientWidth);
  }

  hostDisconnected(): void {
    this.#observer?.disconnect();
  }

  #take(width: number): void {
    const whole = Math.floor(Math.min(width, this.#most));
    if (whole <= 0 || whole === this.px) return;
    this.px = whole;
    this.#host.requestUpdate();
  }
}
