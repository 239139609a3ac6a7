import type { Fit } from '../../../catalog-schema/index.ts';
import { sayFault } from '../../say-fault.ts';
import type { Findings, WorkView } from '../work-view.ts';

/**
 * Fits of certain parts: from the list where it reaches them, else asked for by name. Tells of an answer by an event named 'change'.
 */
export class NamedFits extends EventTarget {
  /** why they could not be asked for; '' where they were */
  failed = '';
  #asked: { question: Findings['question']; key: string } | undefined;
  #answered: ReadonlyMap<string, Fit> = new Map();
  #waiting = false;

  /** Sees to it that the fits of these parts are there, or on their way. */
  look({ desk, findings, sheet }: WorkView, partIds: readonly string[]): void {
    const { fit, question, working } = findings;
    if (fit === undefined || working) return;
    const missing = partIds.filter((id) => !fit.fits.some(({ partId }) => partId === id) && desk.shop.parts.has(id));
    const key = JSON.stringify(missing);
    if (missing.length === 0 || (this.#asked?.question === question && this.#asked.key === key)) return;
    const asked = { question, key };
    this.#asked = asked;
    this.#waiting = true;
    desk.engine.fit(sheet.record, { ...question, all: true, only: { partIds: missing } }).then(
      (answer) => this.#take(asked, answer.fits, ''), (error: unknown) => this.#take(asked, [], sayFault(error)));
  }

  /** The fit of a part; 'waiting' while it is on its way, undefined where there is none. */
  find({ findings: { fit } }: WorkView, partId: string): Fit | 'waiting' | undefined {
    return fit?.fits.find((entry) => entry.partId === partId) ?? this.#answered.get(partId) ?? (this.#waiting || fit === undefined ? 'waiting' : undefined);
  }

  #take(asked: object, fits: readonly Fit[], failed: string): void {
    if (this.#asked !== asked) return;
    this.#answered = new Map(fits.map((fit) => [fit.partId, fit]));
    this.#waiting = false;
    this.failed = failed;
    this.dispatchEvent(new Event('change'));
  }
}
