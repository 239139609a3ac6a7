import type { BenchRecord, Fit } from '../../../catalog-schema/index.ts';
import { sayFault } from '../../say-fault.ts';
import type { EngineClient, FitQuestion } from '../../worker/index.ts';
import { LISTED_AT_ONCE } from '../job/findings-watch.ts';
import { questionOfFilter, type ListFilter } from './fit-filter.ts';

/** One question: the record, what the question carries beside it, the filter, and how many at most. */
interface Asked { readonly record: BenchRecord; readonly question: FitQuestion; readonly filter: ListFilter; readonly most: number }

/** The list of a large catalogue as far as it has been asked for. */
export interface ListState { readonly rows: readonly Fit[]; readonly complete: boolean; readonly working: boolean; readonly failed: string }

/**
 * Asks the engine for the first fits under a filter, and for more of them. Tells of each answer by an event named 'change'. Of several
 * questions only the newest answers.
 */
export class LongerList extends EventTarget {
  state: ListState = { rows: [], complete: false, working: false, failed: '' };
  #engine: EngineClient;
  #asked: Asked | undefined;

  constructor(engine: EngineClient) {
    super();
    this.#engine = engine;
  }

  /** Shows the list under a filter; asks only where question or filter are others than those asked last. A new record brings a new question. */
  look(record: BenchRecord, question: FitQuestion, filter: ListFilter): void {
    const asked = this.#asked;
    if (asked?.question === question && asked.filter === filter) return;
    const kept = asked?.filter === filter;
    void this.#ask({ record, question, filter, most: kept ? asked.most : LISTED_AT_ONCE }, kept ? this.state.rows : []);
  }

  more(): void {
    if (this.#asked !== undefined) void this.#ask({ ...this.#asked, most: this.#asked.most + LISTED_AT_ONCE }, this.state.rows);
  }

  async #ask(asked: Asked, meanwhile: readonly Fit[]): Promise<void> {
    this.#asked = asked;
    this.#show({ rows: meanwhile, complete: false, working: true, failed: '' });
    try {
      const { fits } = await this.#engine.fit(asked.record, { ...asked.question, ...questionOfFilter(asked.filter), most: asked.most });
      if (this.#asked === asked) this.#show({ rows: fits, complete: fits.length < asked.most, working: false, failed: '' });
    } catch (error) {
      if (this.#asked === asked) this.#show({ rows: meanwhile, complete: false, working: false, failed: sayFault(error) });
    }
  }

  #show(state: ListState): void {
    this.state = state;
    this.dispatchEvent(new Event('change'));
  }
}
