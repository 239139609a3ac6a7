import { find, fit, identify, rewire } from '../../api/engine/index.ts';
import type {
  BenchRecord, FindAnswer, FitAnswer, IdentifyAnswer, Part, Prices, RewireAnswer,
} from '../../catalog-schema/index.ts';
import type { FitQuestion } from './engine-client.ts';

/** The catalogue and prices the worker holds; sent to it once, so that a question carries only the record. */
let parts: readonly Part[] = [];
let prices: Prices | undefined;

/** What the page may ask of the worker. Plain functions: an argument or answer is whatever can be cloned. */
export const ENGINE_FUNCTIONS = {
  load(catalogue: readonly Part[], priceList: Prices | undefined): number {
    parts = catalogue;
    prices = priceList;
    return parts.length;
  },
  fit(record: BenchRecord, question: FitQuestion): FitAnswer {
    return fit(record, parts, { ...question, ...(prices === undefined ? {} : { prices }) });
  },
  rewire(record: BenchRecord, part: Part): RewireAnswer { return rewire(record, part); },
  identify(record: BenchRecord): IdentifyAnswer { return identify(record); },
  find(text: string): FindAnswer { return find(text, parts); },
} as const;
