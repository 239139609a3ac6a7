import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { builtScreens, MOST_BYTES, sayWeight, weighScreens } from './weigh-screens.ts';

test('a first screen brings at most 150 kB of script, compressed', () => {
  const weights = weighScreens(builtScreens());
  expect(weights.filter(({ bytes }) => bytes > MOST_BYTES), sayWeight(weights)).toEqual([]);
  // A page of almost nothing would be a list that was not read.
  expect(Math.min(...weights.map(({ bytes }) => bytes))).toBeGreaterThan(20_000);
});

test('each script counts once, however many need it, and screens that were not built are said to be missing', () => {
  const folder = mkdtempSync(join(tmpdir(), 'lugwright-weigh-'));
  expect(() => weighScreens(folder)).toThrow(/npm run build/);
  const names = ['index.html', 'screens/jobs/element.ts', 'screens/job/element.ts', 'screens/as-found/element.ts'];
  const chunks = Object.fromEntries(names.map((name, index) => [name, { file: `${index}.js`, imports: ['shared'] }]));
  writeFileSync(join(folder, 'scripts.json'), JSON.stringify({ ...chunks, shared: { file: 'shared.js' } }));
  for (const file of [...names.keys(), 'shared']) writeFileSync(join(folder, `${file}.js`), 'x');
  const [jobs, job] = weighScreens(folder);
  expect([jobs!.files, job!.files, job!.bytes / jobs!.bytes]).toEqual([3, 4, 4 / 3]);
  rmSync(folder, { recursive: true });
});
