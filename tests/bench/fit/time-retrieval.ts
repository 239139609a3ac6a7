import { createMachine } from '../../../api/engine/fit/machine.ts';
import { gatesOf } from '../../../api/engine/fit/gates-of.ts';
import { retrieve, type Gates, type ScoreWeights } from '../../../api/engine/retrieve/index.ts';
import type { BenchRecord } from '../../../catalog-schema/index.ts';
import { askQuestion, weighQuestion } from './ask-question.ts';
import { openDuckdb } from './duckdb-side.ts';
import { summarise, type Times } from './figures.ts';
import { generateQuery } from './generate-query.ts';
import type { OurSide } from './our-side.ts';
import { scanRows, writeStatement, type Question } from './score-question.ts';
import { openSqlite, type DatabaseSide } from './sqlite-side.ts';

const MOST = 20;

/** One record, made ready for everybody outside what is timed. */
interface Asked { readonly seed: number; readonly record: BenchRecord; readonly gates: Gates; readonly weights: ScoreWeights; readonly question: Question }

export interface RetrievalTimes {
  readonly databases: readonly { readonly name: string; readonly loadMs: number; readonly roundTripMs: number; readonly times: Times }[];
  readonly retrieval: Times;
  /** the record turned into gates and weights as well */
  readonly withGates: Times;
  readonly scan: Times;
  /** seeds whose answers differ, with who differs */
  readonly mismatches: readonly string[];
  readonly found: number;
  /** of a question on average: limits on columns and sealing, and profiles that may do */
  readonly limits: number;
  readonly profiles: number;
}

/**
 * Gates and score by SQLite, DuckDB, a plain scan of typed arrays and the retrieval, in one run. First every answer is compared; then rounds, in
 * each of which every query goes to every side, the first side another each time. A query's time is the median of its rounds, for all sides alike:
 * else one round that the machine's other work interrupted would stand for a side's slowest.
 * Timed of a database: parameters bound, statement run, 20 numbers read; it was prepared and its text written before. Of the retrieval: from
 * gates to the 20 parts' places in order of id, the same 20 numbers.
 */
export async function timeRetrieval(our: OurSide, { queries, querySeed, rounds }: { queries: number; querySeed: number; rounds: number }): Promise<RetrievalTimes> {
  const asked = Array.from({ length: queries }, (_, at) => askOne(our, querySeed + at));
  const loads: number[] = [];
  const timeLoad = async <Side>(open: () => Promise<Side>): Promise<Side> => {
    const start = performance.now();
    const side = await open();
    loads.push(performance.now() - start);
    return side;
  };
  const lite = await timeLoad(() => openSqlite(our.rows));
  const duck = await timeLoad(() => openDuckdb(our.rows));
  const sides: readonly (DatabaseSide & { readonly loadMs: number })[] = [{ ...lite.scan, loadMs: loads[0]! }, { ...lite.clustered, loadMs: loads[0]! }, { ...duck, loadMs: loads[1]! }];
  const roundTrips = [await lite.roundTripMs(), await lite.roundTripMs(), await duck.roundTripMs()];
  try {
    const { mismatches, found, prepared } = await compareAnswers(our, sides, asked);
    const samples = await timeRounds(our, asked, prepared, rounds);
    return {
      mismatches, found, limits: average(asked, ({ question: { limits, sealing } }) => limits.length + (sealing.out.length + sealing.open.length > 0 ? 1 : 0)),
      profiles: average(asked, ({ question: { groups } }) => groups.reduce((sum, { codes }) => sum + codes.length, 0)),
      databases: sides.map(({ name, loadMs }, at) => ({ name, loadMs, roundTripMs: roundTrips[at]!, times: summariseQueries(samples.databases[at]!) })),
      retrieval: summariseQueries(samples.retrieval), withGates: summariseQueries(samples.withGates), scan: summariseQueries(samples.scan),
    };
  } finally {
    await duck.close();
    await lite.scan.close();
  }
}

function average(asked: readonly Asked[], of: (each: Asked) => number): number {
  return asked.reduce((sum, each) => sum + of(each), 0) / asked.length;
}

