import { CLEARANCE_HOLES, TABS, THREADS, type ThreadRow } from '../reference/index.ts';
import { GAUGE_WORDS } from './gauge-words.ts';
import { widthOfWords, type Mark } from './mark.ts';

/** One gauge with its words, drawn from the upper left corner (0, 0) of the room it needs. */
export interface Gauge { readonly widthMm: number; readonly heightMm: number; readonly marks: readonly Mark[] }

const LABEL_MM = 2.6;
const LABEL_STEP_MM = 3.9;
const COMB_LENGTH_MM = 32;
const COMB_BACK_MM = 2.4;
const COMB_GAUGE_WIDTH_MM = 82;

type System = 'metric' | 'inch';

const isOf = (name: string, system: System): boolean => name.startsWith('M') === (system === 'metric');

/** Medium (ISO 273) or normal (ASME B18.2.8) clearance holes. */
export function drawHoles(system: System): Gauge[] {
  return CLEARANCE_HOLES.filter((row) => isOf(row.bolt, system))
    .map((row) => drawCircle(`hole ${row.bolt}`, row.holeMm.normal, row.bolt));
}

/** Nominal major diameters, each size once. */
export function drawStuds(system: System): Gauge[] {
  const sizes = new Map(THREADS.filter((row) => isOf(row.name, system)).map((row) => [row.size, row.majorMm]));
  return [...sizes].toSorted((a, b) => a[1] - b[1]).map(([size, majorMm]) => drawCircle(`stud ${size}`, majorMm, size));
}

function drawCircle(shows: string, diameterMm: number, name: string): Gauge {
  const size = `${printMm(diameterMm)} mm`;
  const widthMm = Math.max(diameterMm, widthOfLabels([name, size]));
  return {
    widthMm, heightMm: diameterMm + 2 + 2 * LABEL_STEP_MM,
    marks: [
      { kind: 'circle', x: widthMm / 2, y: diameterMm / 2, diameterMm, weight: 'gauge', shows },
      ...drawLabels(widthMm / 2, diameterMm + 1.2, [name, size]),
    ],
  };
}

/** Face and end of each standard tab. */
export function drawTabs(): Gauge[] {
  const faceMm = 8;
  return TABS.map((row) => {
    const labels = [row.name.replace('x', ' x '), 'mm'];
    const widthMm = Math.max(row.widthMm, widthOfLabels(labels));
    const left = (widthMm - row.widthMm) / 2;
    return {
      widthMm, heightMm: faceMm + 2.5 + row.thicknessMm + 2 + 2 * LABEL_STEP_MM,
      marks: [
        drawRectangle(`tab face ${row.name}`, left, 0, row.widthMm, faceMm),
        drawRectangle(`tab end ${row.name}`, left, faceMm + 2.5, row.widthMm, row.thicknessMm),
        ...drawLabels(widthMm / 2, faceMm + 2.5 + row.thicknessMm + 1.2, labels),
      ],
    };
  });
}

function drawRectangle(shows: string, x: number, y: number, width: number, height: number): Mark {
  return { kind: 'polygon', points: [[x, y], [x + width, y], [x + width, y + height], [x, y + height]], weight: 'gauge', shows };
}

/**
 * Widths across flats of the nuts and heads that go with the threads of one system, each width once. Inch widths are drawn as the exact
 * fraction: the tables round them to a thousandth of an inch, some up and some down.
 */
export function drawHexagons(system: System): Gauge[] {
  const byName = new Map<string, { mm: number; sizes: Set<string> }>();
  for (const row of THREADS.filter((thread) => isOf(thread.name, system))) {
    for (const { mm } of row.acrossFlatsMm) {
      const name = system === 'metric' ? `${printMm(mm)} mm` : printInch(mm);
      const found = byName.get(name) ?? { mm: system === 'metric' ? mm : (Math.round((mm / 25.4) * 64) / 64) * 25.4, sizes: new Set() };
      found.sizes.add(row.size);
      byName.set(name, found);
    }
  }
  return [...byName].toSorted((a, b) => a[1].mm - b[1].mm).map(([name, { mm, sizes }]) => drawHexagon(mm, name, [...sizes].join(', ')));
}

