// Reorder points by a stated service level against the service they give: slow movers whose demand and lead times are simulated; what the
// engine is told is a history of demand and of receipts.
// npx node tests/sim-reorder/main.ts [seeds = 50] [first seed = 1] [parts = 500]
import type { ReorderAsk } from '../../catalog-schema/index.ts';
import { planReorder } from '../../api/engine/index.ts';
import { Draws } from '../sim-identify/random.ts';
import { drawDemand, drawLead, drawParts } from './draw-shop.ts';
import { keepShelf } from './keep-shelf.ts';

const LEVELS = [0.9, 0.95, 0.99] as const;
const REVIEW_DAYS = 7;
const MOST_BELOW = 0.01;
const DAY_MS = 86_400_000;
const START = Date.parse('2024-01-01');
const dayOf = (day: number): string => new Date(START + day * DAY_MS).toISOString().slice(0, 10);
const noSolver = (): never => { throw new Error('nothing is topped up here'); };

const seeds = Number(process.argv[2] ?? 50);
const first = Number(process.argv[3] ?? 1);
const count = Number(process.argv[4] ?? 500);
const totals = LEVELS.map((level) => ({ level, wanted: 0, served: 0, worst: 1, worstSeed: 0, tooMany: 0, tooFew: 0, kept: 0 }));
for (let seed = first; seed < first + seeds; seed++) {
  const draws = new Draws(seed);
  const parts = drawParts(draws, count);
  const years = 1 + seed % 3;
  const today = years * 365;
  const asked: ReorderAsk['parts'] = parts.map((part) => ({
    partId: part.id, onHand: 0, unitCost: Math.round(part.unitCost * 100) / 100, leadDays: part.leadStated,
    receipts: Array.from({ length: Math.floor(draws.between(0, 9)) }, () => drawLead(draws, part)),
    demand: Array.from({ length: today }, (_, day) => ({ day: dayOf(day), qty: drawDemand(draws, part, day) })).filter(({ qty }) => qty > 0),
  }));
  for (const total of totals) {
    const ask: ReorderAsk = { currency: 'EUR', since: dayOf(0), today: dayOf(today), serviceLevel: total.level, reviewDays: REVIEW_DAYS, parts: asked };
    const { rows } = planReorder(ask, noSolver);
    let [wanted, served] = [0, 0];
    rows.forEach((row, index) => {
      if (row.serviceOneLess >= total.level) total.tooMany++;
      if (row.service < total.level) total.tooFew++;
      const kept = keepShelf(draws, parts[index]!, row, REVIEW_DAYS, today);
      wanted += kept.wanted;
      served += kept.served;
      total.kept += kept.meanKept;
    });
    total.wanted += wanted;
    total.served += served;
    if (served / wanted < total.worst) [total.worst, total.worstSeed] = [served / wanted, seed];
  }
}
let held = true;
for (const { level, wanted, served, worst, worstSeed, tooMany, tooFew, kept } of totals) {
  const pooled = served / wanted;
  const good = pooled >= level - MOST_BELOW && tooMany === 0 && tooFew === 0;
  held &&= good;
  console.log(`stated ${level}: ${pooled.toFixed(4)} of ${wanted} wanted units served at once, ${(100 * (pooled - level)).toFixed(1)} points beside it; worst of the ${seeds} shops ${worst.toFixed(4)} (seed ${worstSeed}); `
    + `${(kept / seeds / count).toFixed(2)} units kept a part; one unit less still enough on ${tooMany} parts, too few on ${tooFew}`);
}
console.log(`${count} parts x ${seeds} seeds from ${first}, pooled never more than ${100 * MOST_BELOW} point below: ${held ? 'held' : 'not held'}`);
process.exitCode = held ? 0 : 1;
