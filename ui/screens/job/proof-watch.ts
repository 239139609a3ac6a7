import { proveCaseOf, type ProveAnswer } from '../../../catalog-schema/index.ts';
import type { Desk, WorkSheet } from '../../client/index.ts';
import { sayFault } from '../../say-fault.ts';
import type { Proof } from '../work-view.ts';

export const NO_PROOF: Proof = { answer: undefined, keys: [], current: false, failed: '' };

/**
 * Asks the engine what a job's evidence proves, whenever what was seen has changed. One question is on its way at a time; of several states only
 * the newest is asked about. Tells of each answer by an event named 'change'.
 */
export class ProofWatch extends EventTarget {
  proof = NO_PROOF;
  #desk: Desk;
  #key = '';
  #next: ReturnType<typeof proveCaseOf> | undefined;
  #asking = false;

  constructor(desk: Desk) {
    super();
    this.#desk = desk;
  }

  /** Looks at the sheet. `always`: also where nothing was seen yet, for the first test to do. */
  look(sheet: WorkSheet, always: boolean): void {
    const asked = proveCaseOf(sheet);
    const { instruments } = this.#desk.settings.values;
    if (instruments !== undefined) asked.crankCase = { instruments: [...instruments], ...asked.crankCase };
    const idle = asked.keys.length === 0 && !always;
    const key = idle ? '' : JSON.stringify(asked);
    if (key === this.#key) return;
    this.#key = key;
    this.#next = idle ? undefined : asked;
    // What stood there stays on the screen until the new answer has come, but no longer counts.
    this.proof = idle ? NO_PROOF : { ...this.proof, current: false, failed: '' };
    if (!idle && !this.#asking) void this.#ask();
  }

  async #ask(): Promise<void> {
    this.#asking = true;
    while (this.#next !== undefined) {
      const { crankCase, keys } = this.#next;
      const key = this.#key;
      this.#next = undefined;
      try {
        const answer: ProveAnswer = await this.#desk.engine.prove(crankCase);
        if (key === this.#key) this.proof = { answer, keys, current: true, failed: '' };
      } catch (error) {
        if (key === this.#key) this.proof = { ...this.proof, current: false, failed: sayFault(error) };
      }
      this.dispatchEvent(new Event('change'));
    }
    this.#asking = false;
  }
}
