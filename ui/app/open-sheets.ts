import type { ActKeeper, CounterSheet, JobSheet, Service, SheetWorld } from '../client/index.ts';

/** The sheets this page has opened. A job stays open when the person goes elsewhere, and with it what could be undone. */
export class OpenSheets extends EventTarget {
  counter: CounterSheet | undefined;
  #jobs = new Map<string, JobSheet>();
  #service: Service;
  #keeper: ActKeeper;
  #world: SheetWorld;

  constructor(service: Service, keeper: ActKeeper, world: SheetWorld) {
    super();
    this.#service = service;
    this.#keeper = keeper;
    this.#world = world;
  }

  /** The job as it is here, at once; undefined until `open` has fetched it. */
  find(id: string): JobSheet | undefined { return this.#jobs.get(id); }

  /** Fetches a job, or the newest state of one that is open. */
  async open(id: string): Promise<JobSheet> {
    const fetched = await this.#service.readJob(id);
    const { state: kept, acts } = await this.#keeper.read(id);
    const state = kept !== undefined && kept.revision > fetched.revision ? kept : fetched;
    const opened = this.#jobs.get(id);
    if (opened !== undefined) {
      opened.takeState(state);
      return opened;
    }
    // With the sheet comes the reading of documents: the list of jobs does without.
    const { JobSheet } = await import('../client/job-sheet.ts');
    const sheet = new JobSheet(state, this.#keeper, this.#world, acts);
    sheet.addEventListener('change', () => this.dispatchEvent(new Event('change')));
    this.#jobs.set(id, sheet);
    return sheet;
  }

  /** Starts a new counter sheet in place of the one that was open. */
  async openCounter(tree: ConstructorParameters<typeof CounterSheet>[0]): Promise<CounterSheet> {
    const { CounterSheet: Sheet } = await import('../client/counter-sheet.ts');
    this.closeCounter();
    this.counter = new Sheet(tree);
    return this.counter;
  }

  closeCounter(): void {
    this.counter?.close();
    this.counter = undefined;
  }

  /** Acts on all open jobs that go with this page. */
  get unkept(): number {
    return [...this.#jobs.values()].reduce((sum, { sendState }) => sum + sendState.keeping + sendState.inMemory, 0);
  }

  /** Fetches the newest state of every open job: another device may have worked on it. What cannot be reached stays as it is. */
  async refresh(): Promise<void> {
    await Promise.allSettled([...this.#jobs.keys()].map((id) => this.open(id)));
  }
}
