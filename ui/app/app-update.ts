/** Why a newer version is not taken yet. */
export type WaitsFor = 'half-typed' | 'counter' | 'unkept';

export interface UpdateWorld {
  /** undefined outside a secure context */
  readonly workers: Pick<ServiceWorkerContainer, 'register' | 'controller' | 'addEventListener'> | undefined;
  /** what would be lost with this page */
  readonly findUnfinished: () => WaitsFor | undefined;
  readonly reload: () => void;
  /** calls `work` whenever an entry may have been finished */
  readonly onQuiet: (work: () => void) => void;
}

/** How often a page that stays open asks whether there is a newer version, ms. */
const ASK_EVERY_MS = 3_600_000;
const SCRIPT = '/service-worker.js';

/**
 * The product's own versions. A newer one is fetched beside the one at work and offered; it is taken when a person says so and nothing would
 * be lost. When it was taken in another window, this page loads again as soon as it is quiet. Tells of news by an event named 'change'.
 */
export class AppUpdate extends EventTarget {
  ready = false;
  #world: UpdateWorld;
  #waiting: ServiceWorker | undefined;
  /** the old version's scripts are gone: this page is to load again */
  #replaced = false;

  constructor(world: UpdateWorld) {
    super();
    this.#world = world;
    world.onQuiet(() => {
      if (this.#replaced) this.#reloadWhenQuiet();
      else if (this.ready) this.#tell();
    });
  }

  get waitsFor(): WaitsFor | undefined { return this.#world.findUnfinished(); }

  /** Has the browser keep the page for when there is no network, and looks for newer versions. */
  async start(): Promise<void> {
    const { workers } = this.#world;
    if (workers === undefined) return;
    let hadOne = workers.controller !== null;
    workers.addEventListener('controllerchange', () => {
      // The first one ever takes over a page of its own version.
      const isFirst = !hadOne && !this.ready;
      hadOne = true;
      if (isFirst) return;
      this.#replaced = true;
      this.#reloadWhenQuiet();
    });
    const registration = await workers.register(SCRIPT);
    const look = (): void => {
      // Without one at work this is the first: it is no newer version of anything.
      if (registration.waiting !== null && workers.controller !== null) this.#offer(registration.waiting);
    };
    look();
    registration.addEventListener('updatefound', () => registration.installing?.addEventListener('statechange', look));
    setInterval(() => { void registration.update().catch(() => {}); }, ASK_EVERY_MS);
  }

  /** Takes the newer version, unless something would be lost. */
  take(): void {
    if (this.waitsFor === undefined) this.#waiting?.postMessage({ type: 'SKIP_WAITING' });
    else this.#tell();
  }

  #offer(waiting: ServiceWorker): void {
    this.#waiting = waiting;
    this.ready = true;
    this.#tell();
  }

  #reloadWhenQuiet(): void {
    if (this.waitsFor === undefined) this.#world.reload();
    else {
      this.ready = true;
      this.#tell();
    }
  }

  #tell(): void { this.dispatchEvent(new Event('change')); }
}
