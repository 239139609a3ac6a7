import type { InputFault, Measured, Read } from '../../../catalog-schema/index.ts';
import { describeSetting, settingOf } from '../settings.ts';
import { centreHomography, findFocal, judgeCamera, placeCamera } from './camera.ts';
import { accept, CARD_MM, refuse, spotOf, type CardMarks } from './card.ts';
import { findCorners, readEdges } from './card-edges.ts';
import { moveLine, type FittedLine } from './fit-line.ts';
import { applyHomography, estimateHomography, invertMatrix, type Matrix3, type Spot } from './homography.ts';

/** From px to mm in the measured plane: through the card's plane, then towards the camera's foot by what the plane is raised. */
export interface PlaneMap {
  readonly toCard: Matrix3;
  /** sign of the third coordinate on this side of the horizon */
  readonly side: number;
  readonly foot: Spot;
  readonly shrink: number;
}

/**
 * The measured plane: origin in the middle of the card, x along its lower edge as seen in the picture, y upwards, mm.
 * `moved` holds the map after each independent error of the marks, one sigma up and one down: whatever is measured in the
 * plane gets its uncertainty from all of them together, so that errors two taps share cancel as they should.
 */
export interface CardPlane {
  readonly map: PlaneMap;
  readonly moved: readonly (readonly [PlaneMap, PlaneMap])[];
  /** mean scale over the card, px per mm */
  readonly pxPerMm: number;
  /** which pair of edges was taken for the long one */
  readonly longEdges: 'first-and-third' | 'second-and-fourth';
  readonly assumptions: readonly string[];
  readonly cautions: readonly string[];
}

/** Where a place in the picture lies in the measured plane, mm; undefined beyond the plane's horizon. */
export function mapSpot(map: PlaneMap, spot: Spot): Spot | undefined {
  const flat = applyHomography(map.toCard, spot, map.side);
  return flat && { x: map.foot.x + (flat.x - map.foot.x) * map.shrink, y: map.foot.y + (flat.y - map.foot.y) * map.shrink };
}

/**
 * The measured plane from the marked edges of the card. Four lines have as many freedoms as a homography (eight), so the nearest
 * lines already give the likeliest homography: no further refinement can lessen the distance of the marks.
 * First-order covariance: each line's offset and direction are moved by one sigma and the homography is made anew.
 * Refuses, with one fault each: marks that are no straight edges, too close together, in the wrong order or on a rounded corner, and
 * a card too small for how well its edges are marked.
 * Source: Hartley and Zisserman, Multiple View Geometry, chapters 4 and 5 (from memory).
 */
export function measureCard(marks: CardMarks): Read<CardPlane> {
  const read = readEdges(marks);
  if (!read.ok) return read;
  const { lines, assumptions } = read.value;
  const found = findCorners(marks, lines);
  if (!found.ok) return found;
  const ring = orderRing(found.value);
  const { firstLong, unclear } = judgeLongEdges(marks, ring);
  const bottomLong = (ring.edges[0] % 2 === 0) === firstLong;
  const [width, height] = bottomLong ? [CARD_MM.longSide, CARD_MM.shortSide] : [CARD_MM.shortSide, CARD_MM.longSide];
  const cardCorners = cornersOf(width, height);

  const toPicture = estimateHomography(cardCorners, ring.corners);
  const middle = centreOf(ring.corners);
  const map = toPicture && makeMap(toPicture, middle);
  const pairs = lines.flatMap((line, k) => [[line.offsetSigma, 0], [0, line.turnSigma]].map(([offset, turn]) =>
    [1, -1].map((sign) => rebuild(lines.with(k, moveLine(line, sign * offset!, sign * turn!)), ring.indices, cardCorners))));
  const moved: [Matrix3, Matrix3][] = [];
  for (const [up, down] of pairs) if (up && down) moved.push([up, down]);
  if (!toPicture || !map || moved.length < pairs.length) return refuse('edges', 'four edges that form no card', 'each straight edge marked from end to end');
  const movedMaps: [PlaneMap, PlaneMap][] = [];
  for (const [up, down] of moved) {
    const [a, b] = [makeMap(up, middle), makeMap(down, middle)];
    if (a && b) movedMaps.push([a, b]);
  }
  if (movedMaps.length < moved.length) return refuse('edges', 'four edges that form no card', 'each straight edge marked from end to end');

  const faults = [...findRounded(marks, map, width, height), ...findVague(ring.corners, movedMaps)];
  if (faults.length > 0) return { ok: false, faults };

  const said = [
    'the lens draws straight lines straight: its distortion is not corrected', ...assumptions,
    'the card is an ID-1 card of 85.60 x 53.98 mm (ISO/IEC 7810) and lies flat',
    ...(marks.longEdges ? [] : [`the long edges of the card are told from the short by how a camera would have seen them: ${describeSetting('photographTilt')}; ${describeSetting('photographMisfit')}`]),
  ];
  const cautions = unclear ? ['which edges of the card are the long ones is not clear from the picture: check it, or take the picture from more nearly overhead'] : [];
  const pxPerMm = Math.sqrt(areaOf(ring.corners) / (width * height));
  const longEdges = firstLong ? 'first-and-third' : 'second-and-fourth';
  if (marks.raisedMm === undefined) {
    return accept({ map, moved: movedMaps, pxPerMm, longEdges, assumptions: [...said, 'what is measured lies in the plane of the card'], cautions });
  }
  return raisePlane(marks, marks.raisedMm, { toPicture, moved, middle, pxPerMm, longEdges, assumptions: said, cautions });
}

