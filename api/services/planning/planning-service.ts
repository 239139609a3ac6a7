import { createHash, randomUUID } from 'node:crypto';
import type {
  AcceptedPlan, FitAnswer, JobState, Need, NewOrder, OrderPlanAnswer, PlanAcceptance, PlanWant, Prices, ReorderAnswer, ShopPlan, SourceAnswer,
} from '../../../catalog-schema/index.ts';
import type { Store, Tx } from '../../store/index.ts';
import type { BenchService } from '../bench/bench-service.ts';
import type { EvidenceService } from '../evidence/evidence-service.ts';
import type { JobService } from '../jobs/job-service.ts';
import { draftOrdersIn, listOpenServes } from '../orders/index.ts';
import { done, refuse, type Outcome, type Refusal } from '../outcome.ts';
import type { PriceService } from '../prices/price-service.ts';
import type { ReorderService } from '../reorder/reorder-service.ts';
import { reserveIn } from '../shelf/index.ts';
import type { ShelfService } from '../shelf/shelf-service.ts';
import { gatherWants } from './gather-wants.ts';

export interface PlanningService {
  /** What to get for all open jobs together, and for the shelf where that is asked for. */
  current(withShelf: boolean): Promise<Outcome<ShopPlan>>;
  /** Drafts the orders and puts the units aside as the plan has them; refused where anything it stood on has changed since. */
  accept(acceptance: PlanAcceptance, by?: string): Promise<Outcome<AcceptedPlan>>;
}

export interface PlanningParts {
  readonly store: Store;
  readonly jobs: Pick<JobService, 'list'>;
  readonly prices: PriceService;
  readonly shelf: Pick<ShelfService, 'reservations'>;
  readonly bench: Pick<BenchService, 'fit' | 'source'>;
  readonly evidence: EvidenceService;
  readonly reorder: ReorderService;
}

/** Plans that are kept: what a person looks at is accepted from here. */
const KEPT = 12;
const SHELF_NEED = 'shelf:';

/** The plan where nothing is wanted: no thread is asked for it. */
const NOTHING: SourceAnswer = { status: 'optimal', total: 0, bound: 0, fills: [], orders: [], unmet: [], cautions: [], assumptions: [] };

interface Asked { readonly need: Need; readonly wants: readonly PlanWant[]; readonly hash: string }

export function createPlanningService({ store, jobs, prices, shelf: shelfService, bench, evidence, reorder }: PlanningParts): PlanningService {
  const answers = new Map<string, SourceAnswer>();
  const fits = new Map<string, FitAnswer>();

  const fitJob = async (job: JobState, current: Prices): Promise<FitAnswer | undefined> => {
    const key = hashOf([job.record, job.document.machine, { ...current, now: undefined }]);
    const known = fits.get(key);
    if (known) return known;
    const outcome = await bench.fit(job.record, { prices: current });
    if (!outcome.ok) return undefined;
    keep(fits, key, outcome.value);
    return outcome.value;
  };

  const ask = async (withShelf: boolean): Promise<Asked> => {
    const [current, list, reservations, serves] = await Promise.all([prices.current(), jobs.list(), shelfService.reservations(), listOpenServes(store.db)]);
    const wanting = await gatherWants(list, { today: current.today, prices: current, reservations, serves, fitsOf: (job) => fitJob(job, current) });
    const wants = wanting.map(({ want }) => want);
    const needs = wanting.map(({ need }) => need);
    if (withShelf) {
      for (const { partId, order } of (await reorder.current()).rows.filter((row) => row.order > 0)) {
        const id = `${SHELF_NEED}${partId}`;
        wants.push({ id, title: '', partId, others: 0, qty: order, by: current.today });
        needs.push({ id, qty: order, by: current.today, restock: true, anyOf: [{ partId }] });
      }
    }
    const { currency, today, shelf, suppliers, offers } = current;
    const parts = new Set(needs.flatMap(({ anyOf }) => anyOf.map(({ partId }) => partId)));
    const passed = lastCutOff(current);
    const need: Need = {
      currency, today, ...(passed === undefined ? {} : { now: passed }), needs, suppliers, shelf: shelf.filter(({ partId }) => parts.has(partId)), offers: offers.filter(({ partId }) => parts.has(partId)),
    };
    return { need, wants, hash: hashOf(need) };
  };

  const solve = async ({ need, hash }: Asked): Promise<Outcome<SourceAnswer>> => {
    const known = need.needs.length === 0 ? NOTHING : answers.get(hash);
    if (known) return done(known);
    const outcome = await bench.source(need);
    if (outcome.ok) keep(answers, hash, outcome.value);
    return outcome;
  };

  const findTopUps = async (answer: SourceAnswer): Promise<ReorderAnswer['topUps']> => {
    const drafts = answer.orders.filter(({ freight }) => freight > 0).map(({ supplierId, goods }) => ({ supplierId, goods }));
    return drafts.length === 0 ? [] : (await reorder.current(drafts)).topUps;
  };

  return {
    current: async (withShelf) => {
      const asked = await ask(withShelf);
      const solved = await solve(asked);
      if (!solved.ok) return solved;
      const wants = await Promise.all(asked.wants.map(async (want) => (want.jobId === undefined ? want : { ...want, evidence: await evidence.ofJob(want.jobId, want.partId) })));
      return done({ hash: asked.hash, currency: asked.need.currency, today: asked.need.today, wants, answer: solved.value, topUps: await findTopUps(solved.value) });
    },
    accept: async (acceptance, by) => {
      const asked = await ask(acceptance.shelf === true);
      if (asked.hash !== acceptance.hash) return refuse({ kind: 'conflict', why: 'jobs, shelf or offers have changed since this plan was worked out: look at the plan anew' });
      const solved = await solve(asked);
      if (!solved.ok) return solved;
      const plan = acceptance.which === 'least' ? solved.value : solved.value.others?.find(({ which }) => which === acceptance.which)?.plan;
      if (!plan) return refuse({ kind: 'conflict', why: 'there is no such plan beside the least one' });
      const wished = new Set(acceptance.which === 'least' ? acceptance.topUps : []);
      const topUps = wished.size === 0 ? [] : (await findTopUps(solved.value)).filter(({ supplierId }) => wished.has(supplierId));
      try {
        return done(await store.transact((tx) => bookPlan(tx, plan, topUps, acceptance, asked.need.today, by)));
      } catch (error) {
        if (error instanceof Refused) return refuse(error.refusal);
        throw error;
      }
    },
  };
}

