import type { BenchRecord } from '../../../catalog-schema/index.ts';
import type { Desk, WorkSheet } from '../../client/index.ts';
import { sayFault } from '../../say-fault.ts';
import type { Findings } from '../work-view.ts';

/**
 * Asks the engine about a sheet's record whenever it has changed. Tells of each new answer by an event named 'change'.
 * One question is on its way at a time: a record that changes meanwhile waits, and of several only the newest is asked about.
 */
export class FindingsWatch extends EventTarget {
  findings: Findings = { fit: undefined, identify: undefined, working: false, failed: '' };
  #desk: Desk;
  #asked = '';
  #asking = false;
  #next: BenchRecord | undefined;

  constructor(desk: Desk) {
    super();
    this.#desk = desk;
  }

  /** Looks at the sheet; asks only when the record differs from the one asked about last. */
  look(sheet: WorkSheet): void {
    const text = JSON.stringify(sheet.record);
    if (text === this.#asked) return;
    this.#asked = text;
    this.#next = sheet.record;
    if (!this.findings.working) this.#show({ ...this.findings, working: true, failed: '' });
    if (!this.#asking) void this.#ask();
  }

  /** Asks again about the same record, after a failure. */
  askAgain(sheet: WorkSheet): void {
    this.#asked = '';
    this.look(sheet);
  }

  async #ask(): Promise<void> {
    this.#asking = true;
    while (this.#next !== undefined) {
      const record = this.#next;
      this.#next = undefined;
      try {
        await this.#desk.shop.open();
        const [fit, identify] = await Promise.all([
          this.#desk.engine.fit(record, { all: true }), this.#desk.engine.identify(record),
        ]);
        this.#show({ fit, identify, working: this.#next !== undefined, failed: '' });
      } catch (error) {
        this.#show({ ...this.findings, working: this.#next !== undefined, failed: sayFault(error) });
      }
    }
    this.#asking = false;
  }

  #show(findings: Findings): void {
    this.findings = findings;
    this.dispatchEvent(new Event('change'));
  }
}
