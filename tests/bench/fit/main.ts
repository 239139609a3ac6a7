import { cpus } from 'node:os';
import { parseArgs } from 'node:util';
import { Bounds, printTimes, summarise, type Times } from './figures.ts';
import { buildOurSide, type OurSide } from './our-side.ts';
import { timeFits } from './time-fits.ts';
import { timeRetrieval } from './time-retrieval.ts';

// How fast the matcher is on large catalogues, beside two databases that are asked the same gates and score in the same run; one thread each.
// `npm run bench:fit` takes some 4 minutes (10k and 100k parts); `npm run bench:fit -- --parts 100000,1000000` gives the full figures.

const { values } = parseArgs({
  options: {
    parts: { type: 'string', default: '10000,100000' }, seed: { type: 'string', default: '101' }, queries: { type: 'string', default: '100' },
    'query-seed': { type: 'string', default: '100001' }, rounds: { type: 'string', default: '3' }, fits: { type: 'string', default: '60' },
    'fit-seed': { type: 'string', default: '200001' }, only: { type: 'string', default: 'both' },
  },
});
const sizes = values.parts.split(',').map(Number).toSorted((a, b) => a - b);
const seed = Number(values.seed);
const settings = { queries: Number(values.queries), querySeed: Number(values['query-seed']), rounds: Number(values.rounds) };
const fits = { count: Number(values.fits), seed: Number(values['fit-seed']) };
const LARGE = 1_000_000;
const BYTES_A_PART = 80;

const say = (words: string): void => { process.stdout.write(words); };
const megabytes = (bytes: number): string => `${(bytes / 1e6).toFixed(0)} MB`;
const bounds = new Bounds();
const medians = new Map<string, number>();
let mismatches = 0;

say(`Node ${process.version}, ${cpus()[0]?.model.trim() ?? 'processor not known'}, catalogue seed ${seed}, ${settings.queries} queries from seed ${settings.querySeed} (full, half, few readings in turn), each the median of ${settings.rounds} rounds\n`);
for (const unfriendly of [false, true].filter((each) => values.only === 'both' || (values.only === 'unfriendly') === each)) {
  for (const count of sizes) await measure(count, unfriendly);
}
judgeGrowth();
say(`\n${bounds.print()}bench:fit seed ${seed}, sizes ${sizes.join(' ')}: ${bounds.count - bounds.broken} of ${bounds.count} bounds held, ${mismatches} answers differ\n`);
process.exitCode = bounds.broken > 0 || mismatches > 0 ? 1 : 0;

async function measure(count: number, unfriendly: boolean): Promise<void> {
  const name = `${count.toLocaleString('en')} parts${unfriendly ? ', unfriendly' : ''}`;
  const our = buildOurSide({ count, seed, unfriendly });
  const indexBytes = our.indexed.snapshot.indexBytes / count;
  say(`\n${name}\n  snapshot: ${megabytes(our.indexed.snapshot.bytes)}, index columns ${indexBytes.toFixed(1)} bytes a part, price index ${sizeOfIndex(our)}; built in ${(our.buildMs / 1000).toFixed(1)} s, `
    + `loaded in ${our.loadMs.toFixed(0)} ms, price list compiled in ${our.compileMs.toFixed(0)} ms\n`);
  bounds.judge(`${name}: at most ${BYTES_A_PART} bytes a part of index columns: ${indexBytes.toFixed(1)}`, indexBytes <= BYTES_A_PART);
  if (count >= LARGE) bounds.judge(`${name}: loaded in under 1.5 s: ${(our.loadMs / 1000).toFixed(2)} s`, our.loadMs < 1500);
  await compareWithDatabases(our, name);
  fitInFull(our, name);
  const { rss, heapUsed, arrayBuffers } = process.memoryUsage();
  say(`  memory of the whole process, price list of ${our.offers} offers and both databases' leavings included: ${megabytes(rss)} resident, ${megabytes(heapUsed)} heap, ${megabytes(arrayBuffers)} in array buffers\n`);
}

