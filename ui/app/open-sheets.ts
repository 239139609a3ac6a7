import { CounterSheet, JobSheet, type Service, type SheetWorld } from '../client/index.ts';

/**
 * The sheets this page has opened. A job stays open when the person goes elsewhere, so that what waits to be sent goes on
 * being sent.
 */
export class OpenSheets extends EventTarget {
  counter: CounterSheet | undefined;
  #jobs = new Map<string, JobSheet>();
  #service: Service;
  #world: SheetWorld;

  constructor(service: Service, world: SheetWorld) {
    super();
    this.#service = service;
    this.#world = world;
  }

  /** The job as it is here, at once; undefined until `open` has fetched it. */
  find(id: string): JobSheet | undefined { return this.#jobs.get(id); }

  /** Fetches a job, or the newest state of one that is open. */
  async open(id: string): Promise<JobSheet> {
    const state = await this.#service.readJob(id);
    const opened = this.#jobs.get(id);
    if (opened !== undefined) {
      opened.takeState(state);
      return opened;
    }
    const sheet = new JobSheet(state, this.#service, this.#world);
    sheet.addEventListener('change', () => this.dispatchEvent(new Event('change')));
    this.#jobs.set(id, sheet);
    return sheet;
  }

  /** Starts a new counter sheet in place of the one that was open. */
  openCounter(tree: ConstructorParameters<typeof CounterSheet>[0]): CounterSheet {
    this.closeCounter();
    this.counter = new CounterSheet(tree);
    return this.counter;
  }

  closeCounter(): void {
    this.counter?.close();
    this.counter = undefined;
  }

  /** Changes in all open jobs that the server does not have. */
  get waiting(): number {
    return [...this.#jobs.values()].reduce((sum, sheet) => sum + sheet.sendState.waiting, 0);
  }

  /** Fetches the newest state of every open job: another device may have worked on it. What cannot be reached stays as it is. */
  async refresh(): Promise<void> {
    await Promise.allSettled([...this.#jobs.keys()].map((id) => this.open(id)));
  }

  /** Tries every job again at once, as when the network has come back. */
  sendAll(): void {
    for (const sheet of this.#jobs.values()) if (sheet.sendState.waiting > 0) sheet.sendNow();
  }
}
