// What a rewirer finds by the forms of parts against a search of each part by itself.
// npx node tests/differential/rewire/sweep-forms.ts [count = 2000] [seed = 1]
import { WiringMemory } from '../../../api/engine/rewire/index.ts';
import { compareForms } from './compare-forms.ts';

const count = Number(process.argv[2] ?? 2000);
const seed = Number(process.argv[3] ?? 1);
let agreed = 0;
let parts = 0;
let refused = 0;
let refusedByForm = 0;
let memory = new WiringMemory();
for (let index = 0; index < count; index++) {
  if (index % 50 === 0) memory = new WiringMemory();
  const found = compareForms(seed + index, index % 2 === 0 ? memory : undefined);
  if (found.differences.length === 0) agreed++;
  else console.log(`seed ${seed + index}:\n  ${found.differences.join('\n  ')}`);
  parts += found.parts;
  refused += found.refused;
  refusedByForm += found.refusedByForm;
}
console.log(`by form equals part by part in ${agreed} of ${count} catalogues, seed ${seed}: ${parts} parts, ${refused} refused, ${refusedByForm} of them by their form alone`);
process.exitCode = agreed === count ? 0 : 1;