function drawHexagon(acrossMm: number, name: string, goesWith: string): Gauge {
  const corner = acrossMm / Math.sqrt(3);
  const widthMm = Math.max(2 * corner, widthOfLabels([name, goesWith]));
  const points = [0, 1, 2, 3, 4, 5].map((turn): [number, number] => {
    const angle = (turn * Math.PI) / 3;
    return [widthMm / 2 + corner * Math.cos(angle), acrossMm / 2 + corner * Math.sin(angle)];
  });
  return {
    widthMm, heightMm: acrossMm + 2 + 2 * LABEL_STEP_MM,
    marks: [{ kind: 'polygon', points, weight: 'gauge', shows: `hexagon ${name}` }, ...drawLabels(widthMm / 2, acrossMm + 1.2, [name, goesWith])],
  };
}

/** One comb a pitch, finest first: sharp 60 degree teeth (the basic triangle of ISO 68-1 and ASME B1.1) on a straight back. */
export function drawCombs(system: System): Gauge[] {
  const byPitch = new Map<number, ThreadRow[]>();
  for (const row of THREADS.filter((thread) => isOf(thread.name, system))) byPitch.set(row.pitchMm, [...(byPitch.get(row.pitchMm) ?? []), row]);
  return [...byPitch].toSorted((a, b) => a[0] - b[0]).map(([pitchMm, rows]) =>
    drawComb(pitchMm, system === 'metric' ? `${printMm(pitchMm)} mm` : `${Math.round(25.4 / pitchMm)} to the inch`, rows.map((row) => row.size)));
}

function drawComb(pitchMm: number, name: string, sizes: readonly string[]): Gauge {
  const count = Math.floor(COMB_LENGTH_MM / pitchMm);
  const tooth = (pitchMm * Math.sqrt(3)) / 2;
  const points: [number, number][] = [[0, tooth]];
  for (let index = 0; index < count; index += 1) points.push([(index + 0.5) * pitchMm, 0], [(index + 1) * pitchMm, tooth]);
  points.push([count * pitchMm, tooth + COMB_BACK_MM], [0, tooth + COMB_BACK_MM]);
  const left = COMB_LENGTH_MM + 3;
  return {
    widthMm: COMB_GAUGE_WIDTH_MM, heightMm: 11.5,
    marks: [
      { kind: 'polygon', points, weight: 'thin', shows: `comb ${name}` },
      { kind: 'text', x: left, y: 2.4, sizeMm: LABEL_MM, strong: true, anchor: 'start', words: name },
      { kind: 'text', x: left, y: 2.4 + LABEL_STEP_MM, sizeMm: LABEL_MM, strong: false, anchor: 'start', words: sizes.join(', ') },
      { kind: 'text', x: left, y: 2.4 + 2 * LABEL_STEP_MM, sizeMm: LABEL_MM, strong: false, anchor: 'start', words: GAUGE_WORDS.pitches(count, printMm(count * pitchMm)) },
    ],
  };
}

function drawLabels(x: number, top: number, labels: readonly string[]): Mark[] {
  return labels.map((words, index) => ({
    kind: 'text', x, y: top + (index + 1) * LABEL_STEP_MM - 0.8, sizeMm: LABEL_MM, strong: index === 0, anchor: 'middle', words,
  }));
}

function widthOfLabels(labels: readonly string[]): number {
  return Math.max(...labels.map((words) => widthOfWords(words, LABEL_MM)));
}

const printMm = (mm: number): string => String(Math.round(mm * 100) / 100);

/** Inches as the nearest 64th in its lowest terms: '7/16 in'. */
function printInch(mm: number): string {
  let over = Math.round((mm / 25.4) * 64);
  let under = 64;
  while (over % 2 === 0 && under > 1) { over /= 2; under /= 2; }
  return under === 1 ? `${over} in` : over > under ? `${Math.floor(over / under)}-${over % under}/${under} in` : `${over}/${under} in`;
}
