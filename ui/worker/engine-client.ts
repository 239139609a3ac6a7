import type {
  BenchRecord, FaultShares, FindAnswer, FitAnswer, FitFilter, FitHistory, IdentifyAnswer, Part, Plan, Prices, ProveAnswer, ProveCase, Replacements, RewireAnswer, TraceAnswer,
} from '../../catalog-schema/index.ts';
import type { AsLeftBasis } from '../../api/engine/index.ts';
import { createAsker } from './ask-worker.ts';
import type { EngineQuestion } from './engine-protocol.ts';

/** What may be said beside the record in a question to `fit`; the prices are the worker's. */
export interface FitQuestion {
  readonly all?: boolean;
  readonly most?: number;
  readonly only?: FitFilter;
  readonly history?: FitHistory;
  readonly machineKind?: string;
}

/** The engine off the page's thread; the same functions as at the other doors, answered later. */
export interface EngineClient {
  /** Gives the worker its catalogue, as a snapshot's bytes or as parts, and prices; the other questions wait for it. */
  load(catalogue: ArrayBuffer | readonly Part[], prices: Prices | undefined): Promise<number>;
  /** Gives it other prices for the same catalogue. */
  price(prices: Prices | undefined): Promise<void>;
  /** Parts of the catalogue; ids that are not in it are passed over. */
  parts(ids: readonly string[]): Promise<Part[]>;
  fit(record: BenchRecord, question?: FitQuestion): Promise<FitAnswer>;
  rewire(record: BenchRecord, part: Part): Promise<RewireAnswer>;
  /** What the checklist of a chosen part stands on; undefined where the catalogue has none of this id. `plan` is the chosen one. */
  asLeft(record: BenchRecord, partId: string, plan: Plan | null): Promise<AsLeftBasis | undefined>;
  /** Which part of a cranking circuit failed, by what was seen, and the test that tells most next. */
  prove(crankCase: ProveCase, shares?: FaultShares): Promise<ProveAnswer>;
  identify(record: BenchRecord): Promise<IdentifyAnswer>;
  trace(record: BenchRecord, tags?: readonly string[]): Promise<TraceAnswer>;
  /** `shop` is what the shop found of parts. */
  find(text: string, shop?: Replacements): Promise<FindAnswer>;
}

/** Starts the worker at the first question; one that has failed is started anew at the next, with its catalogue. */
export function createEngineClient(): EngineClient {
  let loaded: readonly unknown[] | undefined;
  const ask = createAsker(() => {
    const started = new Worker(new URL('./engine-worker.ts', import.meta.url), { type: 'module', name: 'engine' });
    // Nobody waits for this one: the questions that follow it do.
    if (loaded !== undefined) started.postMessage({ id: 0, name: 'load', args: loaded } satisfies EngineQuestion);
    return started;
  });

  return {
    load: async (catalogue, prices) => {
      const count = await ask<number>('load', catalogue, prices);
      loaded = [catalogue, prices];
      return count;
    },
    price: async (prices) => {
      await ask<undefined>('price', prices);
      if (loaded) loaded = [loaded[0], prices];
    },
    parts: (ids) => ask('parts', ids),
    fit: (record, question = {}) => ask('fit', record, question),
    rewire: (record, part) => ask('rewire', record, part),
    asLeft: (record, partId, plan) => ask('asLeft', record, partId, plan),
    prove: (crankCase, shares) => ask('prove', crankCase, shares),
    identify: (record) => ask('identify', record),
    trace: (record, tags) => ask('trace', record, tags),
    find: (text, shop) => ask('find', text, shop),
  };
}
