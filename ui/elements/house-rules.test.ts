import { globSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

const ui = join(import.meta.dirname, '..');
const files = globSync('{elements,screens}/**/*.ts', { cwd: ui }).filter((file) => !file.endsWith('.test.ts'))
  .map((file) => ({ file: file.replaceAll('\\', '/'), code: readFileSync(join(ui, file), 'utf8') }));
const MOST_LINES = 250;

describe('elements and screens', () => {
  it('carry the name of their folder as their tag', () => {
    const defined = files.flatMap(({ file, code }) => [...code.matchAll(/customElements\.define\('([a-z-]+)'/g)].map((match) => ({ file, tag: match[1]! })));
    expect(defined.length).toBeGreaterThan(15);
    const misnamed = defined.filter(({ file, tag }) => {
      const [kind, folder] = file.split('/');
      return tag !== (kind === 'screens' ? `${folder}-screen` : folder);
    });
    expect(misnamed).toEqual([]);
  });

  it('never speak to the server or the worker themselves', () => {
    expect(files.filter(({ code }) => /(?<!\.)\bfetch\(|(?:window|globalThis|self)\.fetch\(|new Worker\(|XMLHttpRequest|EventSource/.test(code)).map(({ file }) => file)).toEqual([]);
  });

  it('are short enough to be read in one go', () => {
    expect(files.filter(({ code }) => code.split('\n').length > MOST_LINES).map(({ file }) => file)).toEqual([]);
  });

  it('take no decorators, which the build would leave in for the browser to stop at', () => {
    expect(files.filter(({ code }) => /^\s*@(customElement|property|state|query)\b/m.test(code)).map(({ file }) => file)).toEqual([]);
  });
});
