import { describe, expect, it } from 'vitest';
import type { CardMarks, EdgeMarks, Tap } from './card.ts';
import { measureCard, type CardPlane } from './measure-card.ts';
import { measureAcross, measureDistance, measurePlace, measureRound } from './measure-taps.ts';

// Expected values are by hand: a camera straight above, 10 px to the mm, the card's middle in the middle of the picture.
const picture = { widthPx: 2000, heightPx: 1500 };
const tap = (xMm: number, yMm: number, noisePx = 1): Tap => ({ xPx: 1000 + 10 * xMm, yPx: 750 - 10 * yMm, noisePx });
const edge = (spots: readonly (readonly [number, number])[], noisePx = 0.5): EdgeMarks => ({ points: spots.map(([x, y]) => ({ xPx: 1000 + 10 * x, yPx: 750 - 10 * y })), noisePx });
const bottom = edge([[-38, -26.99], [0, -26.99], [38, -26.99]]);
const right = edge([[42.8, -22], [42.8, 0], [42.8, 22]]);
const top = edge([[38, 26.99], [0, 26.99], [-38, 26.99]]);
const left = edge([[-42.8, 22], [-42.8, 0], [-42.8, -22]]);
const marks: CardMarks = { picture, edges: [bottom, right, top, left] };

const open = (change: Partial<CardMarks> = {}): CardPlane => {
  const plane = measureCard({ ...marks, ...change });
  if (!plane.ok) throw new Error(JSON.stringify(plane.faults));
  return plane.value;
};
const length = (plane: CardPlane, a: Tap, b: Tap) => {
  const measured = measureDistance(plane, a, b);
  if (!measured.ok) throw new Error(JSON.stringify(measured.faults));
  return measured.value;
};
const faultsOf = (change: Partial<CardMarks>) => {
  const plane = measureCard({ ...marks, ...change });
  return plane.ok ? [] : plane.faults.map(({ path, found }) => `${path}: ${found}`);
};

describe('a card seen straight on', () => {
  it('places taps about its middle, x to the right and y upwards', () => {
    const place = measurePlace(open(), tap(60, -35));
    if (!place.ok) throw new Error('refused');
    expect(place.value.xMm.value).toBeCloseTo(60, 8);
    expect(place.value.yMm.value).toBeCloseTo(-35, 8);
  });

  it('measures alike whichever edge comes first and whichever way round they go', () => {
    const want = length(open(), tap(-60, 40), tap(55, -30));
    expect(want.value).toBeCloseTo(Math.hypot(115, 70), 8);
    for (const edges of [[right, top, left, bottom], [top, left, bottom, right], [left, top, right, bottom], [bottom, left, top, right]]) {
      const found = length(open({ edges }), tap(-60, 40), tap(55, -30));
      expect(found.value).toBeCloseTo(want.value, 8);
      expect(found.plusMinus).toBeCloseTo(want.plusMinus, 8);
    }
  });

  it('tells its long edges from its short ones, and says so when told', () => {
    expect(open().cautions).toEqual([]);
    expect(open({ longEdges: 'first-and-third' }).map).toEqual(open().map);
    // named the other way the same picture is 53.98 mm wide
    expect(length(open({ longEdges: 'second-and-fourth' }), tap(-42.8, 0), tap(42.8, 0)).value).toBeCloseTo(53.98, 8);
  });

  it('says when the picture does not tell the long edges: the card looks square', () => {
    const square = [edge([[-25, -30], [25, -30]]), edge([[30, -25], [30, 25]]), edge([[25, 30], [-25, 30]]), edge([[-30, 25], [-30, -25]])];
    expect(open({ edges: square }).cautions.join()).toContain('which edges of the card are the long ones is not clear');
  });

  it('says what it takes for granted', () => {
    expect(open().assumptions.join('; ')).toMatch(/distortion is not corrected.*ISO\/IEC 7810.*plane of the card/);
  });
});

