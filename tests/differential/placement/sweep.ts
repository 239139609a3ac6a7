// Compares the engine's placement with a fine grid search on many seeded hole patterns and prints how far they agree.
// npx node tests/differential/placement/sweep.ts [count = 2000] [seed = 1]
import { comparePlacement } from './compare-placement.ts';
import { generatePattern } from './pattern-generator.ts';

const count = Number(process.argv[2] ?? 2000);
const first = Number(process.argv[3] ?? 1);
const verdicts = new Map<string, number>();
let clear = 0;
let drawn = 0;
let agreed = 0;
// Patterns whose margins are not clear are drawn again: `count` clear ones are compared.
for (let seed = first; clear < count; seed++) {
  drawn++;
  const pattern = generatePattern(seed);
  const { differences, verdict } = comparePlacement(pattern);
  if (verdict === 'not clear' && differences.length === 0) continue;
  clear++;
  verdicts.set(verdict, (verdicts.get(verdict) ?? 0) + 1);
  if (differences.length === 0) agreed++;
  else console.log(`seed ${seed} (${pattern.kind}, ${pattern.machine.holes.length} bolts): ${differences.join('; ')}`);
}
for (const [verdict, number] of verdicts) console.log(`${String(number).padStart(5)}  ${verdict}`);
console.log(`agree ${agreed} of ${clear} patterns with clear margins (${drawn} drawn), seed ${first}`);
process.exitCode = agreed === clear ? 0 : 1;