/** Thrown within the transaction, so that what was booked before the refusal is taken back. */
class Refused extends Error {
  readonly refusal: Refusal;
  constructor(refusal: Refusal) {
    super(refusal.kind);
    this.refusal = refusal;
  }
}

function take<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Refused(outcome.refusal);
  return outcome.value;
}

/** All of a plan in one transaction. @throws `Refused` */
async function bookPlan(tx: Tx, plan: OrderPlanAnswer, topUps: ReorderAnswer['topUps'], { id, at }: PlanAcceptance, today: string, by: string | undefined): Promise<AcceptedPlan> {
  const putAside: AcceptedPlan['putAside'] = [];
  for (const fill of plan.fills.filter(({ from }) => from === 'shelf')) {
    const { reservation } = take(await reserveIn(tx, { id: randomUUID(), partId: fill.partId, qty: fill.qty, jobId: fill.needId, at }, by));
    putAside.push({ jobId: fill.needId, partId: fill.partId, qty: fill.qty, bin: reservation.bin });
  }
  const drafts = plan.orders.map((order, index): NewOrder => {
    const lines = new Map(order.lines.map(({ partId, qty }) => [partId, qty]));
    for (const { partId, qty } of topUps.find(({ supplierId }) => supplierId === order.supplierId)?.add ?? []) lines.set(partId, (lines.get(partId) ?? 0) + qty);
    return {
      id: index === 0 ? id : randomUUID(), supplierId: order.supplierId, at, ...(by === undefined ? {} : { by }),
      lines: [...lines].map(([partId, qty]) => {
        const jobs = plan.fills.filter((fill) => fill.from === order.supplierId && fill.partId === partId && !fill.needId.startsWith(SHELF_NEED))
          .map((fill) => ({ jobId: fill.needId, qty: fill.qty, needId: fill.needId }));
        // What no job waits for is the shelf's.
        const rest = qty - jobs.reduce((sum, serve) => sum + serve.qty, 0);
        return { lineId: randomUUID(), partId, qty, serves: rest > 0 ? [...jobs, { qty: rest }] : jobs };
      }),
    };
  });
  take(await draftOrdersIn(tx, drafts, today));
  return { putAside, orders: drafts.map(({ id: orderId, supplierId, lines }) => ({ id: orderId, supplierId, lines: lines.length })) };
}

/** The latest cut-off that has passed today: between two of them the time of day changes nothing. */
function lastCutOff({ now, suppliers }: Prices): string | undefined {
  if (now === undefined) return undefined;
  return suppliers.flatMap(({ calendar }) => (calendar?.cutOff !== undefined && calendar.cutOff <= now ? [calendar.cutOff] : [])).toSorted().at(-1);
}

function hashOf(value: unknown): string {
  return createHash('sha256').update(JSON.stringify(value)).digest('base64url');
}

function keep<T>(kept: Map<string, T>, key: string, value: T): void {
  kept.set(key, value);
  if (kept.size > KEPT) kept.delete(kept.keys().next().value!);
}