describe('the half-width', () => {
  it('is that of the taps alone where the card is marked perfectly', () => {
    const fine = [bottom, right, top, left].map((each) => ({ ...each, noisePx: 1e-6 }));
    // 1 px = 0.1 mm at both ends: 2 sqrt(2) x 0.1
    expect(length(open({ edges: fine }), tap(-20, 0), tap(20, 0)).plusMinus).toBeCloseTo(0.2828, 4);
  });

  it('is that of the marks alone where the taps are perfect: two opposite edges of three marks', () => {
    // each edge is off by 0.05 mm / sqrt 3 across; half-way along it the turn does not matter
    const width = length(open(), tap(-42.8, 0, 1e-6), tap(42.8, 0, 1e-6));
    expect(width.plusMinus).toBeCloseTo(2 * Math.SQRT2 * 0.05 / Math.sqrt(3), 2);
  });

  it('grows away from the card, and doubles with twice the noise', () => {
    const near = length(open(), tap(-20, 0), tap(20, 0)).plusMinus;
    const far = length(open(), tap(-20, 75), tap(20, 75)).plusMinus;
    expect(far).toBeGreaterThan(near);
    const noisy = open({ edges: [bottom, right, top, left].map((each) => ({ ...each, noisePx: 1 })) });
    expect(length(noisy, tap(-20, 75, 2), tap(20, 75, 2)).plusMinus).toBeCloseTo(2 * far, 2);
  });

  it('follows the scatter the marks show where that is more than stated, and says so', () => {
    const shaky = edge([[-38, -26.79], [-13, -27.19], [13, -26.79], [38, -27.19]]);
    const calm = edge([[-38, -26.99], [-13, -26.99], [13, -26.99], [38, -26.99]]);
    const plane = open({ edges: [shaky, right, top, left] });
    expect(plane.assumptions.join()).toContain('edge 1: its marks scatter by');
    expect(length(plane, tap(0, -20), tap(0, 20)).plusMinus).toBeGreaterThan(length(open({ edges: [calm, right, top, left] }), tap(0, -20), tap(0, 20)).plusMinus);
  });
});

describe('a plane above the card', () => {
  it('measures shorter by the height over the distance of the camera', () => {
    // nothing tells the focal length straight on: 0.8 of 2000 px over 10 px/mm puts the camera 160 mm up
    const measured = length(open({ raisedMm: { value: 16, plusMinus: 0.1 } }), tap(-50, 0), tap(50, 0));
    expect(measured.value).toBeCloseTo(90, 0);
    expect(measured.plusMinus).toBeGreaterThan(5);
  });

  it('measures longer when it lies below the card, and the same at no height', () => {
    expect(length(open({ raisedMm: { value: -8, plusMinus: 0.1 } }), tap(-50, 0), tap(50, 0)).value).toBeGreaterThan(104);
    const level = length(open({ raisedMm: 0 }), tap(-50, 0), tap(50, 0));
    expect(level.value).toBeCloseTo(100, 8);
    expect(level.plusMinus).toBeGreaterThan(length(open(), tap(-50, 0), tap(50, 0)).plusMinus);
  });

  it('names the defaults it used, and refuses a height like the camera\'s own', () => {
    expect(open({ raisedMm: 5 }).assumptions.join()).toContain('height over the card given as a bare number');
    expect(faultsOf({ raisedMm: 120 })).toEqual(['raisedMm: 120']);
  });
});

