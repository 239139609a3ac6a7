import { beforeAll, describe, expect, it } from 'vitest';
import { drawCard } from './draw-card.ts';
import { createRandom, drawPhotograph, type Photograph, type Pixel } from './pinhole.ts';
import { measureMarked, snapMarks, type GreyPicture, type MarkedPhotograph } from '../../api/engine/index.ts';

let photograph: Photograph;
let picture: GreyPicture;
beforeAll(() => {
  const random = createRandom(11);
  photograph = drawPhotograph(random, { wide: 180, raisedMm: 0, edgeNoisePx: 4, edgeMarks: 6, tapNoisePx: 0.5 });
  picture = { luminance: drawCard(photograph, random, 4, 2), widthPx: photograph.widthPx, heightPx: photograph.heightPx };
});

const mark = ({ xPx, yPx }: Pixel, noisePx: number) => ({ xPx, yPx, noisePx });
/** The four edges, each by its first and last mark, in the order asked for. */
const edgesOf = (order: readonly number[]): MarkedPhotograph['edges'] => Object.fromEntries(order.map((k, n) =>
  [`e${n + 1}`, { marks: [mark(photograph.edges[k]![0]!, 4), mark(photograph.edges[k]!.at(-1)!, 4)] }]));
const holes = (): MarkedPhotograph['things'] => Object.fromEntries(photograph.holes.map(({ tap }, k) => [`h${k + 1}`, { what: 'hole', by: 'middle', marks: [mark(tap, 0.5)] }]));
const measure = (part: Partial<MarkedPhotograph>) => measureMarked(
  { widthPx: picture.widthPx, heightPx: picture.heightPx, edges: edgesOf([0, 1, 2, 3]), ...part }, (marks) => snapMarks(picture, marks));
const apart = (a: { xMm: number; yMm: number }, b: { xMm: number; yMm: number }) => Math.hypot(a.xMm - b.xMm, a.yMm - b.yMm);

