import type {
  BenchRecord, Catalogue, FaultShares, FindAnswer, FitAnswer, FitHistory, IdentifyAnswer, Need, Part, ProveAnswer, ProveCase, Replacements, RewireAnswer, SourceAnswer, TraceAnswer,
} from '../../../catalog-schema/index.ts';
import type { CatalogueService } from '../catalogue/catalogue-service.ts';
import { done, refuseFault, type Outcome } from '../outcome.ts';
import type { EngineQueue } from './engine-queue.ts';
import type { CatalogueFile, FitWishes } from './engine-task.ts';

/** The engine's questions, asked of the stored catalogue. */
export interface BenchService {
  identify(record: BenchRecord): Promise<Outcome<IdentifyAnswer>>;
  /** `history` is the shop's own where none is given. */
  fit(record: BenchRecord, wishes: FitWishes): Promise<Outcome<FitAnswer>>;
  rewire(record: BenchRecord, part: Part | { readonly partId: string }): Promise<Outcome<RewireAnswer>>;
  find(text: string): Promise<Outcome<FindAnswer>>;
  /** Where wires lead by their readings; `tags` names some of the record's. */
  trace(record: BenchRecord, tags?: readonly string[]): Promise<Outcome<TraceAnswer>>;
  /** Which part of a cranking circuit failed; `shares` in place of the product's own: how often each fault is found. */
  prove(crankCase: ProveCase, shares?: FaultShares): Promise<Outcome<ProveAnswer>>;
  /** What comes from the shelf and what is ordered where, for all needs together, as the need itself has shelf and offers. */
  source(need: Need): Promise<Outcome<SourceAnswer>>;
  /** The catalogue as a file that a browser's worker or a command answers from; made once for each state of the catalogue. */
  snapshot(): Promise<Outcome<CatalogueFile>>;
}

const NO_PARTS: Catalogue = [];
/** A plan of orders may take so long with all that is said beside it, s. */
const ORDER_SECONDS = 15;

/** `planner`: a thread apart, since planning orders may take a minute */
export function createBenchService(catalogue: CatalogueService, engine: EngineQueue, planner: EngineQueue, readHistory: () => Promise<FitHistory>, readReplacements: () => Promise<Replacements>): BenchService {
  let made: { readonly parts: Catalogue; readonly file: CatalogueFile } | undefined;
  return {
    identify: (record) => engine.run({ kind: 'identify', record }, catalogue.current().parts),
    fit: async (record, wishes) => {
      const history = wishes.history ?? await readHistory();
      return engine.run({ kind: 'fit', record, wishes: { ...wishes, history } }, catalogue.current().parts);
    },
    find: async (text) => engine.run({ kind: 'find', text, shop: await readReplacements() }, catalogue.current().parts),
    trace: async (record, tags) => {
      const known = new Set((record.wires ?? []).map(({ tag }) => tag));
      const strange = tags?.findIndex((tag) => !known.has(tag)) ?? -1;
      if (strange >= 0) return refuseFault(`tags[${strange}]`, JSON.stringify(tags![strange]), 'the tag of a wire of this record');
      return engine.run({ kind: 'trace', record, ...(tags === undefined ? {} : { tags }) }, catalogue.current().parts);
    },
    prove: (crankCase, shares) => engine.run({ kind: 'prove', crankCase, ...(shares && { shares }) }, catalogue.current().parts),
    source: (need) => planner.run({ kind: 'source', need, seconds: ORDER_SECONDS }, NO_PARTS),
    snapshot: async () => {
      const { parts } = catalogue.current();
      if (made?.parts === parts) return done(made.file);
      const outcome = await engine.run({ kind: 'snapshot' }, parts);
      if (outcome.ok) made = { parts, file: outcome.value };
      return outcome;
    },
    rewire: async (record, wanted) => {
      const { parts, byId } = catalogue.current();
      const part = 'partId' in wanted ? byId.get(wanted.partId) : wanted;
      if (!part) return refuseFault('partId', JSON.stringify((wanted as { partId: string }).partId), 'the id of a part of the catalogue');
      return engine.run({ kind: 'rewire', record, part }, parts);
    },
  };
}
