import { proveCaseOf, type FaultSharesAnswer, type ProveAnswer } from '../../../catalog-schema/index.ts';
import type { Desk, WorkSheet } from '../../client/index.ts';
import { sayFault } from '../../say-fault.ts';
import type { Proof } from '../work-view.ts';

export const NO_PROOF: Proof = { answer: undefined, keys: [], current: false, failed: '', shares: undefined };
/** So long the first answer waits for the shop's own shares, ms; where they come later it is worked out anew. */
const SHARES_WITHIN_MS = 1_000;

/**
 * Asks the engine what a job's evidence proves, whenever what was seen, or how often the shop finds each fault, has changed. One question is
 * on its way at a time; of several states only the newest is asked about. Tells of each answer by an event named 'change'.
 */
export class ProofWatch extends EventTarget {
  proof = NO_PROOF;
  #desk: Desk;
  #key = '';
  #asked: ReturnType<typeof proveCaseOf> | undefined;
  #next: ReturnType<typeof proveCaseOf> | undefined;
  #asking = false;
  #shares: Promise<void> | undefined;

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
    this.#askAbout(idle ? undefined : asked);
  }

  /** Goes by other shares from now on. */
  takeShares(shares: FaultSharesAnswer): void {
    const before = sharesToAsk(this.proof.shares);
    this.proof = { ...this.proof, shares };
    if (JSON.stringify(sharesToAsk(shares)) !== JSON.stringify(before)) this.#askAbout(this.#asked);
    this.dispatchEvent(new Event('change'));
  }

  #askAbout(asked: ReturnType<typeof proveCaseOf> | undefined): void {
    this.#asked = asked;
    this.#next = asked;
    // What stood there stays on the screen until the new answer has come, but no longer counts.
    this.proof = { ...(asked === undefined ? NO_PROOF : this.proof), current: false, failed: '', shares: this.proof.shares };
    if (asked !== undefined && !this.#asking) void this.#ask();
  }

  async #ask(): Promise<void> {
    this.#asking = true;
    this.#shares ??= this.#desk.service.readFaultShares().then((shares) => { this.takeShares(shares); }, () => {});
    await Promise.race([this.#shares, new Promise((resolve) => { setTimeout(resolve, SHARES_WITHIN_MS); })]);
    while (this.#next !== undefined) {
      const asked = this.#next;
      this.#next = undefined;
      try {
        const answer: ProveAnswer = await this.#desk.engine.prove(asked.crankCase, sharesToAsk(this.proof.shares));
        if (this.#isNewest(asked)) this.proof = { ...this.proof, answer, keys: asked.keys, current: true, failed: '' };
      } catch (error) {
        if (this.#isNewest(asked)) this.proof = { ...this.proof, current: false, failed: sayFault(error) };
      }
      this.dispatchEvent(new Event('change'));
    }
    this.#asking = false;
  }

  #isNewest(asked: ReturnType<typeof proveCaseOf>): boolean { return asked === this.#asked && this.#next === undefined; }
}

/** Nothing where the shop has set and learned nothing: every door then weighs by the product's own table. */
function sharesToAsk(shares: FaultSharesAnswer | undefined): FaultSharesAnswer['shares'] | undefined {
  return shares !== undefined && (Object.keys(shares.own).length > 0 || shares.used.some(({ n }) => n > 0)) ? shares.shares : undefined;
}