function askOne(our: OurSide, seed: number): Asked {
  const record = generateQuery(seed, our.facts);
  const gates = gatesOf(createMachine(record, our.indexed.sample, {}), our.indexed.snapshot);
  const weights = weighQuestion(record);
  return { seed, record, gates, weights, question: askQuestion(record, gates, our.indexed.snapshot, our.rows) };
}

function retrieveRanks({ indexed: { index, snapshot } }: OurSide, gates: Gates, weights: ScoreWeights): number[] {
  return retrieve(index, gates, weights, MOST).map(({ row }) => snapshot.ranks[row]!);
}

async function compareAnswers(our: OurSide, sides: readonly DatabaseSide[], asked: readonly Asked[]): Promise<{
  mismatches: string[]; found: number; prepared: (readonly (() => Promise<number[]>)[])[];
}> {
  const mismatches: string[] = [];
  const prepared: (() => Promise<number[]>)[][] = [];
  let found = 0;
  for (const { seed, gates, weights, question } of asked) {
    const plain = scanRows(our.rows, question, MOST);
    found += plain.length;
    const same = (name: string, ranks: readonly number[]): void => {
      if (ranks.length !== plain.length || ranks.some((rank, at) => rank !== plain[at])) mismatches.push(`query ${seed}: ${name} has ${ranks.join(' ')}, the plain scan ${plain.join(' ')}; ${writeStatement('parts', question, MOST).sql}`);
    };
    same('retrieval', retrieveRanks(our, gates, weights));
    // No profile that may do: there is no statement to write, and nothing to find.
    const ready = question.groups.length === 0 ? [] : await Promise.all(sides.map((side) => side.prepare(question, MOST)));
    for (const [at, side] of sides.entries()) if (ready[at]) same(side.name, await ready[at]());
    prepared.push(ready);
  }
  return { mismatches, found, prepared };
}

/** Times by query, of one side. */
type Samples = Map<number, number[]>;

async function timeRounds(our: OurSide, asked: readonly Asked[], prepared: readonly (readonly (() => Promise<number[]>)[])[], rounds: number): Promise<{
  databases: readonly Samples[]; retrieval: Samples; withGates: Samples; scan: Samples;
}> {
  const samples = { databases: [new Map(), new Map(), new Map()] as readonly Samples[], retrieval: new Map() as Samples, withGates: new Map() as Samples, scan: new Map() as Samples };
  let consumed = 0;
  const time = async (times: Samples, at: number, ask: () => readonly number[] | Promise<readonly number[]>): Promise<void> => {
    const start = performance.now();
    const asking = ask();
    // What answers at once is not sent round the event loop.
    const answer = asking instanceof Promise ? await asking : asking;
    const took = performance.now() - start;
    consumed += answer.length;
    const known = times.get(at);
    if (known) known.push(took);
    else times.set(at, [took]);
  };
  const turns: ((at: number) => void | Promise<void>)[] = [
    ...samples.databases.map((times, side) => (at: number) => {
      const ask = prepared[at]![side];
      return ask && time(times, at, ask);
    }),
    (at) => time(samples.retrieval, at, () => retrieveRanks(our, asked[at]!.gates, asked[at]!.weights)),
    (at) => {
      const { record } = asked[at]!;
      return time(samples.withGates, at, () => retrieveRanks(our, gatesOf(createMachine(record, our.indexed.sample, {}), our.indexed.snapshot), weighQuestion(record)));
    },
    (at) => time(samples.scan, at, () => scanRows(our.rows, asked[at]!.question, MOST)),
  ];
  for (let round = 0; round < rounds; round++) {
    for (let at = 0; at < asked.length; at++) {
      // No profile may do: nobody is asked.
      if (asked[at]!.question.groups.length === 0) continue;
      // What came last leaves the processor's caches to itself: so everybody comes first in turn.
      for (let turn = 0; turn < turns.length; turn++) await turns[(turn + at + round) % turns.length]!(at);
    }
  }
  if (consumed === 0) throw new Error('nothing was found by anybody: the figures would mean nothing');
  return samples;
}

function summariseQueries(samples: Samples): Times {
  return summarise([...samples.values()].map((rounds) => summarise(rounds).p50));
}
