import { parseArgs } from 'node:util';
import Fuse from 'fuse.js';
import type { Part } from '../../../catalog-schema/index.ts';
import { Finder, openSnapshot, writeSnapshot } from '../../../api/engine/index.ts';
import { Bounds, printTimes, summarise } from '../fit/figures.ts';
import { Exhaustive, type Ranked } from './exhaustive.ts';
import { inventNumbers, misread } from './invent-numbers.ts';
import { Random } from './random.ts';

// Look-ups by misread numbers among a million: what the index finds in its first ten beside weighted edit distance to every number, how long it takes, what it weighs,
// and Fuse.js alone in the same run. The seed is one that nothing was tuned on (that was 1).

const { values } = parseArgs({
  options: {
    numbers: { type: 'string', default: '1000000' }, seed: { type: 'string', default: '20261125' }, queries: { type: 'string', default: '300' }, timed: { type: 'string', default: '2000' },
    fuse: { type: 'string', default: '10' }, snapshot: { type: 'string', default: '50000' },
  },
});
const [count, seed, queries, timed] = [values.numbers, values.seed, values.queries, values.timed].map(Number) as [number, number, number, number];
const FIRST = 10;
/** Two misread characters: what is asked for, and as far as the yardstick looks. */
const LIMIT = 2;
const ROUNDS = 5;
const TITLES = ['Start relay, isolated coil, 12 V', 'Contactor, continuous duty, 24 V', 'Shift solenoid 12 V', 'Starter motor 1.4 kW, clockwise', 'Plug-in relay 12 V, changeover', 'Start relay, coil to case, 6 V'];

const say = (words: string): void => { process.stdout.write(words); };
const megabytes = (bytes: number): string => `${(bytes / 1e6).toFixed(1)} MB`;
const random = new Random(seed);
const bounds = new Bounds();
const large = count >= 1_000_000;

const numbers = inventNumbers(count, random);
const parts: Part[] = numbers.map((number, at) => ({
  id: `p${String(at).padStart(7, '0')}`, partClass: 'start-relay', title: TITLES[at % TITLES.length]!, numbers: [{ issuer: 'Works', number }], terminals: [], circuit: [],
}));
say(`Node ${process.version}, ${count} numbers of 5 to 10 characters, seed ${seed}: ${numbers.slice(0, 6).join(' ')} ...\n`);

let begun = performance.now();
const finder = new Finder(parts);
// The first words asked for make the index of words: it counts too.
finder.find('start relay');
const builtS = (performance.now() - begun) / 1000;
say(`  index built in ${builtS.toFixed(1)} s, ${megabytes(finder.indexBytes)}\n`);
bounds.judge(`built in under 10 s: ${builtS.toFixed(1)} s`, builtS < 10, !large);
bounds.judge(`at most 150 MB: ${megabytes(finder.indexBytes)}`, finder.indexBytes <= 150e6, !large);
buildFromSnapshot(Number(values.snapshot));

const asked = Array.from({ length: Math.max(queries, timed) }, (_, at) => {
  const truth = random.whole(0, count - 1);
  return { truth, text: misread(numbers[truth]!, 1 + (at % 2), random) };
});
compareWithExhaustive();
timeLookUps();
await timeFuse(Number(values.fuse));
say(`\n${bounds.print()}bench:find seed ${seed}: ${bounds.count - bounds.broken} of ${bounds.count} bounds held\n`);
process.exitCode = bounds.broken > 0 ? 1 : 0;

function firstTen(text: string): number[] {
  return finder.find(text).hits.slice(0, FIRST).map(({ partId }) => Number(partId.slice(1)));
}

