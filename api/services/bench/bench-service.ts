import type {
  BenchRecord, FindAnswer, FitAnswer, IdentifyAnswer, Part, Prices, RewireAnswer,
} from '../../../catalog-schema/index.ts';
import type { CatalogueService } from '../catalogue/catalogue-service.ts';
import { refuseFault, type Outcome } from '../outcome.ts';
import type { EngineQueue } from './engine-queue.ts';

/** The engine's questions, asked of the stored catalogue. */
export interface BenchService {
  identify(record: BenchRecord): Promise<Outcome<IdentifyAnswer>>;
  fit(record: BenchRecord, options: { prices?: Prices; all?: boolean }): Promise<Outcome<FitAnswer>>;
  rewire(record: BenchRecord, part: Part | { readonly partId: string }): Promise<Outcome<RewireAnswer>>;
  find(text: string): Promise<Outcome<FindAnswer>>;
}

export function createBenchService(catalogue: CatalogueService, engine: EngineQueue): BenchService {
  return {
    identify: (record) => engine.run({ kind: 'identify', record }, catalogue.current().parts),
    fit: (record, options) => engine.run({ kind: 'fit', record, ...options }, catalogue.current().parts),
    find: (text) => engine.run({ kind: 'find', text }, catalogue.current().parts),
    rewire: async (record, wanted) => {
      const { parts, byId } = catalogue.current();
      const part = 'partId' in wanted ? byId.get(wanted.partId) : wanted;
      if (!part) return refuseFault('partId', JSON.stringify((wanted as { partId: string }).partId), 'the id of a part of the catalogue');
      return engine.run({ kind: 'rewire', record, part }, parts);
    },
  };
}
