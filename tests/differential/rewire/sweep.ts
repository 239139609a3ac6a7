// Compares the engine's rewire with the plain search on many seeded cases and prints how far they agree.
// npx node tests/differential/rewire/sweep.ts [count = 2000] [seed = 1]
import { rewire } from '../../../api/engine/rewire/index.ts';
import { generateCase } from './case-generator.ts';
import { compareAnswers } from './compare-answers.ts';
import { Mix } from './mix.ts';
import { rewirePlainly } from './plain-rewire.ts';

const count = Number(process.argv[2] ?? 2000);
const seed = Number(process.argv[3] ?? 1);
const mix = new Mix();
let agreed = 0;
for (let index = 0; index < count; index++) {
  const { record, part, form } = generateCase(seed + index);
  const plain = rewirePlainly(record, part);
  mix.add(plain);
  const differences = compareAnswers(rewire(record, part), plain);
  if (differences.length === 0) agreed++;
  else console.log(`seed ${seed + index} (${form}):\n  ${differences.join('\n  ')}`);
}
for (const line of mix.describe()) console.log(line);
console.log(`agree ${agreed} of ${count}, seed ${seed}`);
process.exitCode = agreed === count ? 0 : 1;