interface Ring { corners: Spot[]; edges: [number, number, number, number]; indices: number[] }

/** The corners counter-clockwise as seen, from the left end of the edge that runs most to the right; `edges[k]` joins corner k and the next. */
function orderRing(corners: readonly Spot[]): Ring {
  // px count downwards: counter-clockwise as seen is a negative area
  const forward = signedArea(corners) < 0;
  const indices = forward ? [0, 1, 2, 3] : [0, 3, 2, 1];
  const edges = forward ? [0, 1, 2, 3] : [3, 2, 1, 0];
  const runs = indices.map((index, k) => {
    const [from, to] = [corners[index]!, corners[indices[(k + 1) % 4]!]!];
    return (to.x - from.x) / Math.hypot(to.x - from.x, to.y - from.y);
  });
  const start = runs.indexOf(Math.max(...runs));
  const turned = <T>(list: readonly T[]) => [0, 1, 2, 3].map((k) => list[(start + k) % 4]!);
  const order = turned(indices);
  return { corners: order.map((index) => corners[index]!), edges: turned(edges) as Ring['edges'], indices: order };
}

/** Whether the first and third edge are the long ones: as said, else whichever a camera is likelier to have seen. */
function judgeLongEdges(marks: CardMarks, ring: Ring): { firstLong: boolean; unclear: boolean } {
  if (marks.longEdges) return { firstLong: marks.longEdges === 'first-and-third', unclear: false };
  const { widthPx, heightPx } = marks.picture;
  const cost = (firstLong: boolean) => {
    const bottomLong = (ring.edges[0] % 2 === 0) === firstLong;
    const [width, height] = bottomLong ? [CARD_MM.longSide, CARD_MM.shortSide] : [CARD_MM.shortSide, CARD_MM.longSide];
    const toPicture = estimateHomography(cornersOf(width, height), ring.corners);
    return toPicture ? judgeCamera(centreHomography(toPicture, widthPx, heightPx), Math.max(widthPx, heightPx)) : Infinity;
  };
  const [first, second] = [cost(true), cost(false)];
  return { firstLong: first <= second, unclear: Math.abs(first - second) < settingOf('photographTurnClear') };
}

/** The plane above the card's: every place moves towards the camera's foot, by the height over the camera's own height. */
function raisePlane(
  marks: CardMarks, raisedMm: Measured,
  flat: Pick<CardPlane, 'pxPerMm' | 'longEdges' | 'assumptions' | 'cautions'> & { toPicture: Matrix3; moved: readonly (readonly [Matrix3, Matrix3])[]; middle: Spot },
): Read<CardPlane> {
  const { widthPx, heightPx } = marks.picture;
  const longerPx = Math.max(widthPx, heightPx);
  const bare = typeof raisedMm === 'number';
  const height = bare ? raisedMm : raisedMm.value;
  const heightSigma = (bare ? settingOf('photographRaisedPlusMinus') : raisedMm.plusMinus) / 2;
  const centred = centreHomography(flat.toPicture, widthPx, heightPx);
  const centredMoved = flat.moved.map(([a, b]) => [centreHomography(a, widthPx, heightPx), centreHomography(b, widthPx, heightPx)] as const);
  const { focalPx, lnSigma } = findFocal(centred, centredMoved, longerPx);
  const raise = (h: Matrix3, focal: number, raised: number): PlaneMap | undefined => {
    const map = makeMap(h, flat.middle);
    const { xMm, yMm, zMm } = placeCamera(centreHomography(h, widthPx, heightPx), focal);
    return map && zMm > 2 * Math.abs(raised) ? { ...map, foot: { x: xMm, y: yMm }, shrink: (zMm - raised) / zMm } : undefined;
  };
  const map = raise(flat.toPicture, focalPx, height);
  const pairs = [
    ...flat.moved.map(([a, b]) => [raise(a, focalPx, height), raise(b, focalPx, height)]),
    [raise(flat.toPicture, focalPx * Math.exp(lnSigma), height), raise(flat.toPicture, focalPx * Math.exp(-lnSigma), height)],
    [raise(flat.toPicture, focalPx, height + heightSigma), raise(flat.toPicture, focalPx, height - heightSigma)],
  ];
  const moved: [PlaneMap, PlaneMap][] = [];
  for (const [up, down] of pairs) if (up && down) moved.push([up, down]);
  if (!map || moved.length < pairs.length) return refuse('raisedMm', String(height), 'a height small against the distance of the camera');
  return accept({
    map, moved, pxPerMm: flat.pxPerMm, longEdges: flat.longEdges, cautions: flat.cautions,
    assumptions: [
      ...flat.assumptions, 'the picture is not cropped: the axis of the camera meets its middle, and its pixels are square',
      describeSetting('photographFocal'), describeSetting('photographFocalSpread'), describeSetting('photographCameraFloor'),
      ...(bare ? [describeSetting('photographRaisedPlusMinus')] : []),
    ],
  });
}