describe('a marked photograph', () => {
  it('gives every spacing of its holes, near the truth and inside its half-width', () => {
    const { spacings, card, things } = measure({ things: holes() });
    expect(card?.ok).toBe(true);
    expect(spacings.map(({ a, b }) => a + b)).toEqual(['h1h2', 'h1h3', 'h1h4', 'h2h3', 'h2h4', 'h3h4']);
    for (const { a, b, length } of spacings) {
      const [p, q] = [photograph.holes[Number(a[1]) - 1]!, photograph.holes[Number(b[1]) - 1]!];
      if (!length.ok) throw new Error(a + b);
      expect(Math.abs(length.value.value - apart(p, q))).toBeLessThan(0.3);
      const [at, to] = [things[a]!, things[b]!];
      expect(at.ok && to.ok && Math.abs(apart(at.value, to.value) - length.value.value)).toBeLessThan(1e-6);
    }
  });

  it('says the same whatever order the edges were marked in, and puts them in order around the card', () => {
    const inOrder = measure({ things: holes() });
    const across = measure({ things: holes(), edges: edgesOf([0, 2, 1, 3]) });
    expect(inOrder.order).toEqual(['e1', 'e2', 'e3', 'e4']);
    expect(across.order).toEqual(['e1', 'e3', 'e2', 'e4']);
    expect(across.spacings[0]).toEqual(inOrder.spacings[0]);
  });

  it('shows each edge as soon as it is found, and no card before the fourth', () => {
    const two = measure({ edges: Object.fromEntries(Object.entries(edgesOf([0, 1])!)) });
    expect(Object.values(two.edges).map(({ ok }) => ok)).toEqual([true, true]);
    expect(two.card).toBeUndefined();
    expect(two.order).toEqual(['e1', 'e2']);
  });

  it('says so where no edge shows, and does not measure', () => {
    const nowhere = { marks: [mark({ xPx: 20, yPx: 20 }, 2), mark({ xPx: 120, yPx: 25 }, 2)] };
    const blind = measure({ edges: { ...edgesOf([0, 1, 2]), e4: nowhere }, things: holes() });
    expect(blind.edges['e4']).toMatchObject({ ok: false, faults: [{ found: 'no clear edge near the marks' }] });
    expect([blind.card, blind.things]).toEqual([undefined, {}]);
  });

  it('refuses one edge marked twice by its number around the card', () => {
    const twice = measure({ edges: { ...edgesOf([0, 1, 2]), e4: edgesOf([0])!['e1']! } });
    expect(twice.card).toMatchObject({ ok: false, faults: [{ path: expect.stringMatching(/^edges/) }] });
  });

  it('stands level on its first two holes where they are nearly so, with the middle of the holes at 0, 0', () => {
    const level = photograph.seeThrough;
    const at = (xPx: number, yPx: number) => ({ what: 'hole' as const, by: 'middle' as const, marks: [mark({ xPx, yPx }, 0.5)] });
    const { things } = measure({ things: { h1: at(700, 740), h2: at(1300, 760) } });
    const [a, b] = [things['h1']!, things['h2']!];
    if (!a.ok || !b.ok) throw new Error('not measured');
    const half = Math.hypot(level({ xPx: 700, yPx: 740 })[0] - level({ xPx: 1300, yPx: 760 })[0], level({ xPx: 700, yPx: 740 })[1] - level({ xPx: 1300, yPx: 760 })[1]) / 2;
    expect(a.value.yMm).toBeCloseTo(0, 6);
    expect(b.value.yMm).toBeCloseTo(0, 6);
    expect(a.value.xMm).toBeCloseTo(-half, 0);
    expect(b.value.xMm).toBeCloseTo(half, 0);
  });

  it.each([['down', 0, 1], ['left', -1, 0], ['up', 0, -1], ['right', 1, 0]] as const)('turns so that the bracket, %s in the picture, is below', (bracketSide, x, y) => {
    const upper = { h1: { what: 'hole', by: 'middle', marks: [mark({ xPx: 1000, yPx: 900 }, 0.5)] }, h2: { what: 'hole', by: 'middle', marks: [mark({ xPx: 1000, yPx: 600 }, 0.5)] } } as const;
    const { things } = measure({ bracketSide, things: structuredClone(upper) as unknown as MarkedPhotograph['things'] });
    const [a, b] = [things['h1']!, things['h2']!];
    if (!a.ok || !b.ok) throw new Error('not measured');
    // what lies higher in the picture lies towards (x, y) of the frame
    const way = [b.value.xMm - a.value.xMm, b.value.yMm - a.value.yMm].map((value) => Math.sign(Math.round(value)));
    expect(way.map((value) => value + 0)).toEqual([x, y]);
  });

  it('is mirrored when it was taken from behind', () => {
    const [front, behind] = [measure({ things: holes() }), measure({ things: holes(), seenFrom: 'behind' })];
    for (const key of ['h1', 'h2', 'h3', 'h4']) {
      const [a, b] = [front.things[key]!, behind.things[key]!];
      expect(a.ok && b.ok && [a.value.xMm + b.value.xMm, a.value.yMm - b.value.yMm].every((off) => Math.abs(off) < 1e-9)).toBe(true);
    }
  });

  it('measures a round by its rim or across, and takes its middle for the spacing', () => {
    const { bore } = photograph;
    const { things, spacings } = measure({ things: {
      h1: { what: 'hole', by: 'rim', marks: bore.rim.map((at) => mark(at, 0.5)) }, h2: { what: 'hole', by: 'across', marks: bore.across.map((at) => mark(at, 0.5)) },
      h3: { what: 'hole', by: 'rim', marks: bore.rim.slice(0, 2).map((at) => mark(at, 0.5)) }, l1: { what: 'length', by: 'across', marks: bore.across.map((at) => mark(at, 0.5)) },
    } });
    for (const key of ['h1', 'h2', 'l1']) {
      const thing = things[key]!;
      expect(thing.ok && Math.abs(thing.value.acrossMm!.value - bore.diameterMm), key).toBeLessThan(0.4);
    }
    expect(things['h3']).toBeUndefined();
    expect(spacings.map(({ length }) => length.ok && length.value.value < 0.4)).toEqual([true]);
  });

  it('is less sure of what lies above the card, and takes terminals at their own height', () => {
    const terminal = (by: MarkedPhotograph['raisedMm']) => measure({ raisedMm: by, things: { ...holes(), t1: { what: 'terminal', terminal: 'B', by: 'across', marks: photograph.bore.across.map((at) => mark(at, 0.5)) } } });
    const [flat, raised] = [terminal(undefined), terminal({ terminals: { value: 20, plusMinus: 2 } })];
    const [a, b] = [flat.things['t1']!, raised.things['t1']!];
    if (!a.ok || !b.ok) throw new Error('not measured');
    expect(b.value.acrossMm!.value).toBeLessThan(a.value.acrossMm!.value * 0.97);
    expect(b.value.acrossMm!.plusMinus).toBeGreaterThan(a.value.acrossMm!.plusMinus);
    expect(flat.spacings).toEqual(raised.spacings);
    expect(terminal({ holes: 15 }).plusMinusMm).toBeGreaterThan(flat.plusMinusMm!);
  });
});
