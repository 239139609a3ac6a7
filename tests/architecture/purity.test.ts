import { globSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));

/** What an answer must not depend on, with the reason; the compiler lets all of it through. */
const IMPURE: readonly [RegExp, string][] = [
  [/\bMath\.random\b/, 'a random number makes two doors differ'],
  [/\bDate\.now\b|\bnew Date\(\s*\)|\bperformance\.now\b/, 'the clock is an argument'],
  [/\btoLocale\w*\(|\bIntl\./, 'the locale of the machine must not change an answer'],
  [/\blocaleCompare\(/, 'ties break by code unit, alike everywhere'],
  [/\bprocess\.|\bglobalThis\.|\bwindow\.|\bdocument\./, 'the engine runs in Node and in the browser'],
  [/\bfetch\(|\blocalStorage\b/, 'no input but the arguments'],
];

function sources(pattern: string): { file: string; code: string }[] {
  return globSync(pattern, { cwd: root })
    .filter((file) => !file.endsWith('.test.ts'))
    .map((file) => ({ file, code: readFileSync(join(root, file), 'utf8').replace(/\/\*[\s\S]*?\*\/|\/\/.*$/gm, '') }));
}

function findImpurities(files: readonly { file: string; code: string }[]): string[] {
  return files.flatMap(({ file, code }) => IMPURE.filter(([pattern]) => pattern.test(code)).map(([pattern, why]) => `${file}: ${pattern.source} (${why})`));
}

describe('the engine', () => {
  it('depends on its arguments alone', () => {
    const files = sources('api/engine/**/*.ts');
    expect(files.length).toBeGreaterThan(10);
    expect(findImpurities(files)).toEqual([]);
  });

  it('would be caught reading the clock', () => {
    expect(findImpurities([{ file: 'x.ts', code: 'const t = Date.now();' }])).toHaveLength(1);
  });
});

describe('the whole product', () => {
  const files = sources('{catalog-schema,api,ui,tests}/**/*.ts');

  it('has no drawer for what has no name', () => {
    expect(files.map(({ file }) => file).filter((file) => /(^|\/)(utils?|helpers?|common|misc)(\/|\.ts$)/.test(file))).toEqual([]);
  });

  it('has no test that is skipped or runs alone', () => {
    const tests = globSync('{catalog-schema,api,ui,tests}/**/*.{test,spec}.ts', { cwd: root });
    const marked = tests.filter((file) => !file.startsWith('tests/architecture/') && /\b(it|test|describe)\.(only|todo)\b/.test(readFileSync(join(root, file), 'utf8')));
    expect(marked).toEqual([]);
  });

  it('keeps every file short enough to be read in one go', () => {
    const long = files.filter(({ code }) => code.split('\n').length > 650).map(({ file }) => file);
    expect(long).toEqual([]);
  });
});
