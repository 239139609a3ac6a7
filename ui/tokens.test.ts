import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const css = readFileSync(fileURLToPath(new URL('./tokens.css', import.meta.url)), 'utf8');

/** Every block of the style sheet that sets a ground, with the colours it sets. */
const grounds = css.split('}').filter((block) => /--paper: #/.test(block)).map((block) => ({
  selector: /([^{}]*)\{[^{}]*$/.exec(block)?.[1]?.trim().split('\n').at(-1)?.trim() ?? '',
  colours: Object.fromEntries([...block.matchAll(/--([\w-]+): (#[0-9a-f]{6})/g)].map((m) => [m[1]!, m[2]!])),
}));

/** Contrast of two colours by WCAG 2.2, "contrast ratio" and "relative luminance". */
function contrast(a: string, b: string): number {
  const luminance = (hex: string): number => {
    const [r, g, blue] = [1, 3, 5].map((i) => {
      const c = Number.parseInt(hex.slice(i, i + 2), 16) / 255;
      return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * r! + 0.7152 * g! + 0.0722 * blue!;
  };
  const [x, y] = [luminance(a), luminance(b)];
  return (Math.max(x, y) + 0.05) / (Math.min(x, y) + 0.05);
}

describe('the grounds', () => {
  it('are five: light, dark twice over (chosen and by the system), daylight and print', () => {
    expect(grounds).toHaveLength(5);
    expect(contrast('#ffffff', '#000000')).toBeCloseTo(21);
  });

  for (const { selector, colours } of grounds) {
    it(`keep text at 4.5 to 1 and lines at 3 to 1: ${selector}`, () => {
      for (const paper of ['paper', 'paper-2']) {
        for (const text of ['ink', 'ink-2', 'do', 'not']) expect(contrast(colours[text]!, colours[paper]!)).toBeGreaterThanOrEqual(4.5);
        for (const line of ['ghost', 'rule']) expect(contrast(colours[line]!, colours[paper]!)).toBeGreaterThanOrEqual(3);
      }
      for (const mark of ['do', 'not']) {
        for (const text of ['ink', mark]) expect(contrast(colours[text]!, colours[`${mark}-ground`]!)).toBeGreaterThanOrEqual(4.5);
      }
      if (colours['focus'] !== undefined) expect(contrast(colours['focus'], colours['paper']!)).toBeGreaterThanOrEqual(3);
    });
  }

  it('are the same blueprint whether chosen or asked for by the system', () => {
    const dark = grounds.filter((g) => g.colours['paper'] === '#0d2d52').map((g) => g.colours);
    expect(dark).toHaveLength(2);
    expect(dark[0]).toEqual(dark[1]);
  });
});
