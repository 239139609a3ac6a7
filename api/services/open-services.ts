import { openStore } from '../store/index.ts';
import { createBenchService, type BenchService } from './bench/bench-service.ts';
import { EngineQueue } from './bench/engine-queue.ts';
import { createCatalogueService, type CatalogueService } from './catalogue/catalogue-service.ts';
import { systemClock, type Clock } from './clock.ts';
import { loadDemo } from './demo/load-demo.ts';

export interface Services {
  readonly catalogue: CatalogueService;
  readonly bench: BenchService;
  close(): Promise<void>;
}

export interface ServicesOptions {
  /** the database file, made where it is missing */
  readonly file: string;
  /** a folder laid out as demo-catalog/, loaded into a database that is still empty */
  readonly demoFolder?: string;
  readonly clock?: Clock;
  /** told, one line each, what was left out of the demo folder */
  readonly report?: (line: string) => void;
}

/** Opens the store and everything that stands on it. */
export async function openServices(options: ServicesOptions): Promise<Services> {
  const { file, demoFolder, clock = systemClock, report = () => undefined } = options;
  const store = await openStore(file);
  const engine = new EngineQueue();
  const catalogue = await createCatalogueService(store);
  if (demoFolder !== undefined) await loadDemo(demoFolder, { store, catalogue, clock, report });
  return {
    catalogue,
    bench: createBenchService(catalogue, engine),
    close: async () => {
      await engine.close();
      await store.close();
    },
  };
}
