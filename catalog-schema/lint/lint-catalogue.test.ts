import { readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { LINT_RULES, lintCatalogue, printLintFault } from './lint-catalogue.ts';
import { plantPart, soundData } from './sound-example.ts';

describe('the lint of a catalogue', () => {
  it('finds nothing in sound data, with and without a shop', () => {
    expect(lintCatalogue(soundData.parts, soundData.shop)).toEqual([]);
    expect(lintCatalogue(soundData.parts)).toEqual([]);
    expect(lintCatalogue([])).toEqual([]);
  });

  it('names the rule that each fault breaks, on one line', () => {
    expect(lintCatalogue(plantPart({ sealing: 'IPXX', title: '' }).parts).map(printLintFault)).toEqual([
      'bad: no title (has-title)', 'bad: IPXX says nothing (sealing-sane)',
    ]);
  });

  it('has each rule in a file of its name with a test beside it', () => {
    const files = readdirSync(new URL('.', import.meta.url));
    for (const { name, description } of LINT_RULES) {
      expect(files).toContain(`${name}.ts`);
      expect(files).toContain(`${name}.test.ts`);
      expect(description).toMatch(/^[A-Z].*\.$/);
    }
    expect(LINT_RULES).toHaveLength(16);
  });
});
