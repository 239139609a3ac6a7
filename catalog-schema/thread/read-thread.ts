import { THREADS, unifiedMajorMm, type ThreadSeries } from '../reference/index.ts';

/** A thread that was read from what somebody wrote. */
export interface Thread {
  /** canonical: 'M8x1.25', '1/4-20', '#10-32' */
  readonly name: string;
  /** 'ISO metric' and 'UN' are sizes written in full that the table does not hold */
  readonly series: ThreadSeries | 'ISO metric' | 'UN';
  /** nominal major diameter, mm */
  readonly majorMm: number;
  readonly pitchMm: number;
  /** an inch size was written without threads per inch and the coarse series was taken: an answer that leans on the pitch says so */
  readonly pitchAssumed?: true;
}

/** The longest text worth looking at: nothing that names one thread is longer. */
const MOST_CHARACTERS = 40;

/**
 * Reads a thread as a person writes it: 'M8x1.25', 'm8 x 1,25', 'M8', '1/4-20', '1/4"-20 UNC', '#10-32', '10-32', '5/16-24UNF', '5/16'.
 * A metric size without its pitch is the coarse one (ISO 965-1 leaves the pitch of the coarse series out); an inch size without its
 * threads per inch is read as UNC with `pitchAssumed`, since UNF is written the same way.
 * Sizes outside the table are read where written in full ('M9x1', '9/16-18').
 * @returns undefined for what names no thread, or contradicts itself ('1/4-20 UNF').
 */
export function readThread(text: string): Thread | undefined {
  return CANONICAL.get(text) ?? readWritten(text);
}

function readWritten(text: string): Thread | undefined {
  if (text.length > MOST_CHARACTERS) return undefined;
  const written = text.normalize('NFKC').trim().toUpperCase().replace(/[×*]/g, 'X').replace(/[‐‑‒–—−]/g, '-').replace(/[″“”]|''/g, '"');
  return readMetric(written) ?? readUnified(written);
}

/** The thread's canonical name; undefined where `readThread` reads none. */
export function canonicalThreadName(text: string): string | undefined {
  return readThread(text)?.name;
}

function readMetric(written: string): Thread | undefined {
  const match = /^M ?(\d{1,2}(?:[.,]\d{1,2})?)(?: ?MM)?(?:(?: ?[X-] ?| )(\d?(?:[.,]\d{1,3})?)(?: ?MM)?)?(?: ?- ?[4-9][A-Z](?:[4-9][A-Z])?)?$/.exec(written);
  if (!match) return undefined;
  const majorMm = readDecimal(match[1] ?? '');
  const coarse = THREADS.find((row) => row.series === 'ISO metric coarse' && row.majorMm === majorMm);
  if (match[2] === undefined) return coarse && { name: coarse.name, series: coarse.series, majorMm, pitchMm: coarse.pitchMm };
  const pitchMm = readDecimal(match[2]);
  const known = THREADS.find((row) => row.name.startsWith('M') && row.majorMm === majorMm && row.pitchMm === pitchMm);
  if (known) return { name: known.name, series: known.series, majorMm, pitchMm };
  if (!isPlausible(majorMm, pitchMm)) return undefined;
  return { name: `M${majorMm}x${pitchMm}`, series: 'ISO metric', majorMm, pitchMm };
}

function readUnified(written: string): Thread | undefined {
  const match = /^(?:(#|NO\.? ?|NR\.? ?)? ?(\d{1,2})|(\d{1,2}\/\d{1,2})|(0?\.\d{3,4}))(?: ?(?:"|IN|INCH))?(?: ?[-X] ?(\d{1,2}))?(?:[ -]*(UNC|UNF|UNEF|UNS|UN|NC|NF))?(?:[ -]*[1-3][AB])?$/.exec(written);
  if (!match) return undefined;
  const [, mark, whole, fraction, decimal, threads, suffix] = match;
  const tpi = threads === undefined ? undefined : Number(threads);
  const size = whole !== undefined ? readNumberSize(whole, mark !== undefined, tpi)
    : fraction !== undefined ? readFraction(fraction) : readDecimalInch(decimal ?? '');
  if (size === undefined) return undefined;
  const series = suffix === 'NC' ? 'UNC' : suffix === 'NF' ? 'UNF' : suffix;
  const rows = THREADS.filter((row) => row.size === size);

  if (tpi === undefined) {
    // UNC or UNF settles the pitch; without either the coarse one is an assumption.
    const row = rows.find((each) => each.series === (series ?? 'UNC'));
    if (!row) return undefined;
    const thread = { name: row.name, series: row.series, majorMm: row.majorMm, pitchMm: row.pitchMm };
    return series === undefined ? { ...thread, pitchAssumed: true } : thread;
  }
  const row = rows.find((each) => each.name === `${size}-${tpi}`);
  if (row) {
    const agrees = series === undefined || series === 'UN' || series === row.series;
    return agrees ? { name: row.name, series: row.series, majorMm: row.majorMm, pitchMm: row.pitchMm } : undefined;
  }
  // Where the table holds the size, it holds its coarse and fine thread: the name contradicts the number.
  if (rows.length > 0 && (series === 'UNC' || series === 'UNF')) return undefined;
  const majorMm = unifiedMajorMm(size);
  const pitchMm = 25.4 / tpi;
  return isPlausible(majorMm, pitchMm) ? { name: `${size}-${tpi}`, series: 'UN', majorMm, pitchMm } : undefined;
}

/** '10' of '#10-32' or '10-32'. Without the mark only a fine enough thread tells a number size from inches: '1-8' is one inch. */
function readNumberSize(whole: string, marked: boolean, tpi: number | undefined): string | undefined {
  const size = Number(whole);
  if (size > 12 || (size === 0 && tpi !== 80)) return undefined;
  return marked || (tpi !== undefined && tpi >= 24) ? `#${size}` : undefined;
}

/** '1/4' in lowest terms; sixty-fourths at most, below or at one inch. */
function readFraction(fraction: string): string | undefined {
  let [over = 0, under = 0] = fraction.split('/').map(Number);
  if (![2, 4, 8, 16, 32, 64].includes(under) || over < 1 || over >= under) return undefined;
  while (over % 2 === 0) [over, under] = [over / 2, under / 2];
  return `${over}/${under}`;
}

/** '.250' or '0.3125' as the size of the table within half a thousandth of an inch. */
function readDecimalInch(decimal: string): string | undefined {
  const mm = Number(decimal) * 25.4;
  return THREADS.find((row) => !row.name.startsWith('M') && Math.abs(row.majorMm - mm) <= 0.0005 * 25.4 + 1e-9)?.size;
}

/** A thread's pitch lies between a twenty-fourth and three tenths of its diameter in every standard series; beyond, it is a slip of the pen. */
function isPlausible(majorMm: number, pitchMm: number): boolean {
  return majorMm >= 1 && majorMm <= 64 && pitchMm >= majorMm / 24 && pitchMm >= 0.2 && pitchMm <= majorMm * 0.3;
}

function readDecimal(digits: string): number {
  return digits === '' ? Number.NaN : Number(digits.replace(',', '.'));
}

/** The sizes of the table by their own names, which catalogues write: each read as any other text, once. */
const CANONICAL: ReadonlyMap<string, Thread> = new Map(THREADS.flatMap(({ name }) => {
  const thread = readWritten(name);
  return thread ? [[name, thread] as const] : [];
}));