describe('marks that make no card', () => {
  it.each<[string, Partial<CardMarks>, string]>([
    ['three edges', { edges: [bottom, right, top] }, 'edges: 3 edges'],
    ['one mark on an edge', { edges: [edge([[0, -26.99]]), right, top, left] }, 'edges[0].points: 1 mark'],
    ['marks in one place', { edges: [edge([[0, -26.99], [0.1, -26.99]]), right, top, left] }, 'edges[0].points: marks too close together'],
    ['opposite edges one after the other', { edges: [bottom, top, right, left] }, 'edges[1]: an edge that runs nearly along edge 1'],
    ['all edges on one line', { edges: [bottom, bottom, bottom, bottom] }, 'edges[0]: an edge that runs nearly along edge 4'],
    ['a crossed figure', { edges: [bottom, edge([[-38, -26], [38, 26]]), top, edge([[38, -26], [-38, 26]])] }, 'edges: edges whose crossings form no convex four-sided figure'],
    ['a mark beyond the corner', { edges: [edge([[-38, -26.99], [60, -26.99]]), right, top, left] }, 'edges[0].points[1]: a mark beyond where the edge meets its neighbours'],
    ['a mark on the rounding', { edges: [edge([[-42, -26.99], [38, -26.99]]), right, top, left] }, 'edges[0].points[0]: a mark on a rounded corner'],
    ['a mark on another line', { edges: [edge([[-38, -26.99], [-19, -26.99], [0, -24], [19, -26.99], [38, -26.99]]), right, top, left] }, 'edges[0].points[2]: a mark 23.9 px off the line of the others'],
    ['noise of zero', { edges: [{ ...bottom, noisePx: 0 }, right, top, left] }, 'edges[0].noisePx: 0'],
    ['a place that is no number', { edges: [{ ...bottom, points: [...bottom.points, { xPx: Number.NaN, yPx: 0 }] }, right, top, left] }, 'edges[0].points[3].xPx: NaN'],
    ['no picture', { picture: { widthPx: 0, heightPx: 1500 } }, 'picture.widthPx: 0'],
  ])('%s', (_, change, fault) => {
    expect(faultsOf(change)).toContain(fault);
  });

  it('a card too small for how it is marked', () => {
    const small = marks.edges.map(({ points }) => ({ noisePx: 1, points: points.map(({ xPx, yPx }) => ({ xPx: 1000 + (xPx - 1000) / 20, yPx: 750 + (yPx - 750) / 20 })) }));
    expect(faultsOf({ edges: small }).join()).toMatch(/^edges: corners known to \d+\.\d mm only$/);
  });

  it('leaves the marks as they were', () => {
    const before = structuredClone(marks);
    open();
    expect(marks).toEqual(before);
  });
});

describe('a round hole', () => {
  const rim = (angles: readonly number[]) => angles.map((angle) => tap(60 + 4 * Math.cos(angle), 10 + 4 * Math.sin(angle)));

  it('is measured by taps around its rim, the more the better', () => {
    const three = measureRound(open(), rim([0, 2.1, 4.2]));
    const six = measureRound(open(), rim([0, 1, 2, 3, 4, 5]));
    if (!three.ok || !six.ok) throw new Error('refused');
    for (const { diameterMm, centre, worstSigma } of [three.value, six.value]) {
      expect(diameterMm.value).toBeCloseTo(8, 8);
      expect(centre.xMm.value).toBeCloseTo(60, 8);
      expect(centre.yMm.value).toBeCloseTo(10, 8);
      expect(worstSigma).toBeLessThan(1e-6);
    }
    expect(six.value.diameterMm.plusMinus).toBeLessThan(three.value.diameterMm.plusMinus);
  });

  it('is measured by two opposite taps', () => {
    const [a, b] = rim([0.7, 0.7 + Math.PI]) as [Tap, Tap];
    const round = measureAcross(open(), a, b);
    if (!round.ok) throw new Error('refused');
    expect(round.value.diameterMm.value).toBeCloseTo(8, 8);
    expect(round.value.centre.xMm.value).toBeCloseTo(60, 8);
  });

  it('shows a tap that is not on the rim', () => {
    const round = measureRound(open(), [...rim([0, 1, 2, 3, 4, 5]), tap(60, 15)]);
    expect(round.ok && round.value.worstSigma > 4).toBe(true);
  });

  it('is refused from two rim taps, from taps on a line and from a short arc', () => {
    for (const taps of [rim([0, 3]), [tap(60, 0), tap(61, 0), tap(62, 0)], rim([0, 0.2, 0.4])]) expect(measureRound(open(), taps).ok).toBe(false);
  });
});

describe('a tap', () => {
  it('beyond the horizon of the plane is refused', () => {
    // a card tilted so that the plane's horizon lies in the picture: edges run together upwards
    const steep = [edge([[-38, -27], [38, -27]]), edge([[40, -24], [32, -8]]), edge([[24, -5], [-24, -5]]), edge([[-32, -8], [-40, -24]])];
    const plane = open({ edges: steep, longEdges: 'first-and-third' });
    const place = measurePlace(plane, tap(0, 70));
    expect(!place.ok && place.faults[0]?.found).toBe('a place beyond the horizon of the card\'s plane');
  });

  it('without a noise or a place is refused', () => {
    expect(measurePlace(open(), tap(0, 0, 0)).ok).toBe(false);
    expect(measureDistance(open(), tap(0, 0), { xPx: Infinity, yPx: 0, noisePx: 1 }).ok).toBe(false);
  });
});