function rebuild(lines: readonly FittedLine[], indices: readonly number[], cardCorners: readonly Spot[]): Matrix3 | undefined {
  const corners = findCorners(undefined, lines);
  return corners.ok ? estimateHomography(cardCorners, indices.map((index) => corners.value[index]!)) : undefined;
}

function makeMap(toPicture: Matrix3, middle: Spot): PlaneMap | undefined {
  const toCard = invertMatrix(toPicture);
  if (!toCard) return undefined;
  return { toCard, side: Math.sign(toCard[6] * middle.x + toCard[7] * middle.y + toCard[8]), foot: { x: 0, y: 0 }, shrink: 1 };
}

/** Marks on the rounding of a corner, where the edge has left its line by more than a twentieth of a millimetre. */
function findRounded(marks: CardMarks, map: PlaneMap, width: number, height: number): InputFault[] {
  const reach = CARD_MM.cornerRadius - Math.sqrt(2 * CARD_MM.cornerRadius * 0.05 - 0.05 ** 2);
  return marks.edges.flatMap(({ points }, e) => points.flatMap((point, p) => {
    const spot = mapSpot(map, spotOf(point));
    if (!spot) return [];
    const [dx, dy] = [width / 2 - Math.abs(spot.x), height / 2 - Math.abs(spot.y)];
    if (Math.max(dx, dy) >= reach) return [];
    return [{ path: `edges[${e}].points[${p}]`, found: 'a mark on a rounded corner', want: `marks on the straight edge, ${CARD_MM.cornerRadius} mm or more from its end` }];
  }));
}

/** A card whose corners are known too badly to measure by. */
function findVague(corners: readonly Spot[], moved: readonly (readonly [PlaneMap, PlaneMap])[]): InputFault[] {
  const most = settingOf('photographCornerPlusMinus');
  const plusMinus = corners.map((corner) => 2 * Math.sqrt(moved.reduce((sum, [up, down]) => {
    const [a, b] = [mapSpot(up, corner), mapSpot(down, corner)];
    return a && b ? sum + ((a.x - b.x) / 2) ** 2 + ((a.y - b.y) / 2) ** 2 : Infinity;
  }, 0)));
  const worst = Math.max(...plusMinus);
  if (worst <= most) return [];
  return [{ path: 'edges', found: `corners known to ${Number.isFinite(worst) ? worst.toFixed(1) : 'no'} mm only`, want: `corners to within ${most} mm: the card larger in the picture, or each edge marked at more places, further apart` }];
}

function cornersOf(width: number, height: number): Spot[] {
  return [{ x: -width / 2, y: -height / 2 }, { x: width / 2, y: -height / 2 }, { x: width / 2, y: height / 2 }, { x: -width / 2, y: height / 2 }];
}

function centreOf(spots: readonly Spot[]): Spot {
  return { x: spots.reduce((sum, { x }) => sum + x, 0) / spots.length, y: spots.reduce((sum, { y }) => sum + y, 0) / spots.length };
}

function signedArea(spots: readonly Spot[]): number {
  return spots.reduce((sum, a, k) => {
    const b = spots[(k + 1) % spots.length]!;
    return sum + (a.x * b.y - b.x * a.y) / 2;
  }, 0);
}

function areaOf(spots: readonly Spot[]): number { return Math.abs(signedArea(spots)); }
