import { describe, expect, it } from 'vitest';
import { textWidth } from './label-placing.ts';
import { STATES } from './sandbox-parts.ts';
import { layStateSheet, sayState, type InterlocksAct, type StateSheet } from './state-sheet.ts';

const [, rest, open, cranking, running] = STATES as unknown as [never, ...(typeof STATES)[number][]];
const lay = (state: (typeof STATES)[number], interlocks: InterlocksAct = 'both', hasFeed = false, widthPx = 320): StateSheet => layStateSheet({ state, interlocks, hasFeed, widthPx });
const litOn = (sheet: StateSheet, y: number): boolean[] => sheet.lines.filter((line) => line.y === y).map(({ lit }) => lit);
const controlY = (sheet: StateSheet): number => sheet.pieces.find(({ symbol }) => symbol === 'switch')!.y;

describe('a lit circuit', () => {
  it('shows START, interlocks where they act, relay and starter, and no interlock where there is none', () => {
    const symbols = (interlocks: InterlocksAct): string[] => lay(rest!, interlocks).pieces.map(({ symbol }) => symbol);
    expect(symbols('both')).toEqual(['switch', 'interlock', 'coil', 'interlock', 'contact', 'motor']);
    expect(symbols('in-feed')).toEqual(['switch', 'interlock', 'coil', 'contact', 'motor']);
    expect(symbols('in-return')).toEqual(['switch', 'coil', 'interlock', 'contact', 'motor']);
    expect(symbols('none')).toEqual(['switch', 'coil', 'contact', 'motor']);
  });

  it('is lit as far as battery volts reach: up to START at rest, up to the open interlock while it is held, all through when it cranks', () => {
    expect(litOn(lay(rest!, 'both'), controlY(lay(rest!, 'both')))).toEqual([true, false, false, false, false]);
    expect(litOn(lay(open!, 'in-feed'), controlY(lay(open!, 'in-feed')))).toEqual([true, true, false, false]);
    // With the return open the coil's far end stands at battery volts, and no current flows.
    expect(litOn(lay(open!, 'in-return'), controlY(lay(open!, 'in-return')))).toEqual([true, true, true, false]);
    const cranks = lay(cranking!, 'both');
    expect(litOn(cranks, controlY(cranks))).toEqual([true, true, true, true, true]);
    expect(cranks.lines.filter(({ y }) => y !== controlY(cranks)).map(({ lit, flow }) => [lit, flow])).toEqual([[true, 1], [true, 1], [true, 1]]);
  });

  it('shows current only where it flows', () => {
    for (const state of [rest!, open!]) expect(lay(state).lines.every(({ flow }) => flow === 0)).toBe(true);
    expect(lay(cranking!).lines.every(({ flow }) => flow === 1)).toBe(true);
  });

  it('says by word and by form what it says by colour', () => {
    const stands = (state: (typeof STATES)[number]): string[] => lay(state, 'in-feed').pieces.map((piece) => `${piece.name} ${piece.stands} ${piece.closed ? 'shut' : 'gap'}`);
    expect(stands(rest!)).toEqual(['START let go gap', 'interlocks made shut', 'relay out shut', 'contact open gap', 'starter still shut']);
    expect(stands(cranking!)).toEqual(['START held shut', 'interlocks made shut', 'relay in, 3 A shut', 'contact closed shut', 'starter turns shut']);
    expect(sayState(cranking!, 'in-feed', false)).toBe('START held, interlocks made, relay in, 3 A, starter turns');
    expect(sayState(cranking!, 'none', false)).not.toContain('interlocks');
  });

  it('with the engine running shows the cranking feed live from the engine, against an open contact', () => {
    const sheet = lay(running!, 'in-return', true);
    const feed = sheet.pieces.find(({ symbol }) => symbol === 'feed')!;
    expect(feed).toMatchObject({ lit: true, stands: 'live from the engine' });
    expect(sheet.lines.filter(({ y }) => y === feed.y).map(({ flow }) => flow)).toEqual([0, -1]);
    expect(sheet.pieces.filter(({ symbol }) => symbol === 'contact').every(({ closed }) => !closed)).toBe(true);
    expect(sheet.spoken).toContain('engine runs');
  });

  it.each([272, 320, 358, 420])('keeps its words within the sheet and apart, %d px wide', (widthPx) => {
    for (const interlocks of ['both', 'in-feed', 'in-return', 'none'] as const) for (const state of STATES) {
      const { labels, height } = lay(state, interlocks, true, widthPx);
      const halfOf = ({ name, stands }: (typeof labels)[number]): number => Math.max(textWidth(name, 14), textWidth(stands, 14, true)) / 2;
      for (const label of labels) {
        expect(label.x - halfOf(label), `${label.name} of ${interlocks}`).toBeGreaterThanOrEqual(-1);
        expect(label.x + halfOf(label), `${label.name} of ${interlocks}`).toBeLessThanOrEqual(widthPx + 1);
        expect(label.y + 20).toBeLessThanOrEqual(height);
        for (const other of labels) {
          if (other === label || other.y !== label.y || other.x < label.x) continue;
          expect(other.x - label.x, `${label.name} beside ${other.name} at ${widthPx}`).toBeGreaterThanOrEqual(halfOf(label) + halfOf(other));
        }
      }
    }
  });
});
