// Compares planOrders with the plain search on many seeded problems, to the cent.
// npx node tests/differential/source/sweep.ts [count = 500] [seed = 1]
import { planOrders } from '../../../api/engine/index.ts';
import { openSolver } from '../../../api/services/index.ts';
import { compareOrders } from './compare-orders.ts';
import { generateNeed } from './need-generator.ts';

const count = Number(process.argv[2] ?? 500);
const seed = Number(process.argv[3] ?? 1);
const solve = await openSolver();
let agreed = 0;
let open = 0;
let slowest = 0;
for (let index = 0; index < count; index++) {
  const need = generateNeed(seed + index);
  const began = performance.now();
  const answer = planOrders(need, solve, { seconds: 20 });
  slowest = Math.max(slowest, performance.now() - began);
  if (answer.status === 'infeasible') open++;
  const differences = compareOrders(need, answer);
  if (differences.length === 0) agreed++;
  else console.log(`seed ${seed + index}: ${differences.join('; ')}`);
}
console.log(`${open} of ${count} cannot be met whole; slowest answer ${slowest.toFixed(0)} ms`);
console.log(`agree ${agreed} of ${count} to the minor unit, seed ${seed}`);
process.exitCode = agreed === count ? 0 : 1;
