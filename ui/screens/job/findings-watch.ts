import { machineKindOf, type BenchRecord, type FitAnswer, type FitHistory } from '../../../catalog-schema/index.ts';
import type { Desk, WorkSheet } from '../../client/index.ts';
import { sayFault } from '../../say-fault.ts';
import type { FitQuestion } from '../../worker/index.ts';
import type { Findings } from '../work-view.ts';

/** A catalogue of up to so many parts is listed whole, the refused ones too; of a larger one the first fits are asked for. */
export const LISTED_WHOLE = 2_000;
/** Fits asked for at a time. */
export const LISTED_AT_ONCE = 60;

export const NO_FINDINGS: Findings = { fit: undefined, listed: 0, question: {}, identify: undefined, working: false, failed: '' };

/** What the answers hang on. */
interface Asked {
  readonly record: BenchRecord;
  readonly machine: string | undefined;
  readonly chosen: string | undefined;
}

/**
 * Asks the engine about a sheet whenever what its answers hang on has changed: the record, the kind of machine, what the shop has learned.
 * Tells of each new answer by an event named 'change'. One question is on its way at a time: what changes meanwhile waits, and of several
 * states only the newest is asked about.
 */
export class FindingsWatch extends EventTarget {
  findings = NO_FINDINGS;
  #desk: Desk;
  #asked = '';
  #askedHistory: FitHistory | undefined;
  #asking = false;
  #opening = false;
  #next: Asked | undefined;

  constructor(desk: Desk) {
    super();
    this.#desk = desk;
  }

  /** Looks at the sheet; asks only when it differs from what was asked about last. */
  look(sheet: WorkSheet): void {
    const { record, document } = sheet;
    const next: Asked = { record, machine: document.machine, chosen: document.chosen?.partId };
    const { history } = this.#desk.shop;
    // What the shop brings when it opens is part of the question that waits for it.
    if (this.#keyOf(next) === this.#asked && (this.#opening || history === this.#askedHistory)) return;
    this.#note(next);
    this.#next = next;
    if (!this.findings.working) this.#show({ ...this.findings, working: true, failed: '' });
    if (!this.#asking) void this.#ask();
  }

  /** Asks again about the same sheet, after a failure. */
  askAgain(sheet: WorkSheet): void {
    this.#asked = '';
    this.look(sheet);
  }

  async #ask(): Promise<void> {
    this.#asking = true;
    while (this.#next !== undefined) {
      const next = this.#next;
      this.#next = undefined;
      try {
        this.#opening = true;
        await this.#desk.shop.open().finally(() => { this.#opening = false; });
        // What the shop knows may have come only now; it is part of this question.
        if (this.#next === undefined) this.#note(next);
        const question = this.#questionOf(next);
        const [fit, identify] = await Promise.all([this.#askFit(next, question), this.#desk.engine.identify(next.record)]);
        // Drawn with their titles at once, not with ids first.
        await this.#desk.shop.parts.fetch(fit.fit.fits.map(({ partId }) => partId));
        this.#show({ ...fit, question, identify, working: this.#next !== undefined, failed: '' });
      } catch (error) {
        this.#show({ ...this.findings, working: this.#next !== undefined, failed: sayFault(error) });
      }
    }
    this.#asking = false;
  }

  /** The fits of the list, and behind them the chosen part where the list does not reach it. */
  async #askFit({ record, chosen }: Asked, question: FitQuestion): Promise<{ fit: FitAnswer; listed: number }> {
    const { engine } = this.#desk;
    const fit = await engine.fit(record, this.#isLarge ? { ...question, most: LISTED_AT_ONCE } : { ...question, all: true });
    const listed = fit.fits.length;
    if (!this.#isLarge || chosen === undefined || fit.fits.some(({ partId }) => partId === chosen)) return { fit, listed };
    const own = await engine.fit(record, { ...question, all: true, only: { partIds: [chosen] } });
    return { fit: { ...fit, fits: [...fit.fits, ...own.fits] }, listed };
  }

  #questionOf({ machine }: Asked): FitQuestion {
    const machineKind = machineKindOf(machine);
    return { history: this.#desk.shop.history, ...(machineKind === undefined ? {} : { machineKind }) };
  }

  get #isLarge(): boolean { return this.#desk.shop.parts.size > LISTED_WHOLE; }

  #keyOf({ record, machine, chosen }: Asked): string {
    return JSON.stringify([record, machineKindOf(machine), this.#isLarge ? chosen : undefined]);
  }

  #note(asked: Asked): void {
    this.#asked = this.#keyOf(asked);
    this.#askedHistory = this.#desk.shop.history;
  }

  #show(findings: Findings): void {
    this.findings = findings;
    this.dispatchEvent(new Event('change'));
  }
}
