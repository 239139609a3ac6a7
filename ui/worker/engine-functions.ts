import { findAsLeftBasis, Finder, identify, openSnapshot, prove, rewire, SnapshotFitter, trace, writeSnapshot, type AsLeftBasis } from '../../api/engine/index.ts';
import type {
  BenchRecord, FaultShares, FindAnswer, FitAnswer, IdentifyAnswer, Part, Plan, Prices, ProveAnswer, ProveCase, Replacements, RewireAnswer, TraceAnswer,
} from '../../catalog-schema/index.ts';
import type { FitQuestion } from './engine-client.ts';

/** The catalogue and prices the worker holds; sent to it once, so that a question carries only the record. */
let fitter = createFitter([]);
let prices: Prices | undefined;
/** the index of what parts are found by; made when something is first looked for */
let finder: Finder | undefined;

/** What the page may ask of the worker. Plain functions: an argument or answer is whatever can be cloned. */
export const ENGINE_FUNCTIONS = {
  /** @throws in words where a snapshot is damaged or of another version */
  load(catalogue: ArrayBuffer | readonly Part[], priceList: Prices | undefined): number {
    fitter = createFitter(catalogue);
    finder = undefined;
    prices = priceList;
    fitter.prepare(prices);
    return fitter.snapshot.count;
  },
  /** Other prices for the same catalogue. */
  price(priceList: Prices | undefined): void {
    prices = priceList;
    fitter.prepare(prices);
  },
  parts(ids: readonly string[]): Part[] {
    const { snapshot } = fitter;
    return ids.flatMap((id) => {
      const row = snapshot.rowOf(id);
      return row === undefined ? [] : [snapshot.partAt(row)];
    });
  },
  fit(record: BenchRecord, question: FitQuestion): FitAnswer {
    return fitter.fit(record, { ...question, ...(prices === undefined ? {} : { prices }) });
  },
  rewire(record: BenchRecord, part: Part): RewireAnswer { return rewire(record, part); },
  asLeft(record: BenchRecord, partId: string, plan: Plan | null): AsLeftBasis | undefined {
    const row = fitter.snapshot.rowOf(partId);
    const own = row === undefined ? undefined : fitter.fit(record, { all: true, only: { partIds: [partId] } }).fits[0];
    return row === undefined || own === undefined ? undefined : findAsLeftBasis(record, fitter.snapshot.partAt(row), own, plan);
  },
  prove(crankCase: ProveCase, shares?: FaultShares): ProveAnswer { return prove(crankCase, shares && { shares }); },
  identify(record: BenchRecord): IdentifyAnswer { return identify(record); },
  trace(record: BenchRecord, tags?: readonly string[]): TraceAnswer { return trace(record, tags); },
  /** `shop` is what the shop found of parts. */
  find(text: string, shop?: Replacements): FindAnswer {
    finder ??= new Finder(fitter.snapshot);
    return finder.find(text, shop);
  },
} as const;

function createFitter(catalogue: ArrayBuffer | readonly Part[]): SnapshotFitter {
  const opened = openSnapshot(catalogue instanceof ArrayBuffer ? catalogue : writeSnapshot(catalogue));
  if (!opened.ok) throw new Error(opened.faults.map(({ found, want }) => `${found}, want ${want}`).join('; '));
  return new SnapshotFitter(opened.value);
}
