import type { Desk, WaitingItem } from '../../client/index.ts';
import { sayFault } from '../../say-fault.ts';
import type { Holdings } from '../work-view.ts';

/** Reads what is put aside and drafted for a job. Tells of news by an event named 'change'. */
export class HoldingsWatch extends EventTarget {
  holdings: Holdings = { reservations: [], orderLines: [], failed: '' };
  #desk: Desk;
  #jobId: string | undefined;
  /** at the counter there is no job to ask by: only what this page put aside is shown */
  #counterIds = new Set<string>();
  /** errands of this job that waited when last looked at */
  #waited = 0;

  constructor(desk: Desk, jobId: string | undefined) {
    super();
    this.#desk = desk;
    this.#jobId = jobId;
  }

  /** Marks a counter sale or order line of this page as one to show. */
  own(id: string): void { this.#counterIds.add(id); }

  /** Reads again once an errand that waited has been sent. */
  look(waiting: readonly WaitingItem[]): void {
    const now = waiting.filter((item) => item.errand !== undefined && item.jobId === this.#jobId).length;
    const sent = now < this.#waited;
    this.#waited = now;
    if (sent) void this.read();
  }

  async read(): Promise<void> {
    try {
      const [reservations, orderLines] = await Promise.all([
        this.#desk.service.listReservations(this.#jobId), this.#desk.service.listOrderLines(this.#jobId),
      ]);
      const mine = (entry: { id: string; jobId?: string | undefined }): boolean =>
        this.#jobId === undefined ? this.#counterIds.has(entry.id) : entry.jobId === this.#jobId;
      this.holdings = { reservations: reservations.filter(mine), orderLines: orderLines.filter(mine), failed: '' };
    } catch (error) {
      this.holdings = { ...this.holdings, failed: sayFault(error) };
    }
    this.dispatchEvent(new Event('change'));
  }
}
