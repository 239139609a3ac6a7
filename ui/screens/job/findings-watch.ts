import type { BenchRecord } from '../../../catalog-schema/index.ts';
import type { Desk, WorkSheet } from '../../client/index.ts';
import { sayFault } from '../../say-fault.ts';
import type { Findings } from '../work-view.ts';

/**
 * Asks the engine about a sheet's record whenever it has changed. Tells of each new answer by an event named 'change'.
 * An answer to a record that has changed meanwhile is dropped.
 */
export class FindingsWatch extends EventTarget {
  findings: Findings = { fit: undefined, identify: undefined, working: false, failed: '' };
  #desk: Desk;
  #asked = '';
  #turn = 0;

  constructor(desk: Desk) {
    super();
    this.#desk = desk;
  }

  /** Looks at the sheet; asks only when the record differs from the one asked about last. */
  look(sheet: WorkSheet): void {
    const text = JSON.stringify(sheet.record);
    if (text === this.#asked) return;
    this.#asked = text;
    void this.#ask(sheet.record);
  }

  /** Asks again about the same record, after a failure. */
  askAgain(sheet: WorkSheet): void {
    this.#asked = '';
    this.look(sheet);
  }

  async #ask(record: BenchRecord): Promise<void> {
    this.#turn += 1;
    const turn = this.#turn;
    this.#show({ ...this.findings, working: true, failed: '' });
    try {
      await this.#desk.shop.open();
      const [fit, identify] = await Promise.all([
        this.#desk.engine.fit(record, { all: true }), this.#desk.engine.identify(record),
      ]);
      if (turn === this.#turn) this.#show({ fit, identify, working: false, failed: '' });
    } catch (error) {
      if (turn !== this.#turn) return;
      this.#show({ ...this.findings, working: false, failed: sayFault(error) });
    }
  }

  #show(findings: Findings): void {
    this.findings = findings;
    this.dispatchEvent(new Event('change'));
  }
}
