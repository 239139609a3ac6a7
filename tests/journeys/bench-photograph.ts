import { crc32, deflateSync } from 'node:zlib';

// A photograph of a relay on a bench beside a card, as a camera of our own sees it: for the journey through the photograph screen.
// Imports nothing of the product. Lengths in mm; the bench is the plane z = 0, x to the right and y up as the camera's owner sees it.

export const PICTURE = { widthPx: 2000, heightPx: 1500 } as const;

type Place = readonly [number, number];
interface Pixel { xPx: number; yPx: number }
/** Where something lies on the bench, and the cosine and sine of how it is turned. */
interface Frame { at: Place; turn: Place }

const turned = (deg: number): Place => [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];

/** The relay's bracket: its middle on the bench, how it is turned, its holes about its middle with their diameter. */
const BRACKET = { at: [4, 46] as Place, turn: turned(2.5), half: [38, 20] as Place, holes: [[-29.25, 11.5], [29.25, 11.5], [29.25, -11.5], [-29.25, -11.5]] as readonly Place[], holeMm: 6.5 };
const STUDS = [[-11, 1], [11, 1]] as const;
const TABS = [[-5, -11], [5, -11]] as const;
export const STUD_MM = 7.9;
const CARD = { at: [-6, -33] as Place, turn: turned(-4), half: [42.8, 26.99] as Place, rounded: 3.18 };
const CAMERA = { focalPx: 1710, heightMm: 165, tiltDeg: 14, rollDeg: 3, look: [0, 6] as Place };

/** Where things are, in the frame of the bracket. */
export const TRUTH = { holes: BRACKET.holes, studs: STUDS, holeMm: BRACKET.holeMm };

/** Where a place of the bracket shows in the picture. */
export function seeBracket(place: Place): Pixel { return project(fromFrame(BRACKET, place)); }

/** Two places on each straight edge of the card, in order around it, some pixels off by hand. */
export function seeCardEdges(offPx = 3): [Pixel, Pixel][] {
  const [a, b] = CARD.half;
  const ends: [Place, Place][] = [[[-a + 9, -b], [a - 8, -b]], [[a, -b + 7], [a, b - 9]], [[a - 10, b], [-a + 7, b]], [[-a, b - 8], [-a, -b + 8]]];
  return ends.map(([from, to], k) => [from, to].map((place, n) => {
    const at = project(fromFrame(CARD, place));
    return { xPx: at.xPx + ((k + n) % 2 === 0 ? offPx : -offPx), yPx: at.yPx + (n === 0 ? -offPx : offPx) };
  }) as [Pixel, Pixel]);
}

/** The photograph as a PNG, `enlarged` times as many pixels a side: each gathers four rays, and a sensor's noise is added. */
export function drawBenchPhotograph(enlarged = 1): Buffer {
  const [widthPx, heightPx] = [Math.round(PICTURE.widthPx * enlarged), Math.round(PICTURE.heightPx * enlarged)];
  const rows = Buffer.alloc(heightPx * (1 + 3 * widthPx));
  let seed = 1;
  const noise = () => {
    seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
    return (seed / 2 ** 32 - 0.5) * 9;
  };
  for (let j = 0; j < heightPx; j++) {
    for (let i = 0; i < widthPx; i++) {
      const sum = [0, 0, 0];
      for (const [dx, dy] of [[0.25, 0.25], [0.75, 0.25], [0.25, 0.75], [0.75, 0.75]] as const) {
        const colour = shade(seeThrough((i + dx) / enlarged, (j + dy) / enlarged));
        for (let k = 0; k < 3; k++) sum[k]! += colour[k]! / 4;
      }
      const grain = noise();
      for (let k = 0; k < 3; k++) rows[j * (1 + 3 * widthPx) + 1 + 3 * i + k] = Math.min(255, Math.max(0, Math.round(sum[k]! + grain)));
    }
  }
  return writePng(rows, widthPx, heightPx);
}

type Colour = readonly [number, number, number];

function shade(at: Place): Colour {
  const card = toFrame(CARD, at);
  const beyondCard = beyondRounded(card, CARD.half, CARD.rounded);
  if (beyondCard < 0) return shadeCard(card);
  const part = toFrame(BRACKET, at);
  if (beyondRounded(part, BRACKET.half, 5) < 0) return shadePart(part);
  // wood, with the shadows of what lies on it
  const grain = Math.sin(at[1] * 2.1 + 3 * Math.sin(at[0] * 0.03)) + 0.6 * Math.sin(at[1] * 7.7 + at[0] * 0.05);
  const dark = Math.min(1, 0.72 + 0.28 * Math.min(1, beyondCard / 3)) * Math.min(1, 0.7 + 0.3 * Math.min(1, beyondRounded(part, BRACKET.half, 5) / 4));
  return [(92 + 7 * grain) * dark, (66 + 6 * grain) * dark, (44 + 5 * grain) * dark];
}

