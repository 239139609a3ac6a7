// Asks one rewirer about catalogues of near twins and compares with a fresh rewirer for each part.
// npx node tests/differential/rewire/sweep-memory.ts [count = 2000] [seed = 1]
import { compareMemory } from './compare-memory.ts';

const count = Number(process.argv[2] ?? 2000);
const seed = Number(process.argv[3] ?? 1);
let agreed = 0;
let parts = 0;
let circuits = 0;
for (let index = 0; index < count; index++) {
  const found = compareMemory(seed + index);
  if (found.differences.length === 0) agreed++;
  else console.log(`seed ${seed + index}:\n  ${found.differences.join('\n  ')}`);
  parts += found.parts;
  circuits += found.circuits;
}
console.log(`memory equals none in ${agreed} of ${count} catalogues, seed ${seed}: ${parts} parts, ${circuits} distinct circuits`);
process.exitCode = agreed === count ? 0 : 1;