async function compareWithDatabases(our: OurSide, name: string): Promise<void> {
  const { databases, retrieval, withGates, scan, mismatches: differing, found, limits, profiles } = await timeRetrieval(our, settings);
  mismatches += differing.length;
  for (const line of differing.slice(0, 5)) say(`  ANSWERS DIFFER ${line}\n`);
  if (differing.length > 0) return;
  say(`  ordered best 20 by gates and score: equal for all sides in ${settings.queries} queries, ${found} parts found; ${limits.toFixed(1)} limits and ${profiles.toFixed(1)} of ${our.indexed.snapshot.profiles.length} profiles a query\n${' '.repeat(53)}p50       p99\n`);
  for (const { name: side, times, loadMs, roundTripMs } of databases) say(printTimes(side, times, `  loaded in ${(loadMs / 1000).toFixed(1)} s; an empty statement takes ${roundTripMs.toFixed(3)} ms of it`));
  say(printTimes('plain scan of typed arrays', scan));
  say(printTimes('retrieval, record turned into gates as well', withGates));
  say(printTimes('retrieval', retrieval));
  const fastest = (of: keyof Times): number => Math.min(...databases.map(({ times }) => times[of]));
  const [median, slowest] = [fastest('p50') / retrieval.p50, fastest('p99') / retrieval.p99];
  say(`  the faster database at the median takes ${describeRatio(median)} times as long, at p99 ${describeRatio(slowest)} times (with the gates ${describeRatio(fastest('p50') / withGates.p50)} and ${describeRatio(fastest('p99') / withGates.p99)} times)\n`);
  medians.set(`${our.facts.unfriendly === true} ${our.facts.count}`, retrieval.p50);
  if (our.facts.count < LARGE) return;
  bounds.judge(`${name}: median at least 60 times faster than the faster database: ${median.toFixed(0)} times`, median >= 60);
  bounds.judge(`${name}: p99 at least 20 times faster: ${slowest.toFixed(0)} times`, slowest >= 20);
  bounds.judge(`${name}: median 150 times faster`, median >= 150, true);
  bounds.judge(`${name}: p99 60 times faster`, slowest >= 60, true);
  bounds.judge(`${name}: p99 below 5 ms: ${retrieval.p99.toFixed(1)} ms`, retrieval.p99 < 5, true);
}

function describeRatio(ratio: number): string {
  return ratio.toFixed(ratio < 10 ? 1 : 0);
}

function fitInFull(our: OurSide, name: string): void {
  const { times, computed, listed, perReadings } = timeFits(our, fits);
  const whole = summarise(times);
  say(printTimes('full fit: 20 listed with checks, plans and costs', whole, `  ${listed} fits listed, query seeds from ${fits.seed}`));
  say(printTimes('  time the processor worked on it', summarise(computed)));
  for (const [readings, sample] of perReadings) say(printTimes(`  of these with ${readings} readings`, summarise(sample)));
  if (our.facts.count < LARGE) return;
  bounds.judge(`${name}: full fit at most 10 ms at the median: ${whole.p50.toFixed(1)} ms`, whole.p50 <= 10);
  bounds.judge(`${name}: full fit at most 50 ms at p99: ${whole.p99.toFixed(1)} ms`, whole.p99 <= 50);
}

function sizeOfIndex({ indexed: { index } }: OurSide): string {
  return megabytes([index.rows, index.landed, index.masks, index.bits].reduce((sum, { byteLength }) => sum + byteLength, 0));
}

/** Ten times the parts: at most four times the time. */
function judgeGrowth(): void {
  for (const unfriendly of [false, true]) {
    for (const count of sizes) {
      const [less, more] = [medians.get(`${unfriendly} ${count}`), medians.get(`${unfriendly} ${10 * count}`)];
      if (less === undefined || more === undefined) continue;
      const words = `from ${count.toLocaleString('en')} to ${(10 * count).toLocaleString('en')} parts${unfriendly ? ', unfriendly' : ''}: retrieval at the median ${(more / less).toFixed(1)} times as long`;
      say(`  ${words}\n`);
      bounds.judge(`${words}, at most 4`, more / less <= 4);
    }
  }
}