/** Half of the queries have one mistake, half two. */
function compareWithExhaustive(): void {
  const yardstick = new Exhaustive(numbers);
  const sums = { wanted: 0, got: 0, theirs: 0, ours: 0, full: 0, seconds: 0 };
  for (const { truth, text } of asked.slice(0, queries)) {
    begun = performance.now();
    const ranked = yardstick.rank(text, LIMIT);
    sums.seconds += (performance.now() - begun) / 1000;
    const hits = firstTen(text);
    const wanted = Math.min(FIRST, ranked.length);
    // Whoever lies no further than the last of the ten could stand in its place: ties are nobody's fault.
    const furthest = ranked[wanted - 1]?.distance ?? -1;
    const near = new Map(ranked.map(({ at, distance }) => [at, distance]));
    const got = Math.min(wanted, hits.filter((at) => (near.get(at) ?? Number.POSITIVE_INFINITY) <= furthest).length);
    sums.wanted += wanted;
    sums.got += got;
    if (got === wanted) sums.full++;
    sums.theirs += chanceOf(truth, ranked);
    if (hits.includes(truth)) sums.ours++;
  }
  const recall = sums.got / sums.wanted;
  const share = sums.ours / sums.theirs;
  say(`  of the ten nearest by weighted edit distance to every number (ties counted for either side): ${(100 * recall).toFixed(2)} % (${sums.got} of ${sums.wanted}; all of them in ${sums.full} of ${queries} look-ups)\n`);
  say(`  the number that was meant is among the first ten: ${(100 * sums.ours / queries).toFixed(2)} %; by exhaustive distance ${(100 * sums.theirs / queries).toFixed(2)} % (${(sums.seconds / queries).toFixed(2)} s a look-up)\n`);
  bounds.judge(`recall of the nearest ten at least 0.99: ${recall.toFixed(4)}`, recall >= 0.99);
  bounds.judge(`the number meant found at least 0.99 as often as by exhaustive distance: ${share.toFixed(4)}`, share >= 0.99);
}

/** That a list by distance has the number among its first ten; of tied ones any may stand first. */
function chanceOf(truth: number, ranked: readonly Ranked[]): number {
  const own = ranked.find(({ at }) => at === truth);
  if (!own) return 0;
  const nearer = ranked.filter(({ distance }) => distance < own.distance).length;
  const tied = ranked.filter(({ distance }) => distance === own.distance).length;
  return Math.max(0, Math.min(1, (FIRST - nearer) / tied));
}

function timeLookUps(): void {
  const rounds = Array.from({ length: ROUNDS }, () => asked.slice(0, timed).map(({ text }) => {
    begun = performance.now();
    finder.find(text);
    return performance.now() - begun;
  }));
  const medians = rounds[0]!.map((_, at) => rounds.map((round) => round[at]!).toSorted((a, b) => a - b)[Math.floor(ROUNDS / 2)]!);
  const times = summarise(medians);
  say(`${' '.repeat(53)}p50       p99\n${printTimes(`look-up, median of ${ROUNDS} rounds`, times)}`);
  bounds.judge(`p99 under 5 ms: ${times.p99.toFixed(2)} ms`, times.p99 < 5, !large);
}

/** On the same numbers, for a few look-ups: it takes seconds for each. */
async function timeFuse(lookUps: number): Promise<void> {
  const fuse = new Fuse(numbers, { includeScore: true, threshold: 0.4 });
  let found = 0;
  const times = asked.slice(0, lookUps).map(({ truth, text }) => {
    begun = performance.now();
    if (fuse.search(text, { limit: FIRST }).some(({ refIndex }) => refIndex === truth)) found++;
    return performance.now() - begun;
  });
  if (lookUps > 0) say(`${printTimes('Fuse.js alone', summarise(times))}  Fuse.js has the number that was meant among its first ten in ${found} of ${lookUps}\n`);
}

/** As the browser builds it: from the catalogue's file. */
function buildFromSnapshot(some: number): void {
  const opened = openSnapshot(writeSnapshot(parts.slice(0, some)));
  if (!opened.ok) throw new Error('the snapshot does not open');
  begun = performance.now();
  const bytes = new Finder(opened.value).indexBytes;
  say(`  from the snapshot of ${Math.min(some, count)} parts: ${(performance.now() - begun).toFixed(0)} ms, ${megabytes(bytes)} without words\n`);
}
