// Photographs of a card and of holes beside it, by a pinhole camera of our own. Imports nothing of the product.

export interface Pixel { xPx: number; yPx: number }

/** Numbers from 0 up to but not including 1, the same for the same seed (mulberry, 32 bits). */
export function createRandom(seed: number): () => number {
  let state = seed | 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** A normal number of mean 0 and sigma 1 (Box and Muller). */
export function drawNormal(random: () => number): number {
  return Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
}

export interface Setting { wide: number; raisedMm: number; edgeNoisePx: number; edgeMarks: number; tapNoisePx: number }

export interface Photograph {
  widthPx: number
  heightPx: number
  /** marks with their noise, edges in order around the card, from any edge and either way round; the long ones may come first or second */
  edges: Pixel[][]
  longFirst: boolean
  /** true places, mm, and taps with their noise */
  holes: { xMm: number; yMm: number; tap: Pixel }[]
  /** a round hole of this diameter about the first place: taps around its rim, and two on opposite sides */
  bore: { diameterMm: number; rim: Pixel[]; across: [Pixel, Pixel] }
  tiltDeg: number
  /** where a pixel's ray meets the plane of the card, mm */
  seeThrough: (at: Pixel) => [number, number]
}

const [LONG, SHORT, ROUNDED] = [85.6, 53.98, 3.18];
const [WIDTH, HEIGHT] = [2000, 1500];

/**
 * A photograph: tilt up to 35 degrees any way, turned any way, the picture at most `wide` mm across at the card's plane, card and
 * holes whole in it, four holes within 50 mm of the card. The focal length is 0.65 to 1.8 of the picture's width.
 */
export function drawPhotograph(random: () => number, setting: Setting): Photograph {
  for (;;) {
    const photograph = tryPhotograph(random, setting);
    if (photograph) return photograph;
  }
}

function tryPhotograph(random: () => number, setting: Setting): Photograph | undefined {
  const between = (low: number, high: number) => low + (high - low) * random();
  const focal = WIDTH * between(0.65, 1.8);
  const [tilt, towards, turn] = [between(0, 35) * (Math.PI / 180), between(0, 2 * Math.PI), between(0, 2 * Math.PI)];
  const across = between(0.8, 1) * setting.wide;
  // Camera frame: x right, y down, z ahead. The plane's axes: turned about its normal, then tilted about a horizontal axis.
  const axis = [Math.cos(towards), Math.sin(towards), 0];
  const lay = (v: number[]) => rotate(v, axis, tilt);
  const right = lay([Math.cos(turn), Math.sin(turn), 0]);
  const up = lay([Math.sin(turn), -Math.cos(turn), 0]);
  const normal = lay([0, 0, -1]);
  const distance = (focal * across) / WIDTH;
  const look = [between(-30, 30), between(-30, 30)];
  const project = (x: number, y: number, z: number): Pixel => {
    const p = [0, 1, 2].map((k) => (x - look[0]!) * right[k]! + (y - look[1]!) * up[k]! + z * normal[k]! + (k === 2 ? distance : 0));
    return { xPx: WIDTH / 2 + (focal * p[0]!) / p[2]!, yPx: HEIGHT / 2 + (focal * p[1]!) / p[2]! };
  };
  const seeThrough = ({ xPx, yPx }: Pixel): [number, number] => {
    const [u, v] = [(xPx - WIDTH / 2) / focal, (yPx - HEIGHT / 2) / focal];
    const dot = (axis: number[]) => u * axis[0]! + v * axis[1]! + axis[2]!;
    const scale = (distance * normal[2]!) / dot(normal);
    return [look[0]! + scale * dot(right) - distance * right[2]!, look[1]! + scale * dot(up) - distance * up[2]!];
  };
  const inside = ({ xPx, yPx }: Pixel) => xPx > 10 && yPx > 10 && xPx < WIDTH - 10 && yPx < HEIGHT - 10;
  const shake = ({ xPx, yPx }: Pixel, noise: number): Pixel => ({ xPx: xPx + noise * drawNormal(random), yPx: yPx + noise * drawNormal(random) });

  const [a, b] = [LONG / 2, SHORT / 2];
  const corners = [[-a, -b], [a, -b], [a, b], [-a, b]] as const;
  if (!corners.every(([x, y]) => inside(project(x, y, 0)))) return undefined;
  let edges = corners.map((from, k) => {
    const to = corners[(k + 1) % 4]!;
    const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
    return Array.from({ length: setting.edgeMarks }, (_, i) => {
      const spare = ROUNDED + 2;
      const t = (spare + ((length - 2 * spare) * (i + between(0.1, 0.9))) / setting.edgeMarks) / length;
      return shake(project(from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1]), 0), setting.edgeNoisePx);
    });
  });
  const first = Math.floor(random() * 4);
  edges = edges.map((_, k) => edges[(first + k) % 4]!);
  let longFirst = first % 2 === 0;
  if (random() < 0.5) {
    edges = edges.toReversed();
    longFirst = !longFirst;
  }

  const holes: Photograph['holes'] = [];
  for (let tries = 0; holes.length < 4; tries++) {
    if (tries > 400) return undefined;
    const [x, y] = [between(-a - 50, a + 50), between(-b - 50, b + 50)];
    const away = Math.hypot(Math.max(0, Math.abs(x) - a), Math.max(0, Math.abs(y) - b));
    const at = project(x, y, setting.raisedMm);
    if (away < 6 || away > 50 || !inside(at) || holes.some((hole) => Math.hypot(hole.xMm - x, hole.yMm - y) < 10)) continue;
    holes.push({ xMm: x, yMm: y, tap: shake(at, setting.tapNoisePx) });
  }
  const diameterMm = between(5, 12);
  const rimAt = (angle: number) => shake(project(
    holes[0]!.xMm + (diameterMm / 2) * Math.cos(angle), holes[0]!.yMm + (diameterMm / 2) * Math.sin(angle), setting.raisedMm), setting.tapNoisePx);
  const start = between(0, 2 * Math.PI);
  const rim = Array.from({ length: 6 }, (_, k) => rimAt(start + ((k + between(-0.2, 0.2)) * Math.PI) / 3));
  return { widthPx: WIDTH, heightPx: HEIGHT, edges, longFirst, holes, bore: { diameterMm, rim, across: [rimAt(start), rimAt(start + Math.PI)] }, tiltDeg: (tilt * 180) / Math.PI,
    seeThrough,
  };
}

/** Turns a vector about a unit axis (Rodrigues). */
function rotate(v: number[], axis: number[], angle: number): number[] {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const along = v.reduce((sum, value, k) => sum + value * axis[k]!, 0);
  return v.map((value, k) => value * c + (axis[(k + 1) % 3]! * v[(k + 2) % 3]! - axis[(k + 2) % 3]! * v[(k + 1) % 3]!) * s + axis[k]! * along * (1 - c));
}
