// A simulated year of a shop: twice a week the machines that came in are ordered for. What our plans cost, landed and waiting, against two
// plain habits. Costs are counted by an accountant of the simulation's own; the engine is asked for plans only.
// npx node tests/sim-year/main.ts [seeds = 20] [first seed = 1]
import type { Need } from '../../catalog-schema/index.ts';
import { planOrders } from '../../api/engine/index.ts';
import { openSolver } from '../../api/services/index.ts';
import { countCost } from './count-cost.ts';
import { drawYear } from './draw-year.ts';
import { orderByHabit, takeCheapest, takeFavourite } from './habits.ts';

const seeds = Number(process.argv[2] ?? 20);
const first = Number(process.argv[3] ?? 1);
const solve = await openSolver();
const against = { cheapest: [] as number[], favourite: [] as number[] };
let [unproven, differ, worse] = [0, 0, 0];
for (let seed = first; seed < first + seeds; seed++) {
  const year = drawYear(seed);
  const costs = { plan: 0, cheapest: 0, favourite: 0, waiting: 0 };
  // The favourite is the supplier that offers most.
  const favourite = year.suppliers.map(({ id }) => ({ id, count: year.offers.filter(({ supplierId }) => supplierId === id).length })).toSorted((a, b) => b.count - a.count)[0]!.id;
  for (const { today, needs, shelf } of year.weeks) {
    const need: Need = { currency: 'EUR', today, needs, shelf, suppliers: [...year.suppliers], offers: [...year.offers] };
    const began = performance.now();
    const answer = planOrders(need, solve, { seconds: 10, elapsed: () => (performance.now() - began) / 1000, alone: true });
    if (answer.status !== 'optimal') unproven++;
    const cost = countCost(need, answer);
    if (cost.landed + cost.waiting !== Math.round(answer.total * 100)) differ++;
    const habits = [countCost(need, orderByHabit(need, takeCheapest)), countCost(need, orderByHabit(need, takeFavourite(favourite)))] as const;
    if (habits.some((habit) => habit.landed + habit.waiting < cost.landed + cost.waiting)) worse++;
    costs.plan += cost.landed + cost.waiting;
    costs.waiting += cost.waiting;
    costs.cheapest += habits[0].landed + habits[0].waiting;
    costs.favourite += habits[1].landed + habits[1].waiting;
  }
  const saving = (habit: number): number => 100 * (habit - costs.plan) / habit;
  against.cheapest.push(saving(costs.cheapest));
  against.favourite.push(saving(costs.favourite));
  console.log(`seed ${seed}: plan ${(costs.plan / 100).toFixed(2)} (waiting ${(costs.waiting / 100).toFixed(2)}), cheapest offer each ${(costs.cheapest / 100).toFixed(2)} (saving ${saving(costs.cheapest).toFixed(1)} %), one supplier ${(costs.favourite / 100).toFixed(2)} (saving ${saving(costs.favourite).toFixed(1)} %)`);
}
const spread = (values: readonly number[]): string => {
  const sorted = values.toSorted((a, b) => a - b);
  const mean = sorted.reduce((sum, each) => sum + each, 0) / sorted.length;
  const sd = Math.sqrt(sorted.reduce((sum, each) => sum + (each - mean) ** 2, 0) / Math.max(1, sorted.length - 1));
  return `${mean.toFixed(1)} % (sd ${sd.toFixed(1)}, from ${sorted[0]!.toFixed(1)} to ${sorted.at(-1)!.toFixed(1)})`;
};
const held = differ === 0 && worse === 0;
console.log(`plans counted otherwise by the accountant: ${differ}; dearer than a habit: ${worse}; not proven least: ${unproven}`);
console.log(`saving of landed and waiting cost against the cheapest offer each ${spread(against.cheapest)}, against one favourite supplier ${spread(against.favourite)}; ${seeds} years from seed ${first}: ${held ? 'held' : 'not held'}`);
process.exitCode = held ? 0 : 1;
