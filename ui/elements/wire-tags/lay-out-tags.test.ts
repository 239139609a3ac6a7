import { describe, expect, it } from 'vitest';
import { boxOfMark, PAPERS } from '../../../catalog-schema/gauge-sheet/index.ts';
import { words } from '../../words.ts';
import { layOutTags, moduleOf, type TagPage } from './lay-out-tags.ts';

const tags = (count: number) => Array.from({ length: count }, (_, k) => ({ tag: `W${k + 1}`, colour: 'YE/GN', place: 'on c: start switch', job: 'Quay sweeper, dead relay, came in on Tuesday' }));
const lay = (count: number, kind: 'qr' | 'code128', paper: 'a4' | 'letter'): TagPage[] => layOutTags({ tags: tags(count), kind, paper, title: words.wires.tagsTitle('Quay sweeper: turns over one day, dead the next, and came in on Tuesday'), how: words.wires.tagsHow, bar: words.wires.tagsBar });

describe('a sheet of wire tags', () => {
  it.each(['a4', 'letter'] as const)('takes the 32 wires of the largest record on one page of %s', (paper) => {
    // The contract's limit: 32 wires.
    expect(lay(32, 'qr', paper)).toHaveLength(1);
    expect(lay(32, 'code128', paper).length).toBeLessThanOrEqual(3);
  });

  it.each([['qr', 'a4'], ['qr', 'letter'], ['code128', 'a4'], ['code128', 'letter']] as const)('of %s on %s stays on its paper, and no tag lies on another', (kind, paper) => {
    for (const page of lay(32, kind, paper)) {
      expect([page.widthMm, page.heightMm]).toEqual([PAPERS[paper].widthMm, PAPERS[paper].heightMm]);
      for (const mark of page.marks) {
        const { left, right, top, bottom } = boxOfMark(mark);
        expect(Math.min(left, top), JSON.stringify(mark)).toBeGreaterThanOrEqual(5);
        expect(right, JSON.stringify(mark)).toBeLessThanOrEqual(page.widthMm - 5);
        expect(bottom, JSON.stringify(mark)).toBeLessThanOrEqual(page.heightMm - 5);
      }
      const { places } = page;
      for (const [i, a] of places.entries()) {
        for (const b of places.slice(i + 1)) {
          const apart = Math.abs(a.xMm - b.xMm) >= a.code.xMm + a.code.widthMm - a.xMm - 1e-6 || Math.abs(a.yMm - b.yMm) >= a.words.heightMm - 1e-6;
          expect(apart).toBe(true);
        }
      }
    }
  });

  it('draws a module at its own size where the code has room, and smaller for a longer text', () => {
    const [page] = lay(1, 'qr', 'a4');
    expect(moduleOf('qr', 37, 37, page!.places[0]!.code)).toBe(0.5);
    expect(moduleOf('qr', 61, 61, page!.places[0]!.code)).toBeCloseTo(20 / 61, 6);
  });

  it('has a bar of 50 mm to check the printer by', () => {
    const bar = lay(3, 'qr', 'a4')[0]!.marks.find((mark) => mark.kind === 'line' && mark.shows === 'bar 50 mm');
    expect(bar).toMatchObject({ kind: 'line' });
    const { left, right } = boxOfMark(bar!);
    expect(right - left).toBe(50);
  });

  it('keeps the words of a tag on its own face', () => {
    const page = layOutTags({ tags: [{ tag: 'the long one by the tank', colour: 'YE/GN', place: 'on terminal 86: interlock return, behind the seat', job: 'x'.repeat(200) }], kind: 'qr', paper: 'a4', title: '', how: [], bar: '' })[0]!;
    const { words: face } = page.places[0]!;
    const inside = page.marks.filter((mark) => mark.kind === 'text' && mark.y > face.yMm && mark.y < face.yMm + face.heightMm);
    expect(inside).toHaveLength(4);
    for (const mark of inside) expect(boxOfMark(mark).right).toBeLessThanOrEqual(face.xMm + face.widthMm + 1);
  });
});
