import type { DemandLaw } from './demand-law.ts';

/** When the position (on hand and on order, less what is owed) is at `reorderAt` or below, batches are ordered until it is above. */
export interface StockPolicy { readonly reorderAt: number; readonly batch: number }

/**
 * Least level whose chance of meeting demand is at least the critical ratio, without / (without + holding), and what it costs a period: the
 * newsvendor.
 * @param holding cost of a unit left over
 * @param without cost of a unit that was wanted and not there
 */
export function findNewsvendor(law: DemandLaw, holding: number, without: number): { readonly level: number; readonly cost: number } {
  const ratio = without / (without + holding);
  const level = findLevel(law, ratio);
  return { level, cost: costOfLevel(law, level, holding, without) };
}

/** Least level that demand stays at or below with this probability; a whole number where demand is whole, never below nought then. */
export function findLevel(law: DemandLaw, probability: number): number {
  if (law.whole) {
    let level = 0;
    while (law.atMost(level) < probability) level++;
    return level;
  }
  let [low, high] = [law.mean - 1, law.mean + 1];
  while (law.atMost(low) > probability) low -= 2 * (law.mean - low);
  while (law.atMost(high) < probability) high += 2 * (high - law.mean);
  for (let step = 0; step < 200 && high - low > 1e-12 * Math.abs(high); step++) {
    const middle = (low + high) / 2;
    if (law.atMost(middle) < probability) low = middle;
    else high = middle;
  }
  return high;
}

/** Expected cost of units left over and units missing, with so many there. */
function costOfLevel(law: DemandLaw, level: number, holding: number, without: number): number {
  const missing = law.beyond(level);
  return holding * (level - law.mean + missing) + without * missing;
}

/** Demand over the lead time of an order, and over that and the days to the next review: until the order after it can come. */
export interface ReviewedDemand { readonly lead: DemandLaw; readonly untilNext: DemandLaw }

/**
 * Share of wanted units that the shelf has when they are wanted. Between two arrivals what is owed grows from what lead-time demand leaves to
 * what the demand until the next arrival leaves; the position after each review is spread evenly over the batch above the reorder point
 * (Hadley and Whitin, Analysis of Inventory Systems, 1963, on (R, nQ) policies; from memory). 1 where nothing is wanted.
 */
export function serviceOf({ lead, untilNext }: ReviewedDemand, { reorderAt, batch }: StockPolicy): number {
  const wanted = untilNext.mean - lead.mean;
  if (wanted <= 0) return 1;
  let owed = 0;
  // At or below nought everything that is wanted is owed.
  for (let position = reorderAt + 1; position <= reorderAt + batch; position++) owed += position <= 0 ? wanted : untilNext.beyond(position) - lead.beyond(position);
  return Math.min(1, Math.max(0, 1 - owed / batch / wanted));
}

/** The least reorder point with that service. Of a part that nobody wants nothing is kept: then it is -batch. */
export function findServicePolicy(demand: ReviewedDemand, service: number, batch: number): StockPolicy {
  let reorderAt = -batch;
  while (serviceOf(demand, { reorderAt, batch }) < service) reorderAt++;
  return { reorderAt, batch };
}

/** Yearly costs of a part and what its policy weighs them by. */
export interface StockCosts {
  /** of a unit kept for a year */
  readonly holding: number;
  /** of a unit that is owed for a year */
  readonly without: number;
  /** of each order line */
  readonly order: number;
  /** units a year */
  readonly perYear: number;
}

/** What a policy costs a year: order lines, units kept, units owed; exact where units are demanded one by one. */
export function costOfPolicy(law: DemandLaw, { reorderAt, batch }: StockPolicy, { holding, without, order, perYear }: StockCosts): number {
  let sum = order * perYear;
  for (let position = reorderAt + 1; position <= reorderAt + batch; position++) sum += costOfLevel(law, position, holding, without);
  return sum / batch;
}

/**
 * The reorder point and batch of least yearly cost. The batch grows by the cheaper neighbour of its positions as long as that lowers the mean
 * (Operations Research 40(4), 808-813, 1992; from memory).
 * @param law demand over the lead time, in whole units
 */
export function findCostPolicy(law: DemandLaw, costs: StockCosts): StockPolicy {
  const costAt = (position: number): number => costOfLevel(law, position, costs.holding, costs.without);
  const best = findNewsvendor(law, costs.holding, costs.without).level;
  let [low, high, sum] = [best, best, costs.order * costs.perYear + costAt(best)];
  for (;;) {
    const [below, above] = [costAt(low - 1), costAt(high + 1)];
    if (Math.min(below, above) >= sum / (high - low + 1)) return { reorderAt: low - 1, batch: high - low + 1 };
    sum += Math.min(below, above);
    if (below <= above) low--;
    else high++;
  }
}

/**
 * Economic order quantity and its cost a year, order lines and holding; with units owed at a cost, the one with planned back-orders.
 * ("How Many Parts to Make at Once", Factory, The Magazine of Management 10(2), 1913, from memory.)
 */
export function findEconomicBatch({ holding, order, perYear, without }: Omit<StockCosts, 'without'> & { readonly without?: number }): { readonly batch: number; readonly cost: number } {
  const owed = without === undefined ? 1 : (holding + without) / without;
  return { batch: Math.sqrt(2 * order * perYear / holding * owed), cost: Math.sqrt(2 * order * perYear * holding / owed) };
}

/** The economic batch in whole units, one at least: the least batch that the next larger one does not better. */
export function findWholeBatch({ holding, order, perYear }: Omit<StockCosts, 'without'>): number {
  const { batch } = findEconomicBatch({ holding, order, perYear });
  return Math.max(1, Math.ceil((Math.sqrt(1 + 4 * batch ** 2) - 1) / 2));
}
