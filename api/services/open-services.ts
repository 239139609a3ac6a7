import { openStore } from '../store/index.ts';
import { createAsLeftService, type AsLeftService } from './as-left/as-left-service.ts';
import { createGatherFacts, createSignOffCheck } from './as-left/sign-off-check.ts';
import { createBenchService, type BenchService } from './bench/bench-service.ts';
import { EngineQueue } from './bench/engine-queue.ts';
import { createCatalogueService, type CatalogueService } from './catalogue/catalogue-service.ts';
import { systemClock, type Clock } from './clock.ts';
import { loadDemo } from './demo/load-demo.ts';
import { createDocumentService, type DocumentService } from './documents/index.ts';
import { createEvidenceService, type EvidenceService } from './evidence/evidence-service.ts';
import { createFaultSharesService, type FaultSharesService } from './fault-shares/fault-shares-service.ts';
import { createJobFileService, type JobFileService } from './job-files/job-file-service.ts';
import { createJobService, type JobChecks, type JobService } from './jobs/job-service.ts';
import { createOrderService, type OrderService } from './orders/index.ts';
import { createOutcomeService, type OutcomeService } from './outcomes/outcome-service.ts';
import { createPeopleService, type PeopleService } from './people/people-service.ts';
import { createPhotographService, type PhotographService } from './photographs/photograph-service.ts';
import { createUploadService, type UploadService } from './photographs/upload-service.ts';
import { createPlanningService, type PlanningService } from './planning/planning-service.ts';
import { createPriceService, type PriceService } from './prices/price-service.ts';
import { createRecordService, type RecordService } from './record/record-service.ts';
import { createReorderService, type ReorderService } from './reorder/reorder-service.ts';
import { createShelfService, type ShelfService } from './shelf/index.ts';
import { createSupplierService, type SupplierService } from './suppliers/index.ts';

export interface Services {
  readonly asLeft: AsLeftService;
  readonly bench: BenchService;
  readonly catalogue: CatalogueService;
  readonly documents: DocumentService;
  readonly evidence: EvidenceService;
  readonly faultShares: FaultSharesService;
  readonly jobFiles: JobFileService;
  readonly jobs: JobService;
  readonly orders: OrderService;
  readonly outcomes: OutcomeService;
  readonly people: PeopleService;
  readonly photographs: PhotographService;
  readonly planning: PlanningService;
  readonly prices: PriceService;
  readonly record: RecordService;
  readonly uploads: UploadService;
  readonly shelf: ShelfService;
  readonly reorder: ReorderService;
  readonly suppliers: SupplierService;
  close(): Promise<void>;
}

export interface ServicesOptions {
  /** the database file, made where it is missing */
  readonly file: string;
  /** a folder laid out as demo-catalog/, loaded into a database that holds nothing yet */
  readonly demoFolder?: string;
  readonly clock?: Clock;
  /** instead of the engine's own check of a sign-off */
  readonly checks?: JobChecks;
  /** told, one line each, what was left out of the demo folder */
  readonly report?: (line: string) => void;
}

/** Opens the store and everything that stands on it. */
export async function openServices(options: ServicesOptions): Promise<Services> {
  const { file, demoFolder, clock = systemClock, checks, report = () => undefined } = options;
  const store = await openStore(file);
  const engine = new EngineQueue();
  const planner = new EngineQueue({ waiting: 4, taskMs: 60_000 });
  const catalogue = await createCatalogueService(store);
  const gather = createGatherFacts(catalogue, engine);
  const jobs = createJobService(store, checks ?? { findSignOffBlocks: createSignOffCheck(gather) });
  if (demoFolder !== undefined) await loadDemo(demoFolder, { store, catalogue, jobs, clock, report });
  const outcomes = createOutcomeService(store, catalogue);
  const bench = createBenchService(catalogue, engine, planner, outcomes.history, outcomes.replacements);
  const faultShares = createFaultSharesService(store, jobs, bench, clock);
  const evidence = createEvidenceService(jobs, catalogue, bench, faultShares.current);
  const photographs = createPhotographService(store, clock);
  const orders = createOrderService(store, catalogue, clock, evidence);
  const shelf = createShelfService(store, catalogue, clock);
  const prices = createPriceService(store, clock);
  const reorder = createReorderService(store, catalogue, prices, clock);
  const jobFiles = createJobFileService({ store, catalogue, jobs, outcomes, orders, shelf, photographs, clock });
  return {
    bench, catalogue, evidence, faultShares, jobs, jobFiles, orders, outcomes, photographs, shelf,
    asLeft: createAsLeftService(jobs, gather, clock, jobFiles.readCarried),
    people: createPeopleService(store, clock),
    planning: createPlanningService({ store, jobs, prices, shelf, bench, evidence, reorder }),
    prices, reorder,
    record: createRecordService(jobs, gather, evidence, jobFiles.readCarried),
    documents: createDocumentService(store, catalogue, orders, clock),
    suppliers: createSupplierService(store, catalogue),
    uploads: createUploadService(store, photographs, clock),
    close: async () => {
      await Promise.all([engine.close(), planner.close()]);
      await store.close();
    },
  };
}
