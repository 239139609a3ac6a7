import type { Reach } from '../client/index.ts';

/** What one page of this device tells the others, and itself. */
export type News =
  /** what waits has changed: something was added, sent, answered or dropped */
  | { readonly kind: 'waiting' }
  /** the kept state of a job, or the acts on it, have changed */
  | { readonly kind: 'job'; readonly id: string }
  | { readonly kind: 'reach'; readonly reach: Reach };

/** Carries news between the pages of this device. */
export class NewsChannel extends EventTarget {
  #others: BroadcastChannel | undefined;

  constructor(others: BroadcastChannel | undefined) {
    super();
    this.#others = others;
    others?.addEventListener('message', (event: MessageEvent<News>) => this.#hear(event.data));
  }

  /** Tells this page and all others. */
  tell(news: News): void {
    this.#others?.postMessage(news);
    this.#hear(news);
  }

  /** Calls `work` at each news; returns what ends it. */
  follow(work: (news: News) => void): () => void {
    const hear = (event: Event): void => work((event as CustomEvent<News>).detail);
    this.addEventListener('news', hear);
    return () => this.removeEventListener('news', hear);
  }

  #hear(news: News): void { this.dispatchEvent(new CustomEvent('news', { detail: news })); }
}
