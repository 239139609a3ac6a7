import type { Draws } from '../sim-identify/random.ts';

export type Serve = (path: string, init: RequestInit) => Promise<Response>;

export interface Traffic { requests: number; lost: number; answersLost: number; doubled: number; late: number; hung: number }

interface Late { readonly path: string; readonly init: RequestInit }

/**
 * A network between devices and one server that loses requests, loses answers, delivers twice, and delivers late: long after the
 * device has given up on the request, and so after others it has sent since. Time is what the simulation steps through.
 */
export class ShakyNetwork {
  readonly traffic: Traffic = { requests: 0, lost: 0, answersLost: 0, doubled: 0, late: 0, hung: 0 };
  /** share of requests that something happens to */
  shaky = 0;
  #serve: Serve;
  #draws: Draws;
  #late: Late[] = [];
  #hangNext = new Map<string, () => void>();

  constructor(serve: Serve, draws: Draws) {
    this.#serve = serve;
    this.#draws = draws;
  }

  /** What a device's `fetch` does. Rejects as `fetch` does where no answer comes. */
  async send(page: string, path: string, init: RequestInit): Promise<Response> {
    this.traffic.requests += 1;
    const hung = this.#hangNext.get(page);
    if (hung !== undefined) {
      this.#hangNext.delete(page);
      this.traffic.hung += 1;
      // The page will be gone before an answer comes; whether the request arrives is open.
      if (this.#draws.chance(0.5)) await this.#serve(path, init);
      hung();
      return new Promise(() => {});
    }
    if (!this.#draws.chance(this.shaky)) return this.#serve(path, init);
    switch (this.#draws.pick(['lost', 'answer-lost', 'doubled', 'late'] as const)) {
      case 'lost':
        this.traffic.lost += 1;
        break;
      case 'answer-lost':
        this.traffic.answersLost += 1;
        await this.#serve(path, init);
        break;
      case 'doubled':
        this.traffic.doubled += 1;
        this.#late.push({ path, init });
        return this.#serve(path, init);
      case 'late':
        this.traffic.late += 1;
        this.#late.push({ path, init });
        break;
    }
    throw new TypeError('fetch failed');
  }

  /** The next request of a page is never answered to it; resolves when that request has been sent. */
  hang(page: string): Promise<void> {
    return new Promise((resolve) => { this.#hangNext.set(page, resolve); });
  }

  forgetHang(page: string): void { this.#hangNext.delete(page); }

  /** Delivers some of what is late, in any order; all of it when `all`. Nobody hears the answers. */
  async deliverLate(all = false): Promise<void> {
    const due = this.#draws.shuffle(this.#late).filter(() => all || this.#draws.chance(0.4));
    this.#late = this.#late.filter((each) => !due.includes(each));
    for (const { path, init } of due) await this.#serve(path, init);
  }
}
