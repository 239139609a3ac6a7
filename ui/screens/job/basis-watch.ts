import type { BenchRecord, Plan } from '../../../catalog-schema/index.ts';
import type { Desk, WorkSheet } from '../../client/index.ts';
import { sayFault } from '../../say-fault.ts';
import type { AsLeftBasis } from '../../worker/index.ts';

interface Asked { readonly record: BenchRecord; readonly partId: string; readonly plan: Plan | null }

/**
 * Asks the engine what the checklist of the chosen part stands on, whenever record or choice have changed. An answer to what is no longer
 * asked is never shown: nobody signs by it. Tells of each by an event named 'change'.
 */
export class BasisWatch extends EventTarget {
  /** undefined while nothing is chosen, it is being worked out, or the catalogue has no such part */
  basis: AsLeftBasis | undefined;
  /** why there is none; '' where there is, or may come */
  failed = '';
  #desk: Desk;
  #key = '';
  #next: Asked | undefined;
  #asking = false;

  constructor(desk: Desk) {
    super();
    this.#desk = desk;
  }

  /** Looks at the sheet; asks only when it differs from what was asked about last. */
  look({ record, document: { chosen } }: WorkSheet): void {
    const asked = chosen && { record, partId: chosen.partId, plan: chosen.plan };
    // Another catalogue may have other parts, or the same with other terminals.
    const key = asked === undefined ? '' : JSON.stringify([asked, this.#desk.shop.parts.size]);
    if (key === this.#key) return;
    this.#key = key;
    this.basis = undefined;
    this.failed = '';
    this.#next = asked;
    if (asked !== undefined && !this.#asking) void this.#ask();
  }

  async #ask(): Promise<void> {
    this.#asking = true;
    while (this.#next !== undefined) {
      const { record, partId, plan } = this.#next;
      const key = this.#key;
      this.#next = undefined;
      try {
        await this.#desk.shop.open();
        const basis = await this.#desk.engine.asLeft(record, partId, plan);
        if (key === this.#key) this.basis = basis;
      } catch (error) {
        if (key === this.#key) this.failed = sayFault(error);
      }
      this.dispatchEvent(new Event('change'));
    }
    this.#asking = false;
  }
}
