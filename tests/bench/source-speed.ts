// How long the least order of a shop's size takes to be proven, with its explanation and the plans beside it: 50 needs, 8 suppliers, 400 offers, 20 seeds, against its bounds.
// npx node tests/bench/source-speed.ts [seeds = 20] [first seed = 7001]
import type { Need, Offer, Supplier } from '../../catalog-schema/index.ts';
import { planOrders } from '../../api/engine/index.ts';
import { openSolver } from '../../api/services/index.ts';
import { Draws } from '../sim-identify/random.ts';

const BOUND = { medianS: 10, worstS: 20 };
const TODAY = '2026-11-25';

/** A shop's week: parts of three price ranges, each offered by four suppliers of eight on average, each need served by one to four parts. */
function drawNeed(seed: number): Need {
  const draws = new Draws(seed);
  const whole = (low: number, high: number): number => low + Math.floor(draws.unit() * (high - low + 1));
  const cents = (low: number, high: number): number => Math.round(draws.logBetween(low, high) * 100) / 100;
  const suppliers = Array.from({ length: 8 }, (_, index): Supplier => ({
    id: `s${index + 1}`, freight: cents(5, 25),
    ...(draws.chance(0.8) ? { freeFreightFrom: whole(80, 400) } : {}), ...(draws.chance(0.4) ? { minOrder: whole(20, 80) } : {}),
  }));
  const parts = Array.from({ length: 100 }, (_, index) => ({ id: `p${index + 1}`, price: cents(4, 150) }));
  const offers: Offer[] = [];
  const pairs = parts.flatMap((part) => suppliers.map((supplier) => ({ part, supplier, order: draws.unit() }))).toSorted((a, b) => a.order - b.order).slice(0, 400);
  for (const { part, supplier } of pairs) {
    const price = Math.round(part.price * draws.between(0.85, 1.25) * 100) / 100;
    offers.push({
      supplierId: supplier.id, partId: part.id, price, leadDays: whole(1, 9),
      ...(draws.chance(0.35) ? { breaks: [{ minQty: 5, price: Math.round(price * 92) / 100 }, { minQty: 10, price: Math.round(price * 85) / 100 }] } : {}),
      ...(draws.chance(0.15) ? { pack: whole(2, 5) } : {}), ...(draws.chance(0.25) ? { inStock: whole(1, 12) } : {}),
    });
  }
  return {
    currency: 'EUR', today: TODAY, suppliers, offers,
    shelf: parts.filter(() => draws.chance(0.2)).map(({ id, price }) => ({ partId: id, onHand: whole(1, 4), unitCost: price })),
    needs: Array.from({ length: 50 }, (_, index) => {
      const first = whole(0, 99);
      const options = [...new Set([first, ...Array.from({ length: whole(0, 3) }, () => whole(0, 99))])];
      return {
        id: `n${index + 1}`, qty: draws.chance(0.75) ? 1 : whole(2, 6), by: draws.chance(0.5) ? TODAY : '2026-11-30',
        ...(draws.chance(0.7) ? { waitCostPerDay: whole(1, 15) } : {}),
        anyOf: options.map((at) => ({ partId: parts[at]!.id, ...(draws.chance(0.5) ? { extraCost: cents(0.5, 12) } : {}) })),
      };
    }),
  };
}

const seeds = Number(process.argv[2] ?? 20);
const first = Number(process.argv[3] ?? 7001);
const solve = await openSolver();
const times: number[] = [];
let proven = 0;
for (let seed = first; seed < first + seeds; seed++) {
  const need = drawNeed(seed);
  const began = performance.now();
  const answer = planOrders(need, solve, { seconds: BOUND.worstS * 0.8, elapsed: () => (performance.now() - began) / 1000 });
  const seconds = (performance.now() - began) / 1000;
  times.push(seconds);
  if (answer.bound === answer.total) proven++;
  console.log(`seed ${seed}: ${answer.status}, total ${answer.total}, bound ${answer.bound}, ${answer.orders.length} orders, ${answer.choices?.length} choices explained, others ${answer.others?.map((other) => (other.plan === null ? 'none' : `+${other.more}${other.proven ? '' : '?'}`)).join(' ')}, ${seconds.toFixed(2)} s`);
}
const sorted = times.toSorted((a, b) => a - b);
const median = sorted[Math.floor(sorted.length / 2)]!;
const held = median <= BOUND.medianS && sorted.at(-1)! <= BOUND.worstS;
console.log(`proven ${proven} of ${seeds}, median ${median.toFixed(2)} s (bound ${BOUND.medianS}), worst ${sorted.at(-1)!.toFixed(2)} s (bound ${BOUND.worstS}), seeds from ${first}: ${held ? 'held' : 'not held'}`);
process.exitCode = held ? 0 : 1;