/** A plain card: a stripe near its upper edge, a few lines of print. */
function shadeCard([x, y]: Place): Colour {
  if (y > 13 && y < 22) return [58, 60, 66];
  const printed = (y > -18 && y < -15 && x > -36 && x < 20 && Math.sin(x * 2.3) > -0.3) || (y > -8 && y < -6 && x > -36 && x < -4 && Math.sin(x * 3.1) > -0.2);
  return printed ? [96, 104, 118] : [222 + x * 0.1, 224, 219 - x * 0.1];
}

function shadePart([x, y]: Place): Colour {
  if (BRACKET.holes.some(([hx, hy]) => Math.hypot(x - hx, y - hy) < BRACKET.holeMm / 2)) return [34, 27, 22];
  for (const [sx, sy] of STUDS) {
    const away = Math.hypot(x - sx, y - sy);
    if (away < STUD_MM / 2) return [176 + 20 * Math.sin(away * 5), 140 + 16 * Math.sin(away * 5), 84];
    if (away < 6.4) return [138, 120, 84];
  }
  if (TABS.some(([tx, ty]) => Math.abs(x - tx) < 3.15 && Math.abs(y - ty) < 0.8)) return [198, 178, 120];
  if (Math.hypot(x / 1.15, y) < 19) return [46 + 10 * Math.sin(Math.hypot(x, y)), 44, 46];
  return [150 + 5 * Math.sin(x * 3.3), 152 + 5 * Math.sin(x * 3.3), 150];
}

function fromFrame({ at, turn: [c, s] }: Frame, [x, y]: Place): Place { return [at[0] + c * x - s * y, at[1] + s * x + c * y]; }
function toFrame({ at, turn: [c, s] }: Frame, [x, y]: Place): Place { return [c * (x - at[0]) + s * (y - at[1]), -s * (x - at[0]) + c * (y - at[1])]; }

/** How far a place lies outside a rectangle with rounded corners, mm; below zero inside. */
function beyondRounded([x, y]: Place, [a, b]: Place, rounded: number): number {
  const [dx, dy] = [Math.abs(x) - (a - rounded), Math.abs(y) - (b - rounded)];
  return Math.hypot(Math.max(0, dx), Math.max(0, dy)) + Math.min(0, Math.max(dx, dy)) - rounded;
}

// The camera: tilted about the bench's x axis, rolled about its own. Axes right, down and ahead, in the bench's frame.
const [tilt, roll] = [(CAMERA.tiltDeg * Math.PI) / 180, (CAMERA.rollDeg * Math.PI) / 180];
const AHEAD = [0, Math.sin(tilt), -Math.cos(tilt)] as const;
const DOWN0 = [0, -Math.cos(tilt), -Math.sin(tilt)] as const;
const RIGHT = [Math.cos(roll), DOWN0[1] * Math.sin(roll), DOWN0[2] * Math.sin(roll)] as const;
const DOWN = [-Math.sin(roll), DOWN0[1] * Math.cos(roll), DOWN0[2] * Math.cos(roll)] as const;
const EYE = [CAMERA.look[0], CAMERA.look[1] - CAMERA.heightMm * Math.tan(tilt), CAMERA.heightMm] as const;

function project([x, y]: Place): Pixel {
  const from = [x - EYE[0], y - EYE[1], -EYE[2]] as const;
  const along = (axis: readonly [number, number, number]) => from[0] * axis[0] + from[1] * axis[1] + from[2] * axis[2];
  return { xPx: PICTURE.widthPx / 2 + (CAMERA.focalPx * along(RIGHT)) / along(AHEAD), yPx: PICTURE.heightPx / 2 + (CAMERA.focalPx * along(DOWN)) / along(AHEAD) };
}

function seeThrough(xPx: number, yPx: number): Place {
  const [u, v] = [(xPx - PICTURE.widthPx / 2) / CAMERA.focalPx, (yPx - PICTURE.heightPx / 2) / CAMERA.focalPx];
  const ray = [0, 1, 2].map((k) => u * RIGHT[k]! + v * DOWN[k]! + AHEAD[k]!) as [number, number, number];
  const reach = -EYE[2] / ray[2];
  return [EYE[0] + reach * ray[0], EYE[1] + reach * ray[1]];
}

/** Source: ISO/IEC 15948, PNG: 8 bits each of red, green and blue, every row unfiltered. */
function writePng(rows: Buffer, widthPx: number, heightPx: number): Buffer {
  const chunk = (name: string, data: Buffer): Buffer => {
    const named = Buffer.concat([Buffer.from(name, 'latin1'), data]);
    const out = Buffer.alloc(named.length + 8);
    out.writeUInt32BE(data.length);
    named.copy(out, 4);
    out.writeUInt32BE(crc32(named), named.length + 4);
    return out;
  };
  const header = Buffer.alloc(13);
  header.writeUInt32BE(widthPx);
  header.writeUInt32BE(heightPx, 4);
  header.set([8, 2, 0, 0, 0], 8);
  return Buffer.concat([Buffer.from('\x89PNG\r\n\x1a\n', 'latin1'), chunk('IHDR', header), chunk('IDAT', deflateSync(rows, { level: 4 })), chunk('IEND', Buffer.alloc(0))]);
}
